"""The scene of the steps from what was said of it: proposed by the words, put right by whoever knows better."""

from collections.abc import Mapping

from catalog.errors import BadInput
from catalog.plan.derived import OFF_WHEELS
from catalog.plan.scene import CALLERS, DONE, FIELDS, Said, Scene, field_words

# Said of a scene -> fields of the steps' scene, and the value that its "yes" gives them.
_OTHERWISE: Mapping[str, Mapping[str, Said]] = {
    "smoke": {"fire": Said.YES},
    "on_wheels": dict.fromkeys(OFF_WHEELS, Said.NO),
    "damage_under": {"pack_damage": Said.YES},
    "power_dead": {"power_alive": Said.NO},
}
_CALLER = "caller_"

# Every field of a scene in words, both ways: "fire or smoke", "no fire or smoke".
FIELD_WORDS: Mapping[str, Mapping[str, str]] = {
    key: {"yes": field_words(key, Said.YES), "no": field_words(key, Said.NO)} for key in (*FIELDS, *DONE)
}


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


def with_answers(
    scene: Scene, answers: Mapping[str, str], carried: tuple[str, ...] | None, caller: str | None
) -> Scene:
    """A proposed scene put right. answers: field -> "yes", "no" or "unknown". Raises BadInput."""
    strange = [key for key in answers if key not in (*FIELDS, *DONE)]
    if strange:
        known = ", ".join((*FIELDS, *DONE))
        raise BadInput(f"The scene has no field {', '.join(strange)}.", cure=f"Use one of: {known}.")
    wrong = [key for key, value in answers.items() if value not in set(Said)]
    if wrong:
        raise BadInput(f"{', '.join(wrong)} is neither yes, no nor unknown.", cure="Use yes, no or unknown.")
    try:
        return Scene(
            {**scene.values, **{key: Said(value) for key, value in answers.items()}},
            scene.carried if carried is None else frozenset(carried),
            caller or scene.caller,
        )
    except ValueError as error:
        raise BadInput(f"That scene cannot be: {error}.", cure=f"Callers are: {', '.join(CALLERS)}.") from error
