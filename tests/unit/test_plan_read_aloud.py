"""The steps of situations that were read aloud: what is said now is what was read."""

import json

import pytest

from catalog.plan.claims import claims
from catalog.plan.table import shipped_table
from tests.plan_situations import FOLDER, SITUATIONS, Situation


@pytest.mark.parametrize("situation", SITUATIONS, ids=lambda situation: situation.name)
def test_the_steps_are_those_that_were_read(situation: Situation) -> None:
    assert situation.text() == (FOLDER / f"{situation.name}.txt").read_text("utf-8")


def test_there_are_no_others() -> None:
    assert sorted(path.stem for path in FOLDER.glob("*.txt")) == sorted(each.name for each in SITUATIONS)
    assert len(SITUATIONS) >= 16


@pytest.mark.parametrize("situation", SITUATIONS, ids=lambda situation: situation.name)
def test_nothing_is_claimed_in_them(situation: Situation) -> None:
    assert not [claim for line in situation.text().splitlines() for claim in claims(line)]


def test_the_wording_keeps_to_the_words_of_the_screens() -> None:
    text = json.dumps(shipped_table().words, ensure_ascii=False).lower()
    for word in ("inlet", "isolat", "handshake", "discharge", "unlisted", "pinned", "withdrawn", "mated"):
        assert word not in text
