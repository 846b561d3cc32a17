"""The scene said in words that no single saying has: data/frames.json and what may stand between."""

import pytest

from catalog.domain import said
from catalog.domain.attributes import SHOWN_TERMS, terms_of
from catalog.resolve.lexicon import Lexicon
from catalog.resolve.reading.reader import read
from catalog.resolve.reading.scene_said import NUMBER, Frames, shipped


def scene(text: str) -> set[str]:
    cues = read(text, Lexicon(), "left").cues
    return {("!" if cue.denied else "") + cue.values[0] for cue in cues if cue.attribute == "scene"}


@pytest.mark.parametrize(
    ("text", "values"),
    [
        ("only the roof of it is out of the river", {"water_deep"}),
        ("a concrete beam has dropped on the van", {"damage"}),
        ("the lights and wipers still work", {"power_alive"}),
        ("airbags haven't gone off", {"!airbags"}),
        ("the charging flap is intact", {"!port_damaged"}),
        ("no they all got out", {"nobody_inside"}),
        ("it rolled off quietly", set()),
        ("clear water dripping underneath", set()),
        ("another car is lying across it", {"under_vehicle"}),
        ("it's sitting on another car", {"over_vehicle"}),
        ("I'm standing in front of the bonnet", {"caller_beside"}),
        ("I'm looking at the bonnet from here", set()),
        ("tipped onto its left", {"left_down"}),
        ("the flap is over on the right", set()),
    ],
)
def test_frames(text: str, values: set[str]) -> None:
    assert scene(text) == values


TABLES = ("frames", "looks_frames")


def classes_of(frames: Frames) -> set[str]:
    return {name for seconds in frames.begins.values() for sayings in seconds.values() for _, name in sayings}


@pytest.mark.parametrize("table", TABLES)
def test_every_frame_says_a_value_with_classes_that_are_there(table: str) -> None:
    frames = shipped(table)
    for frame in frames.frames:
        attribute, _, value = frame.value.rpartition("=")
        known = said.SCENE.keys if not attribute else SHOWN_TERMS.get(attribute) or terms_of(attribute)
        assert not frame.value or set(value.split("|")) <= set(known), frame
        named = (frame.unless, frame.unless_before, frame.unless_next, frame.anywhere)
        assert {*frame.parts, *(name for name in named if name)} <= classes_of(frames) | {NUMBER}


@pytest.mark.parametrize("table", TABLES)
def test_every_class_is_used(table: str) -> None:
    frames = shipped(table)
    used = {
        name
        for frame in frames.frames
        for name in (*frame.parts, frame.unless, frame.unless_before, frame.unless_next, frame.anywhere)
    }
    assert classes_of(frames) <= used
