"""The one danger line: what scene words in a description call for, before any vehicle is known."""

from collections.abc import Mapping, Sequence

from catalog.resolve.cue import Cue
from catalog.web import wording

_FIRE = frozenset({"fire", "smoke", "jet"})
_VAPOUR = frozenset({"vapour"})
_SIGNS = frozenset({"hiss", "pop", "odour"})
_WATER = frozenset({"water", "water_deep", "water_salt"})


# What a word of the description becomes as a field of the scene, where it is called otherwise there.
_FIELD = {"smoke": "fire"}


def danger_line(cues: Sequence[Cue], scene: Mapping[str, str] | None = None) -> str:
    """The line, or "" when no scene word calls for one. A hedged word counts; a denied one does not.

    scene: what somebody answered of it, field -> yes, no or unknown: only a plain no takes a word back.
    """
    answered = scene or {}
    said = {value for cue in cues if cue.attribute == "scene" and not cue.denied for value in cue.values}
    said = {value for value in said if answered.get(_FIELD.get(value, value)) != "no"}
    said |= {key for key, answer in answered.items() if answer == "yes"}
    water = bool(said & _WATER)
    lines = ((_FIRE, wording.DANGER_FIRE), (_VAPOUR, wording.DANGER_VAPOUR), (_SIGNS, wording.DANGER_SIGNS))
    for words, line in lines:
        if said & words:
            return line + (wording.DANGER_AND_WATER if water else "")
    return wording.DANGER_WATER if water else ""
