"""What is asked of the search on a phone, from what its page holds."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from catalog.resolve.amending import Key
from catalog.resolve.answering.asked import Answers
from catalog.resolve.cue import Cue
from catalog.resolve.labels import value_words


@dataclass(frozen=True, slots=True)
class Asked:
    """A search. taps: cues that were tapped. scene: field -> yes, no or unknown, as answered. driving_side: left or
    right. every: all possible vehicles. questions: whether to say what to ask next, which costs as much again."""

    text: str = ""
    taps: tuple[Cue, ...] = ()
    scene: Mapping[str, str] = field(default_factory=dict)
    answers: Answers = field(default_factory=Answers)
    struck: tuple[Key, ...] = ()
    driving_side: str = "left"
    every: bool = False
    questions: bool = True


def asked_from(data: Mapping[str, Any]) -> Asked:
    """From the page's own object: {"text", "taps": [{"attribute", "values", "denied"}], "scene": {field: answer},
    "answers": {question: option}, "excluded": [code], "caller", "struck": [key of a chip], "driving_side", "every",
    "questions"}, everything but the text to be left out where there is none."""
    caller = data.get("caller")
    return Asked(
        text=data.get("text", ""),
        taps=tuple(tapped(tap["attribute"], tap["values"], tap.get("denied", False)) for tap in data.get("taps", ())),
        scene=data.get("scene", {}),
        answers=Answers(data.get("answers", {}), tuple(data.get("excluded", ())), caller or None),
        struck=tuple(_key(key) for key in data.get("struck", ())),
        driving_side=data.get("driving_side", "left"),
        every=data.get("every", False),
        questions=data.get("questions", True),
    )


def tapped(attribute: str, values: Sequence[str], denied: bool = False) -> Cue:
    """The cue of a tap: what the same words give. Sides are tapped on an outline that says whose they are."""
    sides = attribute == "port_place"
    heard = " or ".join(value_words(attribute, value) for value in values)
    return Cue(attribute, tuple(sorted(values)), (), heard, denied, viewpoint="vehicle" if sides else "")


def _key(key: Sequence[Any]) -> Key:
    attribute, values, denied, vehicle = key
    return (attribute, tuple(values), denied, vehicle)
