"""An answer as the search pages show it: rows on one scale, what was understood, one danger line."""

from collections.abc import Sequence
from dataclasses import dataclass

from catalog.resolve.answering.danger import danger_line
from catalog.resolve.answering.rows import Row, row
from catalog.resolve.chance import Boxes, boxes, frequency, word
from catalog.services.views import Answer
from catalog.web import wording
from catalog.web.asked import Asking, Told, asking, told
from catalog.web.counted import Counted, counted
from catalog.web.heard import Heard, heard
from catalog.web.posted import NOTHING, Posted

# Shown at first; all others are one key away.
FIRST = 3


@dataclass(frozen=True, slots=True)
class Share:
    """A row that names no vehicle: not in this catalogue, or the others together."""

    title: str
    word: str
    frequency: str
    boxes: Boxes


@dataclass(frozen=True, slots=True)
class Results:
    """Everything a search page shows of one answer. rows are empty when nothing said can rank.

    told: what was answered and ruled out. asking, counted: None where not asked for, or where nothing can rank.
    rates: what the probabilities rest on, in a word; calibration: the same with why.
    """

    heard: Heard
    danger: str
    rows: tuple[Row, ...]
    unlisted: Share
    others: Share | None
    message: str
    warnings: tuple[str, ...]
    calibration: str
    rates: str
    status: str
    told: tuple[Told, ...] = ()
    asking: Asking | None = None
    counted: Counted | None = None


def results(answer: Answer, state: Posted = NOTHING, *, port_ruled_out: bool = False) -> Results:
    """Build the view. Vehicles left out of view count among the others, so the page adds up.

    port_ruled_out: something said of the scene does that, beside what calls for a danger line.
    """
    every = "all" in state.views
    found, rest = (answer.groups.groups, answer.groups.rest) if answer.groups else ((), answer.others)
    groups = found if every else found[:FIRST]
    shares = [group.chance.probability for group in groups]
    listed = sum(len(action.members) for group in groups for action in group.actions)
    others = rest + sum(group.chance.probability for group in found[len(groups) :])
    # That it is not in the catalogue is never rounded out of sight.
    drawn = boxes([*shares, answer.unlisted.probability, others], kept=len(groups))
    known = {candidate.code: candidate for candidate in answer.candidates}
    rows: list[Row] = []
    for place, group in enumerate(groups):
        first = 1 + sum(len(made.vehicles) for made in rows)
        rows.append(row(group, first, drawn[place], known, every=every))
    none = Share(wording.UNLISTED_TITLE, answer.unlisted.word, answer.unlisted.frequency, drawn[len(groups)])
    ask = asking(answer.questions) if answer.questions else None
    danger = danger_line([view.cue for view in answer.cues], state.scene)
    return Results(
        heard=heard(answer, state.cues),
        danger=danger,
        rows=tuple(rows),
        unlisted=none,
        others=_others(len(answer.candidates) + answer.others_count - listed, others, drawn[-1]) if rows else None,
        message=answer.message,
        warnings=answer.warnings,
        calibration=answer.calibration,
        rates=answer.calibration.partition(":")[0],
        status=_status(answer.message, rows, none, ask),
        told=told(state.answers, answer.excluded),
        asking=ask,
        counted=counted(answer.facts, every="facts" in state.views, danger=bool(danger) or port_ruled_out),
    )


def _others(count: int, probability: float, drawn: Boxes) -> Share | None:
    if count <= 0:
        return None
    title = "1 other vehicle" if count == 1 else f"{count} other vehicles together"
    return Share(title, word(probability), frequency(probability), drawn)


def _status(message: str, rows: Sequence[Row], unlisted: Share, ask: Asking | None) -> str:
    """What a screen reader is told when the results change."""
    if not rows:
        return message
    first = rows[0]
    said = (
        f"First of the possible vehicles: {first.title}, {first.word}, {first.frequency}. "
        f"{unlisted.title}: {unlisted.frequency}."
    )
    return f"{said} {wording.ASK_TITLE}: {ask.ask}" if ask and ask.ask else said
