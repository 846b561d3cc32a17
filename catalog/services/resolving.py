"""A description to an answer: understood cues, possible vehicles, the share not in this catalogue."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from catalog.compiled import Compiled
from catalog.domain.vin import vehicle_part
from catalog.errors import BadInput
from catalog.resolve.cue import Cue, Reading
from catalog.resolve.evidence import gather
from catalog.resolve.explain import bars, prior_decides, tells_apart, why
from catalog.resolve.field import Field
from catalog.resolve.labels import cue_label
from catalog.resolve.names import lexicon_of
from catalog.resolve.posterior import Posterior, posterior
from catalog.resolve.reading import read
from catalog.services import wording
from catalog.services.compiling import edition_view
from catalog.services.fact_views import chance_of
from catalog.services.facts import shared_facts
from catalog.services.house import House, field_of
from catalog.services.lookalikes import groups_of
from catalog.services.views import Answer, Bar, Candidate, CueView

LONGEST = 2000
INCLUDABLE = frozenset({"why", "facts", "groups"})


@dataclass(frozen=True, slots=True)
class Description:
    """A request. limit: most candidates, None for all. driving_side: None for the site's.

    include: any of INCLUDABLE.
    """

    text: str
    limit: int | None = 10
    driving_side: str | None = None
    include: frozenset[str] = frozenset()


def resolve_description(house: House, description: Description) -> Answer:
    """Weigh a description against the current edition. Raises BadInput, Unavailable.

    Nothing of the text is stored or logged.
    """
    side = _checked(description, house.settings.driving_side)
    compiled = house.shelf.current()
    field = field_of(compiled, house.settings.unlisted_rate)
    reading = read(description.text, lexicon_of(field.tables), side)
    result = posterior(gather(reading.cues, field.tables, field.parameters), field)
    return _answer(description, side, compiled, field, reading, result)


def _checked(description: Description, site_side: str) -> str:
    if len(description.text) > LONGEST:
        raise BadInput(
            f"The description has {len(description.text)} characters; at most {LONGEST} are read.",
            cure="Send what tells the vehicle apart: shape, charge port, badge.",
        )
    if description.limit is not None and description.limit < 1:
        raise BadInput(f"limit is {description.limit}.", cure="Use 1 or more, or leave it out.")
    unknown = description.include - INCLUDABLE
    if unknown:
        raise BadInput(f"include has {', '.join(sorted(unknown))}.", cure=f"Known: {', '.join(sorted(INCLUDABLE))}.")
    side = description.driving_side or site_side
    if side not in ("left", "right"):
        raise BadInput(f"driving_side is {side!r}.", cure="Use left or right: the side traffic keeps to.")
    return side


def _answer(
    description: Description, side: str, compiled: Compiled, field: Field, reading: Reading, result: Posterior
) -> Answer:
    shown = _shown(description, result)
    candidates = tuple(_candidate(place, description, field, result) for place in shown)
    listed = sum(candidate.chance.probability for candidate in candidates)
    return Answer(
        edition=edition_view(compiled),
        text=description.text,
        cues=tuple(_cue_view(cue, reading, field, result) for cue in reading.cues),
        unread=reading.unread,
        candidates=candidates,
        others=max(0.0, 1.0 - listed - result.unlisted),
        others_count=field.tables.size - len(candidates),
        unlisted=chance_of(result.unlisted),
        calibration=field.parameters.calibration,
        message=wording.message(description.text, reading, result),
        driving_side=side,
        warnings=_warnings(shown, field, result),
        facts=shared_facts(result, field) if shown and "facts" in description.include else (),
        groups=groups_of(result, field) if shown and "groups" in description.include else None,
    )


def _shown(description: Description, result: Posterior) -> Sequence[int]:
    """Positions to list; none when nothing said can rank, so that nothing looks likely."""
    if not tells_apart(result):
        return ()
    return [int(place) for place in result.order(description.limit)]


def _candidate(place: int, description: Description, field: Field, result: Posterior) -> Candidate:
    meta = field.tables.meta
    shown = bars(place, result, field) if "why" in description.include else ()
    return Candidate(
        code=meta["codes"][place],
        title=meta["titles"][place],
        subtitle=meta["subtitles"][place],
        chance=chance_of(float(result.records[place])),
        why=why(place, result, field),
        bars=tuple(Bar(bar.label, bar.bits) for bar in shown),
    )


def _cue_view(cue: Cue, reading: Reading, field: Field, result: Posterior) -> CueView:
    ranking = any(entry.cue.key == cue.key for entry in result.evidence)
    note = wording.cue_note(cue, ranking, reading)
    return CueView(_masked(cue), cue_label(cue, field.tables), ranking, note)


def _masked(cue: Cue) -> Cue:
    """The cue as it may be sent back: of a VIN only the vehicle part."""
    if cue.attribute != "vin":
        return cue
    parts = tuple(vehicle_part(value) for value in cue.values)
    return replace(cue, values=parts, heard=" or ".join(parts))


def _warnings(shown: Sequence[int], field: Field, result: Posterior) -> tuple[str, ...]:
    if len(shown) > 1 and prior_decides(shown[0], shown[1], result, field.tables):
        return (wording.PRIOR_DECIDES,)
    return ()
