"""What a reading of a description consists of.

Spans are half-open, in code points of the text as given.
"""

from dataclasses import dataclass
from enum import StrEnum


class Doubt(StrEnum):
    """How firmly a cue was said; the number is the weight h of RESOLVER-style hedging."""

    FIRM = "firm"
    HEDGED = "hedged"  # "maybe", "I think", "looks like"
    GUESS = "guess"  # "no idea, could be"


# The share of a cue's likelihood given up to the marginal.
HEDGE_WEIGHT = {Doubt.FIRM: 0.0, Doubt.HEDGED: 0.3, Doubt.GUESS: 0.6}


@dataclass(frozen=True, slots=True)
class Span:
    """Half-open code-point range of the text."""

    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Cue:
    """One thing understood.

    attribute: what it is about (see `ATTRIBUTES`). values: alternatives, sorted; one of them is
    meant. denied: "not a van". spans: where it was said (several when said again).
    heard: the words as written, for the sentence that explains.
    A port place is one cue whose values read "side|end|level", each part possibly "" (unsaid).
    side is in the vehicle's frame (left, right, centre) or "driver" / "passenger", which is
    compared with each record's steering side.
    A name cue's values are the folded words heard; years are "1998" or "2019-2021"; doors and
    rows are digits.
    """

    attribute: str
    values: tuple[str, ...]
    spans: tuple[Span, ...]
    heard: str
    denied: bool = False
    doubt: Doubt = Doubt.FIRM

    @property
    def key(self) -> tuple[str, tuple[str, ...], bool]:
        """What makes two cues the same cue said twice."""
        return (self.attribute, self.values, self.denied)


# Attributes a cue may have. Ranking ones are scored; the others are shown and said not to rank.
RANKING = (
    "body", "size", "doors", "propulsion", "years", "name", "port_place", "connector",
    "door_mechanism", "port_cover", "selector", "front_face", "front_lamps", "rear_lamps", "tailpipe",
    "roof", "handles", "category", "vin", "colour", "fuel",
)  # fmt: skip
SHOWN_ONLY = ("scene", "other_place")
ATTRIBUTES = RANKING + SHOWN_ONLY


@dataclass(frozen=True, slots=True)
class Reading:
    """All that was understood of a text, and what was not."""

    cues: tuple[Cue, ...]
    unread: tuple[Span, ...]
