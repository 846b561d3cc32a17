"""What is said in words about questions."""

from collections.abc import Mapping, Sequence

from catalog.resolve.chance import word
from catalog.resolve.questions.choosing import Stopped
from catalog.resolve.questions.safety import Caller, Scene

CANNOT_TELL = "can't tell"
_POINTS = 0.35  # "about even" or more
UNLISTED = "If none of these fits, treat it as not in this catalogue: go by the steps for any vehicle."
_STOPPED: Mapping[Stopped, str] = {
    Stopped.NOT: "",
    Stopped.ENOUGH: "No question is worth asking: no answer would change much.",
    Stopped.NOTHING_SAFE: "Nothing more can be asked of this caller without sending them nearer.",
    Stopped.ASKED: "Enough was asked for one call.",
}
_STAY = "Ask only what they can say from where they are: do not send them nearer, round it or across traffic."
_ADVICE: Mapping[Caller, str] = {
    Caller.UNKNOWN: f"Where the caller is, is not known. {_STAY}",
    Caller.INSIDE: "The caller is inside: they touch nothing to answer.",
    Caller.BESIDE: _STAY,
    Caller.AWAY: _STAY,
    Caller.PASSING: "Only what they remember: they do not turn back.",
    Caller.CREW: "For a crew at the vehicle, chocked and approached by procedure.",
}
_KEEP_OFF = "Fire, smoke, vapour, a leak or water is said or not ruled out, or orange or overhead cable"
_GET_OUT = f"{_KEEP_OFF}: nothing is asked of somebody inside. Tell them to get out and away."
_AWAY = f"{_KEEP_OFF}: only what is seen from afar is asked. Tell them to keep away."

WHOM = {
    "unknown": "where the caller is: not said",
    "inside": "caller inside",
    "beside": "caller beside it",
    "away": "caller away from it",
    "passing": "caller gone past",
    "crew": "crew at the vehicle",
}


def advice(scene: Scene) -> str:
    """What to mind while asking."""
    if not scene.hazard:
        return _ADVICE[scene.caller]
    return _GET_OUT if scene.caller is Caller.INSIDE else _AWAY


def stopped(why_not: Stopped, scene: Scene) -> str:
    """Why nothing is asked; "" while something is."""
    if why_not is Stopped.NOTHING_SAFE and scene.hazard and scene.caller is Caller.INSIDE:
        return _GET_OUT
    return _STOPPED[why_not]


def points_to(chance: float, title: str | None) -> str:
    """ "likely: Ostrel Packhorse"; "" where it points to nothing. title: None for "not in this catalogue"."""
    return f"{word(chance)}: {title or 'not in this catalogue'}" if chance >= _POINTS else ""


def why(facts: Sequence[str]) -> str:
    """What a question is asked for. facts: labels of those it helps with most."""
    if not facts:
        return "tells the possible vehicles apart"
    return f"may settle: {'; '.join(facts)}"
