"""The briefs of situations that were read aloud: what is said now is what was read."""

import json

import pytest

from catalog.plan.brief import compose
from catalog.plan.brief.wording import brief_words
from catalog.plan.caller import in_its_way, shipped_caller
from catalog.plan.claims import claims
from tests.brief_checks import BRACKETS
from tests.brief_situations import CORRECTIONS, FOLDER, SITUATIONS, SLIPS, Read

READ: tuple[Read, ...] = (*SITUATIONS, *CORRECTIONS, *SLIPS)


@pytest.mark.parametrize("read", READ, ids=lambda read: read.name)
def test_what_is_said_is_what_was_read(read: Read) -> None:
    assert read.text() == (FOLDER / f"{read.name}.txt").read_text("utf-8")


def test_there_are_no_others() -> None:
    assert sorted(path.stem for path in FOLDER.glob("*.txt")) == sorted(read.name for read in READ)
    assert len(SITUATIONS) >= 16


@pytest.mark.parametrize("read", READ, ids=lambda read: read.name)
def test_nothing_is_claimed_in_them(read: Read) -> None:
    assert not [claim for line in read.text().splitlines() for claim in claims(line)]


def test_the_wording_keeps_to_the_words_of_the_screens() -> None:
    text = json.dumps([brief_words(), shipped_caller()], ensure_ascii=False).lower()
    for word in BRACKETS:
        assert f" {word}" not in text.replace('"cue', ""), word


def test_no_line_puts_the_caller_in_its_way() -> None:
    assert not [word for row in shipped_caller()["lines"] for word in in_its_way(row["say"])]


def test_the_full_text_follows_the_phases_and_names_its_sources() -> None:
    for told in SITUATIONS:
        asked = told.asked()
        brief = compose(asked)
        phases = [key for key, _ in asked.plan.plan.phases]
        keys = [section.key for section in brief.full]
        assert [key for key in keys if key in phases] == [key for key in phases if key in keys]
        steps = [line for section in brief.full for line in section.lines if line.number]
        assert [line.number for line in steps] == list(range(1, len(asked.plan.plan.steps) + 1))
        assert sum(line.lead == "Source" for section in brief.full for line in section.lines) == len(steps)
