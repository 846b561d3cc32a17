"""One view per operation: call a service, make the document. Docstrings are what the docs page says.

A view gets the house and its arguments (path and request together) and raises catalog.errors only.
"""

from collections.abc import Iterable, Mapping
from typing import Any

from catalog.api.reply import FIXED, NEWEST, PRIVATE, Reply
from catalog.domain import cautions, codes
from catalog.domain.delta import RecordDelta
from catalog.domain.sources import KEY_PATTERN, Source
from catalog.errors import NotFound
from catalog.resolve.answering.asked import Answers
from catalog.services import editions, finding, outcomes, reading, records, resolving
from catalog.services import lookalikes as lookalike
from catalog.services import sayings as saying
from catalog.services import steps as stepping
from catalog.services.amending import amendments_of
from catalog.services.compiling import edition_view
from catalog.services.doubts import all_in
from catalog.services.house import House
from catalog.services.views import EditionView
from schemas import answers, cue_answers, fact_answers, history
from schemas.outcomes import OutcomeAnswer
from schemas.record import record_json_schema
from schemas.steps import StepsAnswer

Arguments = Mapping[str, Any]


def resolve(house: House, given: Arguments) -> Reply:
    """Likely vehicles for a description.

    Reads a partial, perhaps partly wrong description and answers with what was understood, the possible
    vehicles with honest probabilities, the share of all others, and the share of the vehicle not being in this
    catalogue; the three add up to 1. The text is neither stored nor logged. Show a probability by its `word` and
    `frequency`, and never as a certainty. An empty or meaningless text is answered with `message` and no
    candidates. With "facts" in `include` it says what holds whichever vehicle it is, what may differ and how to
    plan for it; with "groups" it puts together what cannot be told apart by its looks.

    What was understood can be sent back put right: `struck` names cues to leave out, `cues` holds cues said outright
    or, with `instead_of`, in the place of one that was read. A cue is named by its attribute, values, denied and
    vehicle, so a correction holds while the text goes on growing. `cues` need no text.

    With "questions" in `include` it says what to ask next: what is worth most to know, facts first and the vehicle
    second, of what this `caller` can answer from where they are. Put one question, send its answer in `answers`, and
    ask again. `excluded` names records of which somebody said: not this vehicle.
    """
    include = frozenset(given["include"])
    answered = Answers(given["answers"], tuple(given["excluded"]), given.get("caller"))
    description = resolving.Description(
        given["text"], given["limit"], given.get("driving_side"), include, amendments_of(given), answered
    )
    answer = resolving.resolve_description(house, description)
    _settle(house, given)
    codes = {candidate.code for candidate in answer.candidates}
    doubted = (doubt.words for doubt in all_in(house.shelf.current()) if doubt.code in codes)
    told = (*_cautions(house, answer.edition), cautions.LIKELY, *doubted)
    return Reply(answers.resolve_document(answer, told, include), answer.edition.number, PRIVATE)


def read(house: House, given: Arguments) -> Reply:
    """What is understood of a description.

    The first half of /resolve, for a page that shows it while somebody types: each cue with where it was said, in
    words, denied or not, how firmly, from which viewpoint and of which vehicle; the words that were not understood;
    the scene the text proposes. Telephone numbers, registration plates, e-mail, names and addresses are found by
    pattern, never used, and blanked in what is sent back. The text is neither stored nor logged. `cues` and `struck`
    work as with /resolve.
    """
    found = reading.read_description(house, given["text"], given.get("driving_side"), amendments_of(given))
    _settle(house, given)
    view = answers.with_cautions(cue_answers.ReadAnswer, found, _cautions(house, found.edition))
    return Reply(view, found.edition.number, PRIVATE)


