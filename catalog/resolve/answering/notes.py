"""What is said in words about a reading and its result."""

from collections.abc import Mapping, Sequence

from catalog.domain.said import SCENE
from catalog.domain.vin import check_digit_agrees
from catalog.resolve.cue import ASKED, SHOWN_ONLY, Cue, Doubt, Reading
from catalog.resolve.explain import tells_apart
from catalog.resolve.posterior import Posterior

PRIOR_DECIDES = "Only how common they are puts the first before the second; nothing said does."

SIDES_SWAPPED = (
    "Sides may be swapped: the charge port was said to be on the other side of what else fits. Ask again: which side, "
    "seated in it and facing forward?"
)


STRUCK = "struck out: does not count"

_SAY_NEXT = "Say the shape (pickup, van, hatchback), where the charge port is, or what the badge reads."
_NOTES = {
    "scene": "about the scene, not the vehicle: does not rank",
    "other_place": "a place on the vehicle, not taken as its charge port: does not rank",
}
_SHOWN_ONLY = "shown only: does not rank"
_OTHER_VEHICLE = "the other vehicle, not the one asked about: does not rank"
_NOT_ON_ITS_WHEELS = {"left_down", "right_down", "on_side", "on_roof", "rolled"}


def vin_contradicted(unfit: Sequence[str]) -> str:
    """That what was said does not fit the vehicle a VIN points to. unfit: what of it, in words."""
    return f"The VIN decides, but its vehicle does not fit: {', '.join(unfit)}. Check the VIN, character by character."


def message(text: str, reading: Reading, result: Posterior) -> str:
    """What to say when nothing ranks; "" when something does."""
    if tells_apart(result):
        return ""
    if not text.strip() and not reading.cues:
        return f"Nothing said yet. {_SAY_NEXT}"
    if not reading.cues:
        return f"Nothing in this was understood as a vehicle. {_SAY_NEXT}"
    return f"Nothing in this tells one vehicle from another. {_SAY_NEXT}"


def cue_note(cue: Cue, ranking: bool, reading: Reading) -> str:
    """Why a cue does not rank, or how it was taken."""
    if cue.vehicle != ASKED:
        return _OTHER_VEHICLE
    if cue.attribute in SHOWN_ONLY:
        return _NOTES.get(cue.attribute, _SHOWN_ONLY)
    if cue.attribute == "colour":
        return _colour_note(ranking)
    if not ranking:
        return "0 bits: no record here says anything about it"
    if cue.attribute == "port_place":
        return _place_note(cue, reading)
    if cue.attribute == "vin":
        return _vin_note(cue)
    return ""


def _colour_note(ranking: bool) -> str:
    if ranking:
        return "counts only for vehicles sold in few colours; 0 bits for all others"
    return "0 bits: any vehicle may be painted so"


def _place_note(cue: Cue, reading: Reading) -> str:
    sides = {value.split("|")[0] for value in cue.values}
    scenes = {
        value
        for other in reading.cues
        if other.attribute == "scene" and other.vehicle == ASKED
        for value in other.values
    }
    if sides - {""} and scenes & _NOT_ON_ITS_WHEELS:
        return "not on its wheels: left and right are doubtful"
    if sides & {"driver", "passenger"}:
        return "compared with each vehicle's steering side"
    return "taken as the charge port, with doubt" if cue.doubt is not Doubt.FIRM else ""


def _vin_note(cue: Cue) -> str:
    wrong = [value for value in cue.values if check_digit_agrees(value) is False]
    return "check digit does not fit: may be misheard (advisory, not used everywhere)" if wrong else ""


def scene_words(scene: Mapping[str, str]) -> tuple[str, ...]:
    """A proposed scene, each value in words with its answer, in the order of the vocabulary: "smoke: no"."""
    return tuple(f"{term.label}: {scene[term.key]}" for term in SCENE.terms if term.key in scene)


def idle(count: int) -> tuple[str, ...]:
    """That so many of the amendments are about nothing that is read in the text."""
    if not count:
        return ()
    what = "One thing" if count == 1 else f"{count} things"
    return (f"{what} struck out or put right here is not read in this text any more: it changes nothing.",)
