"""An answer as the search pages show it: rows on one scale, what was understood, one danger line."""

from collections.abc import Sequence
from dataclasses import dataclass

from catalog.resolve.chance import Boxes, boxes, frequency, word
from catalog.services.views import Answer, Bar, Candidate
from catalog.web import wording
from catalog.web.danger import danger_line
from catalog.web.heard import Heard, heard

# Shown at first; all others are one key away.
FIRST = 3


@dataclass(frozen=True, slots=True)
class Row:
    """A possible vehicle. rank: from 1. boxes: its part of the page's ten."""

    rank: int
    code: str
    title: str
    subtitle: str
    why: str
    word: str
    frequency: str
    boxes: Boxes
    bars: tuple[Bar, ...]


@dataclass(frozen=True, slots=True)
class Share:
    """A row that names no vehicle: not in this catalogue, or the others together."""

    title: str
    word: str
    frequency: str
    boxes: Boxes


@dataclass(frozen=True, slots=True)
class Results:
    """Everything a search page shows of one answer. rows are empty when nothing said can rank."""

    heard: Heard
    danger: str
    rows: tuple[Row, ...]
    unlisted: Share
    others: Share | None
    hidden: int
    message: str
    warnings: tuple[str, ...]
    calibration: str
    status: str


def results(answer: Answer, *, show_all: bool = False) -> Results:
    """Build the view. Candidates left out of view count among the others, so the page adds up."""
    shown = answer.candidates if show_all else answer.candidates[:FIRST]
    rest = answer.candidates[len(shown) :]
    others = answer.others + sum(candidate.chance.probability for candidate in rest)
    count = answer.others_count + len(rest)
    shares = [candidate.chance.probability for candidate in shown]
    drawn = boxes([*shares, answer.unlisted.probability, others])
    rows = tuple(_row(place, candidate, drawn[place]) for place, candidate in enumerate(shown))
    unlisted = Share(wording.UNLISTED_TITLE, answer.unlisted.word, answer.unlisted.frequency, drawn[len(shown)])
    return Results(
        heard=heard(answer),
        danger=danger_line([view.cue for view in answer.cues]),
        rows=rows,
        unlisted=unlisted,
        others=_others(count, others, drawn[-1]),
        hidden=len(rest),
        message=answer.message,
        warnings=answer.warnings,
        calibration=answer.calibration,
        status=_status(answer.message, rows, unlisted),
    )


def _row(place: int, candidate: Candidate, drawn: Boxes) -> Row:
    chance = candidate.chance
    return Row(
        place + 1,
        candidate.code,
        candidate.title,
        candidate.subtitle,
        candidate.why,
        chance.word,
        chance.frequency,
        drawn,
        candidate.bars,
    )


def _others(count: int, probability: float, drawn: Boxes) -> Share | None:
    if count == 0:
        return None
    title = "1 other vehicle" if count == 1 else f"{count} other vehicles together"
    return Share(title, word(probability), frequency(probability), drawn)


def _status(message: str, rows: Sequence[Row], unlisted: Share) -> str:
    """What a screen reader is told when the results change."""
    if not rows:
        return message
    first = rows[0]
    return (
        f"First of the possible vehicles: {first.title}, {first.word}, {first.frequency}. "
        f"{unlisted.title}: {unlisted.frequency}."
    )
