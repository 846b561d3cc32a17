"""What may be asked of whom: by where the caller is, and by what is said of the scene.

A caller stays where they are. Nothing is asked that needs going nearer, walking round, touching or
crossing traffic; with fire, smoke, vapour, a leak or water near, nothing that needs being beside
the vehicle or in it, and of somebody inside nothing at all: they get out first. Where the caller
is, is unknown until said. A crew is at the vehicle, chocked and approached by procedure.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from catalog.resolve.cue import ASKED, Cue, Doubt


class Caller(StrEnum):
    """Where who answers is."""

    UNKNOWN = "unknown"
    INSIDE = "inside"
    BESIDE = "beside"
    AWAY = "away"
    PASSING = "passing"
    CREW = "crew"


class Need(StrEnum):
    """What answering takes. A question says each way it can be answered."""

    KNOWN = "known"  # what one knows without looking
    FAR = "far"  # seen from across the road
    NEAR = "near"  # seen from beside it, without a step
    CABIN = "cabin"  # seen from a seat, touching nothing
    ROUND = "round"  # walking round it
    APPROACH = "approach"  # going nearer
    TOUCH = "touch"  # touching or opening something
    CROSS = "cross"  # crossing traffic


_ANYWHERE = frozenset({Need.KNOWN, Need.FAR})
_MAY: Mapping[Caller, frozenset[Need]] = {
    Caller.UNKNOWN: _ANYWHERE,
    Caller.INSIDE: frozenset({Need.KNOWN, Need.CABIN}),
    Caller.BESIDE: _ANYWHERE | {Need.NEAR},
    Caller.AWAY: _ANYWHERE,
    Caller.PASSING: _ANYWHERE,
    Caller.CREW: frozenset(Need) - {Need.CROSS},
}
# Said of the vehicle asked about, or perhaps so: keep off. Taken as it stands until it is denied.
HAZARDS = frozenset(
    ("fire", "smoke", "vapour", "jet", "hiss", "pop", "odour", "leak", "water", "water_deep", "water_salt",
     "recovered", "overhead_line", "orange_cable")
)  # fmt: skip
_STANDS = {f"caller_{caller.value}": caller for caller in Caller if caller is not Caller.CREW}


@dataclass(frozen=True, slots=True)
class Scene:
    """What decides what may be asked. hazard: something to keep off from is said, or may be so."""

    caller: Caller = Caller.UNKNOWN
    hazard: bool = False

    @property
    def may(self) -> frozenset[Need]:
        """What may be asked for."""
        if not self.hazard:
            return _MAY[self.caller]
        return frozenset() if self.caller is Caller.INSIDE else _ANYWHERE

    def allows(self, needs: Iterable[Need]) -> bool:
        """Whether a question that can be answered in these ways may be put."""
        return not self.may.isdisjoint(needs)


def scene_of(cues: Iterable[Cue], caller: Caller | None = None) -> Scene:
    """The scene as said. caller: where they are, if somebody knows better than the text."""
    said = [cue for cue in cues if cue.vehicle == ASKED and cue.attribute == "scene" and not cue.denied]
    values = {value for cue in said for value in cue.values}
    stands = {_STANDS[v] for cue in said if _is_plain(cue) for v in cue.values if v in _STANDS}
    found = stands.pop() if len(stands) == 1 else Caller.UNKNOWN
    return Scene(caller or found, not values.isdisjoint(HAZARDS))


def _is_plain(cue: Cue) -> bool:
    return cue.doubt is Doubt.FIRM and len(cue.values) == 1
