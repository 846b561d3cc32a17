"""Names found again: levels, look-up against the plain comparison, and its speed."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rapidfuzz.distance import OSA

from catalog.resolve.deletions import DeletionTable
from catalog.resolve.distance import osa
from catalog.resolve.lexicon import LEVELS, Lexicon, Name
from catalog.resolve.sound import sound_fold

WORDS = st.text("abcde", min_size=1, max_size=11)


def lexicon(*names: str) -> Lexicon:
    return Lexicon(Name(name.replace(" ", ""), name, "model") for name in names)


@given(WORDS, WORDS)
def test_distance_is_the_librarys(a: str, b: str) -> None:
    assert osa(a, b, 3) == min(OSA.distance(a, b), 4)


@given(st.lists(st.text("abc", min_size=1, max_size=12), min_size=1, max_size=30, unique=True), st.integers(1, 2))
def test_table_finds_all_that_comparing_with_each_finds(words: list[str], limit: int) -> None:
    table = DeletionTable(words, 2)
    heard = words[0][::-1]
    expected = sorted((osa(heard, word, limit), word) for word in words if osa(heard, word, limit) <= limit)
    assert table.within(heard, limit) == expected


@pytest.mark.parametrize(
    ("heard", "level"),
    [
        ("tavrin", "exact"),
        ("tav rin", "exact"),
        ("tavryn", "sound"),
        ("tavrim", "osa1"),
        ("tarvin", "osa1"),
        ("tavron s", "osa2"),
        ("brockwell", "other"),
    ],
)
def test_best_level(heard: str, level: str) -> None:
    found = lexicon("tavrin", "osk").near(heard)
    assert (found[0].level if found else "other") == level
    assert lexicon("tavrin", "osk").levels(heard).get("tavrin", "other") == level


def test_near_names_all_at_the_best_level() -> None:
    found = lexicon("korran", "koran", "dorran").near("korran")
    assert [match.name.shown for match in found] == ["korran"]
    found = lexicon("korran", "dorran").near("borran")
    assert [match.name.shown for match in found] == ["dorran", "korran"]
    assert {match.level for match in found} == {"osa1"}


def test_short_names_take_one_edit_and_the_shortest_none() -> None:
    assert lexicon("jova").near("jva")[0].level == "osa1"
    assert lexicon("e2").near("e3") == ()
    assert lexicon("kelda").near("kalra") == ()


def test_levels_are_in_order_of_fit() -> None:
    assert LEVELS == ("exact", "sound", "osa1", "osa2", "other")


@pytest.mark.parametrize(
    ("one", "other", "alike"),
    [
        ("kestrik", "castrik", True),
        ("fenwyck", "phenwick", True),
        ("quillan", "kwillan", True),
        ("brockmoor", "brokmore", True),
        ("zeno", "seno", True),
        ("marnel", "barnel", False),
        ("tovo", "tovra", False),
    ],
)
def test_sounds_that_fold_alike_or_do_not(one: str, other: str, alike: bool) -> None:
    assert (sound_fold(one) == sound_fold(other)) is alike


def test_a_lost_letter_finds_its_name_among_ten_thousand() -> None:
    chance = random.Random(7)
    syllables = [a + b for a in "bdfgklmnprstvz" for b in ("a", "e", "i", "o", "u", "an", "er", "ol")]
    names = {"".join(chance.choice(syllables) for _ in range(chance.randint(2, 4))) for _ in range(14000)}
    listed = sorted(names)[:10000]
    assert len(listed) == 10000
    found = lexicon(*listed)
    for name in chance.sample([name for name in listed if len(name) >= 5], 100):
        assert name in found.levels(name[:2] + name[3:])
