"""The scene of the steps from what was said of it: proposed by the words, put right by whoever knows better."""

from collections.abc import Mapping

from catalog.errors import BadInput
from catalog.plan.scene import CALLERS, DONE, FIELDS, Said, Scene, field_words

# Every field of a scene in words, both ways: "fire or smoke", "no fire or smoke".
FIELD_WORDS: Mapping[str, Mapping[str, str]] = {
    key: {"yes": field_words(key, Said.YES), "no": field_words(key, Said.NO)} for key in (*FIELDS, *DONE)
}


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