def steps(house: House, given: Arguments) -> Reply:
    """What to do, in which order, in a scene.

    For one record, for the records it may be, for a description, or, with none of these, for any vehicle. Show every
    step in its order, with `only_if` and `holds` before it: they say what must be made sure of first. What is not
    said of the scene is unknown, and unknown takes no caution away. Of several possible vehicles what is the same
    stands once and what differs is named; where two remain, `branches` has the sight that decides. A step cites
    guides, published documents, or says that it is common practice. The text is neither stored nor logged.
    """
    carried = None if given.get("carried") is None else tuple(given["carried"])
    asked = stepping.StepsAsked(tuple(given["codes"]), given["text"], given["scene"], carried, given.get("caller"))
    found = stepping.steps_of(house, asked)
    more = (found.notice, cautions.LIKELY if found.vehicles else "", *(doubt.words for doubt in found.doubts))
    told = (*_cautions(house, found.edition), *filter(None, more))
    return Reply(answers.with_cautions(StepsAnswer, found, told), found.edition.number, PRIVATE)


def outcome(house: House, given: Arguments) -> Reply:
    """What a described vehicle turned out to be.

    For the confidence to be fitted to what was found: a badge or VIN read at the vehicle, or found out later. Kept are
    the cues, the outcome, the edition and the day; no text, no caller, no VIN. Sent again under the same `id` it is
    stored once; another outcome under that id is refused. At most 60 a minute are taken.
    """
    return _noted(house, outcomes.note_outcome(house, outcomes.outcome_of(given)))


def outcome_shown(house: House, given: Arguments) -> Reply:
    """What `outcome` answers the first time, with nothing written down: for the docs page."""
    code, kept = given["code"] or None, len(given["cues"])
    told = given["id"], given["edition"], given["outcome"], code, given["proof"], kept
    return _noted(house, outcomes.Noted(*told, (), again=False))


def _noted(house: House, noted: outcomes.Noted) -> Reply:
    newest = _edition(house, None)
    return Reply(answers.with_cautions(OutcomeAnswer, noted, _cautions(house, newest)), newest.number, PRIVATE)


def list_records(house: House, given: Arguments) -> Reply:
    """Every record of an edition, by code.

    Answered in parts: give `next` of one answer as `after` of the following request. A record with a reason under
    `withdrawn` must not be used.
    """
    edition = _edition(house, given.get("edition"))
    every = sorted(records.list_records(house, edition=edition.number), key=lambda record: record.code)
    after = _after(given.get("after"))
    rest = [record for record in every if record.code > after]
    part = rest[: given["limit"]]
    view = {
        "edition": edition,
        "records": part,
        "total": len(every),
        "next": part[-1].code if len(rest) > len(part) else None,
    }
    return _reply(house, answers.RecordsAnswer, view, edition, fixed="edition" in given)


def record(house: House, given: Arguments) -> Reply:
    """One record, every fact with its state.

    The newest edition's, or as it stood in an `edition`, or what the catalogue said `at` an instant. Every fact
    says its `state`; `not_stated` is written out and is not "none". A code may be written in any case, with or
    without its hyphen.
    """
    view = records.read_record(house, _code(given["code"]), edition=given.get("edition"), at=given.get("at"))
    refusal = (f"DO NOT USE this record: {view.withdrawn}",) if view.withdrawn else ()
    told = (*refusal, *_cautions(house, view.edition))
    cache = FIXED if "edition" in given else NEWEST
    return Reply(answers.record_document(view, told), view.edition.number, cache)


def history_of(house: House, given: Arguments) -> Reply:
    """The revisions of a record, newest first.

    Each with who changed it, when, why, in which editions it was listed, and every fact before and after.
    """
    code = _code(given["code"])
    revisions, total = records.history_part(house, code, given["offset"], given["limit"])
    sources = _sources(house, (revision.changes for revision in revisions))
    view = history.history_view(code, revisions, total, sources)
    return _reply(house, history.HistoryAnswer, view, _edition(house, None))


def lookalikes(house: House, given: Arguments) -> Reply:
    """The records that look like one.

    Nearest first, with every fact of a brief they differ in and the sights that tell them apart, cheapest first.
    A caller is asked only for what can be seen from where they stand. Of the newest edition.
    """
    found = lookalike.find_lookalikes(house, _code(given["code"]), observer=given["observer"], limit=given["limit"])
    return _reply(house, fact_answers.LookalikesAnswer, found, found.edition)


