"""A description to an answer: understood cues, possible vehicles, the share not in this catalogue."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from catalog.errors import BadInput
from catalog.resolve.amending import UNAMENDED, Amendments
from catalog.resolve.explain import against_vin, bars, prior_decides, tells_apart, why
from catalog.resolve.field import Field
from catalog.resolve.mirrored import LIKELY as SIDES_LIKELY_SWAPPED
from catalog.resolve.mirrored import swaps_sides
from catalog.resolve.posterior import Posterior, posterior
from catalog.services import wording
from catalog.services.asking import NO_ANSWERS, Answers, exclusions, questions_of
from catalog.services.compiling import edition_view
from catalog.services.doubts import DoubtView, all_in_tables
from catalog.services.fact_views import SharedFact, chance_of
from catalog.services.facts import shared_facts
from catalog.services.house import House
from catalog.services.lookalikes import groups_of
from catalog.services.reading import Understood, understand
from catalog.services.views import Answer, Bar, Candidate, RecordSummary

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
    shown = _shown(description, result)
    doubts = all_in_tables(field.tables)
    candidates = tuple(_candidate(place, description, field, result, doubts) for place in shown)
    listed = sum(candidate.chance.probability for candidate in candidates)
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
        message=wording.message(description.text, reading, result),
        driving_side=found.driving_side,
        warnings=(*found.warnings, *_warnings(shown, field, result)),
        facts=weighed.facts if shown and "facts" in description.include else (),
        groups=groups_of(result, field) if shown and "groups" in description.include else None,
        struck=found.struck,
        masked=reading.masked,
        scene=reading.scene,
        questions=(
            questions_of(result, reading, field, description.answers) if "questions" in description.include else None
        ),
        excluded=_excluded(description.answers, field),
    )


def _shown(description: Description, result: Posterior) -> Sequence[int]:
    """Positions to list; none when nothing said can rank, so that nothing looks likely."""
    if not tells_apart(result):
        return ()
    return [int(place) for place in result.order(description.limit)]


def _candidate(
    place: int, description: Description, field: Field, result: Posterior, doubts: Sequence[DoubtView]
) -> Candidate:
    meta = field.tables.meta
    code = meta["codes"][place]
    shown = bars(place, result, field) if "why" in description.include else ()
    return Candidate(
        code=code,
        title=meta["titles"][place],
        subtitle=meta["subtitles"][place],
        chance=chance_of(float(result.records[place])),
        why=why(place, result, field),
        bars=tuple(Bar(bar.label, bar.bits) for bar in shown),
        doubts=tuple(doubt for doubt in doubts if doubt.code == code),
    )


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


def _warnings(shown: Sequence[int], field: Field, result: Posterior) -> tuple[str, ...]:
    made = []
    if len(shown) > 1 and prior_decides(shown[0], shown[1], result, field.tables):
        made.append(wording.PRIOR_DECIDES)
    if shown and swaps_sides(result, field) > SIDES_LIKELY_SWAPPED:
        made.append(wording.SIDES_SWAPPED)
    if shown and (unfit := against_vin(shown[0], result, field)):
        made.append(wording.VIN_CONTRADICTED.format(", ".join(unfit)))
    return tuple(made)
