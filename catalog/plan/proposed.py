"""The scene that a text proposes, from what was said of it."""

from collections.abc import Mapping

from catalog.plan.derived import OFF_WHEELS
from catalog.plan.scene import FIELDS, Said, Scene

# Said of a scene -> fields of the steps' scene, and the value that its "yes" gives them.
_OTHERWISE: Mapping[str, Mapping[str, Said]] = {
    "smoke": {"fire": Said.YES},
    "on_wheels": dict.fromkeys(OFF_WHEELS, Said.NO),
    "damage_under": {"pack_damage": Said.YES},
    "power_dead": {"power_alive": Said.NO},
}
_CALLER = "caller_"


def proposed_scene(said: Mapping[str, str]) -> Scene:
    """The scene a text proposes. said: value -> "yes", "no" or "perhaps".

    What is perhaps so stays unknown, which never takes a caution away. Fire is denied only by who denies both
    fire and smoke.
    """
    values = {key: Said(said[key]) for key in FIELDS if said.get(key) in (Said.YES, Said.NO)}
    if values.get("fire") is Said.NO and said.get("smoke") != Said.NO:
        del values["fire"]
    for key, fields in _OTHERWISE.items():
        if said.get(key) == Said.YES:
            values.update(fields)
    callers = [key.removeprefix(_CALLER) for key, answer in said.items() if key.startswith(_CALLER) and answer == "yes"]
    return Scene(values, caller=callers[0] if len(callers) == 1 else "unknown")
