"""Parts of names and of vehicle identification numbers, spelled out or written; counts and ages."""

import pytest

from catalog.domain.folding import fold_name
from catalog.domain.vin import vehicle_part
from catalog.resolve.lexicon import Lexicon, Name
from tests.unit.reading_cases import said


@pytest.mark.parametrize(
    ("text", "cues"),
    [
        ("starts with B", {"name=b*"}),
        ("begins with vee", {"name=v*"}),
        ("starts with bravo", {"name=b*"}),
        ("badge starts with a V, ends in an N I think", {"name=v*", "name=*n?"}),
        ("starts with B or V", {"name=b*,v*"}),
        ("B something, ends in O", {"name=b*", "name=*o"}),
        ("V something N", {"name=v*", "name=*n"}),
        ("Vel-something, white van", {"name=vel*", "colour=white", "body=van"}),
        ("letters E L L", {"name=*ell*"}),
        ("has E L L in it", {"name=*ell*"}),
        ("badge reads NEVROT, it's upside down", {"name=nevrot?", "scene=on_roof"}),
        ("road ends in a T junction", set()),
        ("reg starts with AB", set()),
        ("a something van", {"body=van"}),
    ],
)
def test_parts_of_a_name(text: str, cues: set[str]) -> None:
    assert said(text) == cues


def test_a_part_of_a_name_finds_the_names_that_have_it() -> None:
    lexicon = Lexicon(Name(fold_name(shown), shown, "make") for shown in ("Velorn", "Kelvik", "Brello"))
    assert set(lexicon.levels("vel*")) == {"velorn"}
    assert set(lexicon.levels("*o")) == {"brello"}
    assert set(lexicon.levels("*el*")) == {"velorn", "kelvik", "brello"}
    assert lexicon.levels("z*") == {}


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("vin ends four four two one", "*4421"),
        ("last four of the chassis number 4421", "*4421"),
        ("VIN starts X7K", "X7K*"),
        ("the paper says GD6NC1MD, then it is smudged", "GD6NC1MD*?"),
        ("vin has KB7 in it", "*KB7*"),
        (
            "delta echo mike kilo lima two victor four x-ray romeo alpha zero zero zero one two three",
            "DEMKL2V4XRA000123",
        ),
    ],
)
def test_parts_of_a_vin(text: str, value: str) -> None:
    assert said(text) == {f"vin={value}"}


def test_of_a_vins_end_nothing_is_sent_back() -> None:
    assert vehicle_part("*4421") == vehicle_part("*KB7*") == "*"
    assert vehicle_part("X7K*") == "X7K*"


@pytest.mark.parametrize(
    ("text", "cue"),
    [
        ("doors? four", "doors=4"),
        ("how many doors? 4", "doors=4"),
        ("doors: 4", "doors=4"),
        ("two rows of seats", "rows=2"),
        ("two one plate", "years=2021"),
        ("plate's a 21", "years=2021"),
        ("20 or 21 plate", "years=2020,2021"),
        ("2019ish", "years=2019?"),
    ],
)
def test_counts_and_ages(text: str, cue: str) -> None:
    assert said(text) == {cue}
