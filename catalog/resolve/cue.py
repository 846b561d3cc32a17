"""What a reading of a description consists of.

Spans are half-open, in code points of the text as given.
"""

from dataclasses import dataclass
from enum import StrEnum

from catalog.domain import attributes


class Doubt(StrEnum):
    """How firmly a cue was said; the number is the weight h of RESOLVER-style hedging."""

    FIRM = "firm"
    HEDGED = "hedged"  # "maybe", "I think", "looks like"
    GUESS = "guess"  # "no idea, could be"


# The share of a cue's likelihood given up to the marginal.
HEDGE_WEIGHT = {Doubt.FIRM: 0.0, Doubt.HEDGED: 0.3, Doubt.GUESS: 0.6}

# From where sides were said: unsaid, seated facing forward, facing its front, facing its rear.
VIEWPOINTS = ("", "vehicle", "front", "rear")
# The vehicle asked about, and another one in the same description.
ASKED, ANOTHER = "A", "B"


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
    compared with each record's steering side. viewpoint: from where it was said, one of
    `VIEWPOINTS`; what was said facing the front has already been turned round.
    A name cue's values are the folded words heard, or a fragment: "b*" (begins with B), "*o" (ends
    in O), "*ell*" (has it inside); a VIN's parts are written likewise. Years are "1998" or
    "2019-2021"; doors and rows are digits. vehicle: `ASKED`, or `ANOTHER` ("hit by a blue bus").
    """

    attribute: str
    values: tuple[str, ...]
    spans: tuple[Span, ...]
    heard: str
    denied: bool = False
    doubt: Doubt = Doubt.FIRM
    viewpoint: str = ""
    vehicle: str = ASKED

    @property
    def key(self) -> tuple[str, tuple[str, ...], bool, str]:
        """What makes two cues the same cue said twice."""
        return (self.attribute, self.values, self.denied, self.vehicle)


# Attributes a cue may have, and the values of those that are shown only.
RANKING, SHOWN_ONLY, ATTRIBUTES = attributes.RANKING, attributes.SHOWN_ONLY, attributes.ATTRIBUTES
SHOWN_TERMS = attributes.SHOWN_TERMS
# Never read from a text: a record somebody pointed at, by its code; "not this vehicle" denies it.
RECORD = "record"


@dataclass(frozen=True, slots=True)
class Reading:
    """All that was understood of a text, and what was not.

    masked: telephone numbers, registration plates, e-mail, personal names and street addresses where
    a pattern shows them; never cues, never unread.
    """

    cues: tuple[Cue, ...]
    unread: tuple[Span, ...]
    masked: tuple[Span, ...] = ()

    @property
    def own(self) -> tuple[Cue, ...]:
        """The cues of the vehicle asked about, the scene left out."""
        return tuple(cue for cue in self.cues if cue.vehicle == ASKED and cue.attribute != "scene")

    @property
    def scene(self) -> dict[str, str]:
        """The proposed scene: value -> "yes", "no" or "perhaps" (doubted, or said both ways)."""
        said: dict[str, set[str]] = {}
        for cue in self.cues:
            if cue.vehicle != ASKED or cue.attribute != "scene":
                continue
            firm = cue.doubt is Doubt.FIRM and len(cue.values) == 1
            for value in cue.values:
                said.setdefault(value, set()).add(("no" if cue.denied else "yes") if firm else "perhaps")
        return {value: answers.pop() if len(answers) == 1 else "perhaps" for value, answers in sorted(said.items())}
