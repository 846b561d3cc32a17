"""A description to an answer: understood cues, possible vehicles, the share not in this catalogue."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from catalog.errors import BadInput
from catalog.resolve.amending import UNAMENDED, Amendments
from catalog.resolve.answering import notes
from catalog.resolve.answering.asked import NO_ANSWERS, Answers, exclusions
from catalog.resolve.answering.candidates import Candidate, candidate, shown, warnings
from catalog.resolve.answering.chances import chance_of
from catalog.resolve.answering.groups import groups_of
from catalog.resolve.answering.questions import questions_of
from catalog.resolve.field import Field
from catalog.resolve.posterior import Posterior, posterior
from catalog.services.compiling import edition_view
from catalog.services.doubts import DoubtView, all_in_tables
from catalog.services.fact_views import SharedFact
from catalog.services.facts import shared_facts
from catalog.services.house import House
from catalog.services.reading import Understood, understand
from catalog.services.views import Answer, RecordSummary

INCLUDABLE = frozenset({"why", "facts", "groups", "questions"})


@dataclass(frozen=True, slots=True)
class Description:
    """A request. limit: most candidates, None for all. driving_side: None for the site's.

    include: any of INCLUDABLE. amendments: cues struck out, put right or said outright. answers: to questions.
    """

    text: str
    limit: int | None = 10
    driving_side: str | None = None
    include: frozenset[str] = frozenset()
    amendments: Amendments = UNAMENDED
    answers: Answers = NO_ANSWERS


@dataclass(frozen=True, eq=False)
class Weighed:
    """A description as understood, and how likely each vehicle is."""

    found: Understood
    result: Posterior

    @cached_property
    def facts(self) -> tuple[SharedFact, ...]:
        """Every brief fact over all possible vehicles: worked out once for the answer and a brief."""
        return shared_facts(self.result, self.found.field)


def resolve_description(house: House, description: Description) -> Answer:
    """Weigh a description against the current edition. Raises BadInput, Unavailable.

    Nothing of the text is stored or logged.
    """
    return answer_of(description, weigh(house, description))


def weigh(house: House, description: Description) -> Weighed:
    """Read a description and weigh it, for all that is said of it. Raises BadInput, Unavailable."""
    _check(description)
    found = understand(house, description.text, description.driving_side, description.amendments, description.answers)
    return Weighed(found, posterior(found.evidence, found.field))


def _check(description: Description) -> None:
    if description.limit is not None and description.limit < 1:
        raise BadInput(f"limit is {description.limit}.", cure="Use 1 or more, or leave it out.")
    unknown = description.include - INCLUDABLE
    if unknown:
        raise BadInput(f"include has {', '.join(sorted(unknown))}.", cure=f"Known: {', '.join(sorted(INCLUDABLE))}.")


def answer_of(description: Description, weighed: Weighed) -> Answer:
    """What is said of a description that was weighed."""
    found, result = weighed.found, weighed.result
    field, reading = found.field, found.reading
    places = shown(result, description.limit)
    in_bits, doubts = "why" in description.include, all_in_tables(field.tables)
    candidates = tuple(_doubted(candidate(place, result, field, in_bits=in_bits), doubts) for place in places)
    listed = sum(each.chance.probability for each in candidates)
    return Answer(
        edition=edition_view(found.compiled),
        text=found.text,
        cues=found.cues,
        unread=reading.unread,
        candidates=candidates,
        others=max(0.0, 1.0 - listed - result.unlisted),
        others_count=field.tables.size - len(candidates),
        unlisted=chance_of(result.unlisted),
        calibration=field.parameters.calibration,
        calibration_state=field.parameters.origin,
        message=notes.message(description.text, reading, result),
        driving_side=found.driving_side,
        warnings=(*found.warnings, *warnings(places, field, result)),
        facts=weighed.facts if places and "facts" in description.include else (),
        groups=groups_of(result, field) if places and "groups" in description.include else None,
        struck=found.struck,
        masked=reading.masked,
        scene=reading.scene,
        questions=(
            questions_of(result, reading, field, description.answers) if "questions" in description.include else None
        ),
        excluded=_excluded(description.answers, field),
    )


def _doubted(one: Candidate, doubts: Sequence[DoubtView]) -> Candidate:
    return replace(one, doubts=tuple(doubt for doubt in doubts if doubt.code == one.code)) if doubts else one


def _excluded(answers: Answers, field: Field) -> tuple[RecordSummary, ...]:
    """The records said not to be it. Of a code that this edition does not hold nothing is known."""
    meta = field.tables.meta
    place_of = {code: place for place, code in enumerate(meta["codes"])} if answers.excluded else {}
    made = []
    for cue in exclusions(answers):
        place = place_of.get(cue.values[0])
        title, below = ("", "") if place is None else (meta["titles"][place], meta["subtitles"][place])
        made.append(RecordSummary(cue.values[0], title, below))
    return tuple(made)
