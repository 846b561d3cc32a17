"""What becomes of a brief: sent, read back, recalled, followed by a correction; noted beside it, never in it."""

import secrets
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, replace

from catalog.domain.roles import Right
from catalog.errors import BadInput, Conflict
from catalog.plan.brief import correct
from catalog.resolve.amending import Amendments, Given
from catalog.resolve.answering.understood import without_personal
from catalog.resolve.cue import ASKED, RECORD
from catalog.services.acting import Actor, require
from catalog.services.amending import cue_of
from catalog.services.brief_composing import BriefAsked, composed_on, ground_of
from catalog.services.brief_kept import Composed, composed_of
from catalog.services.brief_views import BriefView
from catalog.services.briefs import Follows, keep, there, whole_view
from catalog.services.clock import now_us
from catalog.services.house import House
from catalog.services.records import ANY_VEHICLE
from catalog.services.trail import note
from catalog.store.briefs import StoredEvent, add_event
from catalog.store.engine import read, write
from catalog.store.tables_briefs import CORRECTION, READ_BACK, RECALLED, SENT, SLIP

FORMS = ("radio", "full", "sheet", "link", "json")
# What the trail calls it.
_VERBS = {SENT: "send", READ_BACK: "read back", RECALLED: "recall"}
LONGEST_NAME = 80
LONGEST_WORDS = 400


@dataclass(frozen=True, slots=True)
class Recall:
    """why: what is wrong with it. instead: what to do now, "" for the steps for any vehicle."""

    why: str
    instead: str = ""


def mark_sent(house: House, actor: Actor | None, id_: str, form: str, to: str = "") -> BriefView:
    """Note that a brief was sent. form: one of FORMS. to: a crew or call sign, "" where not said.

    Raises NotSignedIn, Forbidden, BadInput, NotFound, Unavailable, as the others here.
    """
    if form not in FORMS:
        raise BadInput(f"{form!r} is no form of a brief.", cure=f"Use one of: {', '.join(FORMS)}.")
    return _noted(house, actor, id_, SENT, {"form": form, "to": words("to", to, LONGEST_NAME)})


def note_read_back(house: House, actor: Actor | None, id_: str, who: str, said: str = "") -> BriefView:
    """Note that a crew read a brief back. who: a crew or call sign. said: what they read back, "" where all of it."""
    detail = {
        "who": needed("who", words("who", who, LONGEST_NAME), "Say who read it back."),
        "words": words("words", said, LONGEST_WORDS),
    }
    return _noted(house, actor, id_, READ_BACK, detail)


def recall(house: House, actor: Actor | None, id_: str, given: Recall) -> BriefView:
    """Have a brief say RECALLED wherever it is opened, by whom, why and what to do instead; for good.

    Raises Conflict where it was recalled before.
    """
    detail = {
        "why": needed("why", words("why", given.why, LONGEST_WORDS), "Say what is wrong with it."),
        "instead": words("instead", given.instead, LONGEST_WORDS) or ANY_VEHICLE,
    }
    return _noted(house, actor, id_, RECALLED, detail)


def follow_up(house: House, actor: Actor | None, id_: str, given: BriefAsked) -> BriefView:
    """Compose a correction of a brief, from what it was composed from and what is given now over it.

    given: text, cues or codes in the place of the earlier ones, where there are any; fields of the scene over the
    earlier ones. Letter and incident stay. Raises Conflict where nothing reads otherwise.
    """
    by = require(actor, Right.BRIEF)
    with read(house.engine) as conn:
        kept = there(conn, id_)
        if kept.kind == SLIP:
            raise BadInput(f"{kept.id} is a slip, not a brief.", cure="Write another slip.")
        earlier = composed_of(kept.document)
    asked = replace(asked_again(earlier, given), letter=kept.letter, incident=kept.incident)
    ground = ground_of(house, asked)
    brief = correct(earlier.brief, ground.input)
    if not brief.changes:
        raise Conflict(f"Nothing in brief {kept.id} reads otherwise now.", cure="The brief holds; or compose another.")
    return keep(house, by, asked, composed_on(ground, brief), Follows(kept.id, CORRECTION))


def asked_again(earlier: Composed, given: BriefAsked) -> BriefAsked:
    """What was asked for before, with what is said now over it."""
    scene = {key: value.value for key, value in earlier.scene.values.items()}
    made = replace(
        given,
        scene={**scene, **given.scene},
        caller=given.caller or earlier.scene.caller,
        carried=given.carried
        if given.carried is not None or earlier.scene.carried is None
        else tuple(sorted(earlier.scene.carried)),
    )
    if given.text or given.codes or given.amendments.cues:
        return made
    said = [cue for cue in earlier.cues if cue["attribute"] != RECORD]
    denied = tuple(cue["values"][0] for cue in earlier.cues if cue["attribute"] == RECORD)
    return replace(
        made,
        codes=earlier.codes,
        amendments=Amendments(given.amendments.struck, tuple(Given(cue_of({**cue, "vehicle": ASKED})) for cue in said)),
        answers=replace(given.answers, excluded=tuple(dict.fromkeys((*denied, *given.answers.excluded)))),
    )


def words(name: str, text: str, longest: int) -> str:
    """What somebody typed, in one line, telephone numbers and the like blanked. Raises BadInput."""
    text = unicodedata.normalize("NFC", text.encode("utf-8", "replace").decode())
    text = " ".join("".join(" " if unicodedata.category(c).startswith("C") else c for c in text).split())
    if len(text) > longest:
        raise BadInput(f"{name} has {len(text)} characters.", cure=f"Use at most {longest}.")
    return without_personal(text)


def needed(name: str, text: str, cure: str) -> str:
    """The text. Raises BadInput where there is none."""
    if not text:
        raise BadInput(f"{name} is missing.", cure=cure)
    return text


def _noted(house: House, actor: Actor | None, id_: str, kind: str, detail: Mapping[str, str]) -> BriefView:
    by = require(actor, Right.BRIEF)
    with write(house.engine) as conn:
        kept = there(conn, id_)
        add_event(conn, StoredEvent(secrets.token_urlsafe(18), kept.id, kind, now_us(), by.name, detail))
        view = whole_view(conn, kept)
        note(conn, by, _VERBS[kind], kept.id)
    return view
