"""The one danger line: what scene words in a description call for, before any vehicle is known."""

from collections.abc import Mapping, Sequence

from catalog.resolve.cue import Cue

# One danger line: the first that applies leads; water adds its own sentence.
FIRE = (
    "Fire or smoke: treat as a pack fire. Toxic, can explode in a closed space. Upwind, breathing apparatus, "
    "leave the charge port alone."
)
VAPOUR = (
    "Vapour: treat as a pack fire. Toxic, can explode in a closed space. Upwind, breathing apparatus, "
    "leave the charge port alone."
)
SIGNS = (
    "Hiss, pops or smell may be the pack: treat as a pack fire. Upwind, breathing apparatus, "
    "leave the charge port alone."
)
WATER = "Water: casualty first. Leave the charge port alone. Cut off after recovery unless the guide says."
AND_WATER = " In water too: casualty first."

_FIRE_SAID = frozenset({"fire", "smoke", "jet"})
_VAPOUR_SAID = frozenset({"vapour"})
_SIGNS_SAID = frozenset({"hiss", "pop", "odour"})
_WATER_SAID = frozenset({"water", "water_deep", "water_salt"})


# What a word of the description becomes as a field of the scene, where it is called otherwise there.
_FIELD = {"smoke": "fire"}


def danger_line(cues: Sequence[Cue], scene: Mapping[str, str] | None = None) -> str:
    """The line, or "" when no scene word calls for one. A hedged word counts; a denied one does not.

    scene: what somebody answered of it, field -> yes, no or unknown: only a plain no takes a word back.
    """
    answered: Mapping[str, str] = {} if scene is None else scene
    said = {value for cue in cues if cue.attribute == "scene" and not cue.denied for value in cue.values}
    said = {value for value in said if answered.get(_FIELD.get(value, value)) != "no"}
    said |= {key for key, answer in answered.items() if answer == "yes"}
    water = bool(said & _WATER_SAID)
    lines = ((_FIRE_SAID, FIRE), (_VAPOUR_SAID, VAPOUR), (_SIGNS_SAID, SIGNS))
    for words, line in lines:
        if said & words:
            return line + (AND_WATER if water else "")
    return WATER if water else ""