def list_editions(house: House, given: Arguments) -> Reply:
    """The published editions, newest first."""
    found = sorted(editions.list_editions(house), key=lambda edition: -edition.number)
    part = found[given["offset"] : given["offset"] + given["limit"]]
    return _reply(house, answers.EditionsAnswer, {"total": len(found), "editions": part}, _edition(house, None))


def changes(house: House, given: Arguments) -> Reply:
    """What changed from one edition to another.

    Records and sources added, changed or withdrawn, with the reason given and every fact before and after: records
    first, do not use before all others, then by code; then sources and vocabularies. Going back (a later edition first)
    gives the changes inverted. All of it at once, to follow: GET /editions/{a}/changes/file.
    """
    old, new = _edition(house, given["a"]), _edition(house, given["to"])
    changed, total = editions.changes_listed(house, old.number, new.number, given["offset"], given["limit"])
    sources = _sources(house, (change.delta for change in changed))
    view = history.changes_view(old, new, changed, total, sources)
    return _reply(house, history.ChangesAnswer, view, new, fixed=True)


def find(house: House, given: Arguments) -> Reply:
    """Words in notes and guides.

    Looks through every note and guide of the newest edition. This is a text search, not an identification:
    to find a vehicle by its description use POST /resolve, which also keeps the text out of addresses.
    """
    found = finding.find_text(house, given["q"], limit=given["limit"])
    return _reply(house, answers.FindAnswer, found, found.edition)


def sayings(house: House, given: Arguments) -> Reply:
    """What people say and what it is read as.

    The tables of the reader as the newest edition lists them. `changed` names those in which the running program
    differs: it reads by its own, and the next publication lists them.
    """
    found = saying.list_sayings(house, given["about"], given["words"])
    return _reply(house, cue_answers.SayingsAnswer, found, _edition(house, None))


def source(house: House, given: Arguments) -> Reply:
    """A source document: what facts rest on.

    A fact's `src` reads NUMBER/ISSUE:PAGE. A source never changes once published.
    """
    key = f"{given['number'].upper()}/{given['issue']}"
    if not KEY_PATTERN.fullmatch(key):
        raise NotFound("That is not a source's number and issue.", cure="Take both from a fact's src: NUMBER/ISSUE.")
    return _reply(house, answers.SourceAnswer, records.read_source(house, key), _edition(house, None))


def schema(house: House, given: Arguments) -> Reply:
    """The JSON Schema (2020-12) of a record as it is brought in and stored."""
    return Reply(record_json_schema(), _edition(house, None).number)


def _settle(house: House, given: Arguments) -> None:
    if given["settled"]:
        reading.settle(house, given["text"])


def _reply(house: House, schema: Any, view: Any, edition: EditionView, *, fixed: bool = False) -> Reply:
    told = _cautions(house, edition)
    return Reply(answers.with_cautions(schema, view, told), edition.number, FIXED if fixed else NEWEST)


def _cautions(house: House, edition: EditionView) -> tuple[str, ...]:
    return cautions.full(edition.number, edition.published_at, demo=house.settings.demo)


def _code(text: str) -> str:
    """The code as written. A wrong check character is a record that cannot exist."""
    code = codes.parse(text)
    if code is None:
        raise NotFound(
            "That is not a record's code.",
            cure="Check the code: six letters and digits such as QK7-M3M; the last one checks the others, so one "
            "wrong character is noticed.",
        )
    return code


def _after(text: str | None) -> str:
    code = codes.parse(text) if text else ""
    if code is None:
        raise NotFound("after is not a record's code.", cure="Give the code that the previous answer named in next.")
    return code


def _sources(house: House, deltas: Iterable[RecordDelta | None]) -> dict[str, Source]:
    return {key: records.read_source(house, key) for key in history.cited(deltas)}


def _edition(house: House, number: int | None) -> EditionView:
    newest = edition_view(house.shelf.current())
    if number in (None, newest.number):
        return newest
    for edition in editions.list_editions(house):
        if edition.number == number:
            return edition
    raise NotFound(f"There is no edition {number}.", cure=f"The newest is {newest.number}; see /api/v1/editions.")
