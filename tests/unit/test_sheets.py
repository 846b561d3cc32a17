"""Error sheets: drawn evenly, the same again, possible on their card, and in none of the reader's words."""

from collections import Counter
from collections.abc import Iterable
from pathlib import Path
from random import Random

import pytest

from seed_demo.cards.__main__ import newest_records
from tests.eval.sheets import FEWEST, LEAD, MOST, WORDS, Deck, Sheet, evenly, main, sheets

COUNT = 240
WORDED = ("hands", "errors", "scene", "extra", "privacy", "traps")
# Where something is, which hand it is on and what it is called have no other words.
MAY_BE_READ = {"colour", "doors", "years", "name", "vin", "port_place", "other_place"}


@pytest.fixture(scope="module")
def made() -> list[Sheet]:
    return sheets(newest_records(), COUNT, 7)


def spread(values: Iterable[object]) -> int:
    """How much oftener the commonest is than the rarest."""
    counts = Counter(values).values()
    return max(counts) - min(counts)


def test_all_is_drawn_evenly(made: list[Sheet]) -> None:
    assert [sheet.number for sheet in made] == list(range(1, COUNT + 1))
    assert {sheet.card.code for sheet in made} == set(newest_records())
    assert spread(sheet.card.code for sheet in made) <= 1
    assert spread(sheet.hand for sheet in made) <= 1
    assert set(Counter(len(sheet.say) for sheet in made)) == set(range(FEWEST, MOST + 1))
    assert spread(len(sheet.say) for sheet in made) <= 2
    assert {sheet.errors[0] for sheet in made} == set(WORDS["errors"])
    assert spread(sheet.errors[0] for sheet in made) <= 3


def test_the_shares_of_what_else_is_asked(made: list[Sheet]) -> None:
    assert sum(bool(sheet.scene) for sheet in made) == COUNT / 2
    assert sum(bool(sheet.privacy) for sheet in made) == COUNT / 8
    assert sum(bool(sheet.traps) for sheet in made) == COUNT / 4
    assert {sheet.privacy[0] for sheet in made if sheet.privacy} == set(WORDS["privacy"])
    assert {key for sheet in made for key in sheet.scene} == set(WORDS["scene"])


def test_a_sheet_asks_only_for_what_its_card_has(made: list[Sheet]) -> None:
    needs = {
        "year off": "made",
        "wrong body": "outline",
        "clock": LEAD,
        "sides swapped": LEAD,
        "name misheard": "it is called",
    }
    for sheet in made:
        labels = {line.label for line in sheet.card.lines}
        assert set(sheet.say) <= labels
        assert all(needs[error] in sheet.say for error in sheet.errors if error in needs)
        assert bool(sheet.vin) or "vin" not in sheet.extra


def test_mistakes_that_undo_each_other_never_meet(made: list[Sheet]) -> None:
    sides = {"sides swapped", "from the front, unsaid", "from the front, said", "clock"}
    assert all(len(sides & set(sheet.errors)) <= 1 for sheet in made)
    assert all(sheet.errors == ("none",) for sheet in made if "none" in sheet.errors)
    assert sum(len(sheet.errors) > 1 for sheet in made) > COUNT / 5
    for group in WORDS["apart"].values():
        assert all(len(set(group.split()) & set(sheet.scene)) <= 1 for sheet in made)


def test_swapped_sides_need_a_side(made: list[Sheet]) -> None:
    sided = [sheet for sheet in made if {"sides swapped", "from the front, said"} & set(sheet.errors)]
    assert sided
    for sheet in sided:
        words = " ".join(line.words for line in sheet.card.lines if line.label == LEAD).split()
        assert "left" in words or "right" in words


def test_traffic_fits_the_english(made: list[Sheet]) -> None:
    for sheet in made:
        assert (sheet.english == "second language") == (sheet.hand == "second_language")
        assert sheet.driving_side == WORDS["english"].get(sheet.english, sheet.driving_side)
    assert {sheet.driving_side for sheet in made if sheet.hand == "second_language"} == {"left", "right"}


def test_the_same_seed_gives_the_same_sheets(made: list[Sheet]) -> None:
    again = sheets(newest_records(), COUNT, 7)
    assert again == made
    assert list(map(str, again)) == list(map(str, made))
    assert sheets(newest_records(), COUNT, 8) != made


def test_no_key_of_the_vocabulary_is_printed(made: list[Sheet]) -> None:
    """What goes on is told in words only: its keys are what an annotator writes."""
    for sheet in made:
        head = str(sheet).split("[")[0]
        assert not any(
            f"_{part}" in head.replace("second_language", "") for part in ("front", "rear", "left", "right", "down")
        )
        assert all(WORDS["scene"][key] in head for key in sheet.scene)


def test_dealing_goes_round_and_leaves_out() -> None:
    deck = Deck(Random(1), ["a", "b", "c"])
    dealt = [deck.take(1, ("b",))[0] for _ in range(20)]
    assert spread(dealt) <= 1
    assert set(dealt) == {"a", "c"}
    assert len(set(deck.take(2))) == 2
    assert Counter(evenly(Random(2), ["a", "b"], 5)).most_common()[0][1] == 3


def test_one_hand_keeps_its_numbers(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--cards", "24", "--seed", "3", "--output", str(tmp_path / "all.txt")]) == 0
    assert main(["--cards", "24", "--seed", "3", "--hand", "radio"]) == 0
    printed = capsys.readouterr().out.strip().split("\n\n")
    assert len(printed) == 4
    assert all(sheet in (tmp_path / "all.txt").read_text(encoding="utf-8") for sheet in printed)
