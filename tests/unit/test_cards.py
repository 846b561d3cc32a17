"""Scene cards: all that is stated, in none of the vocabulary's words.

What people say is another matter: the reader learns it, so its sayings are not held against a card.
"""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest

from catalog.domain import vocabulary as v
from catalog.domain.connectors import CONNECTOR
from catalog.domain.documents import record_from_document
from catalog.domain.facts import State
from catalog.domain.places import Place
from catalog.domain.record import Record
from catalog.domain.terms import Vocabulary
from seed_demo.cards import Card, scene_card
from seed_demo.cards.__main__ import main, newest_records
from seed_demo.cards.wording import table
from tests.sample import REMOVE, absent, place, said, sample
from tests.unit.card_words import phrases_of, plain

GROUPS: tuple[tuple[str, Vocabulary], ...] = (
    ("body", v.BODY), ("bulk", v.SIZE), ("front_face", v.FRONT_FACE), ("lamps", v.LAMPS), ("roof", v.ROOF),
    ("handles", v.HANDLES), ("propulsion", v.PROPULSION), ("fuel", v.FUEL), ("connector", CONNECTOR),
    ("current", v.CURRENT), ("port_cover", v.PORT_COVER), ("door_mechanism", v.DOOR_MECHANISM),
    ("selector", v.SELECTOR), ("wakes_again", v.REMOTE_WAKE), ("ready_shown", v.READY_SHOWN),
)  # fmt: skip


@pytest.fixture(scope="module")
def records() -> Mapping[str, Record]:
    return newest_records()


def words_on(card: Card, label: str) -> str:
    """The words of a card's lines about one thing."""
    return " | ".join(line.words for line in card.lines if line.label == label)


def card_of(**changes: Any) -> Card:
    return scene_card("SAMPLE", record_from_document(sample(changes)))


@pytest.mark.parametrize(("group", "vocabulary"), GROUPS, ids=lambda value: value if isinstance(value, str) else "")
def test_every_value_can_be_put_in_several_ways(group: str, vocabulary: Vocabulary) -> None:
    known = table()[group]
    assert set(known) == {term.key for term in vocabulary.terms}
    assert all(len(set(ways)) >= 2 for ways in known.values())


def test_no_value_shares_its_words_with_another() -> None:
    for group, _ in GROUPS:
        ways = [way for value in table()[group].values() for way in value]
        assert len(ways) == len(set(ways)), group


def test_no_label_is_used() -> None:
    read_ones = [vocabulary for group, vocabulary in GROUPS if group not in ("current", "wakes_again", "ready_shown")]
    labels = {plain(word) for found in read_ones for term in found.terms for word in (term.label, term.key)}
    assert not [(way, used) for way in ways() for used in phrases_of(way) & labels]


def ways() -> Iterator[str]:
    """Every way of putting something, paint colours apart."""
    for group, values in table().items():
        if group != "paint":
            for value in values.values() if isinstance(values, dict) else (values,):
                yield from value


def test_a_card_is_the_same_again_and_seeds_differ(records: Mapping[str, Record]) -> None:
    code, record = next(iter(records.items()))
    assert scene_card(code, record, 1) == scene_card(code, record, 1)
    assert len({str(scene_card(code, record, seed)) for seed in range(8)}) == 8


def test_every_record_has_a_card_with_what_it_states(records: Mapping[str, Record]) -> None:
    for code, record in records.items():
        labels = {line.label for line in scene_card(code, record).lines}
        assert {"it is called", "made", "who steers", "paint", "what one hears"} <= labels
        assert ("where its lead goes" in labels) == bool(record.items.get("ports"))
        for label, path in (("outline", "looks.body"), ("choosing ahead or astern", "motion.selector")):
            assert (label in labels) == (record.fact(path).state is not State.NOT_STATED)


def test_sides_are_the_vehicles_own(records: Mapping[str, Record]) -> None:
    for code, record in records.items():
        places = [
            value for item in record.items.get("ports", ()) for value in record.fact(f"ports[{item}].place").values()
        ]
        found = words_on(scene_card(code, record), "where its lead goes")
        for side in ("left", "right"):
            assert (side in plain(found).split()) == any(isinstance(at, Place) and at.side == side for at in places), (
                code
            )


def test_what_is_not_stated_is_left_out() -> None:
    labels = {line.label for line in card_of().lines}
    assert labels.isdisjoint({"coming towards one", "what shines ahead", "waste air", "wheels", "letters on it"})
    assert not words_on(card_of(**{"looks.body": REMOVE}), "outline")


def test_the_states_of_a_fact_do_not_look_alike() -> None:
    def waste_air(fact: Any) -> str:
        return words_on(card_of(**{"looks.tailpipe": fact}), "waste air")

    low = place("right", "rear_face", "low")
    stated, none, some = waste_air(said(low)), waste_air(absent()), waste_air(said(low, fit="some"))
    assert "right" in stated
    assert none in table()["tailpipe"]["absent"]
    assert "right" in some
    marks = [any(way in words for way in table()["state"]["some"]) for words in (stated, none, some)]
    assert marks == [False, False, True]
    sides = words_on(
        card_of(**{"motion.selector": {"disputed": [said("dial"), said("lever")]}}), "choosing ahead or astern"
    )
    assert all(any(way in sides for way in table()["selector"][value]) for value in ("dial", "lever"))


def test_heights_are_measured_on_the_onlooker() -> None:
    """The same zone is at the belt of a car and above one's head on a tall bus."""

    def lead(height: int, level: str) -> str:
        at = {"looks.height": said(height), "ports.0.place": said(place("left", "rear_quarter", level))}
        return words_on(card_of(**at), "where its lead goes")

    def named(text: str) -> set[str]:
        return {name for name, options in table()["height"].items() if any(way in text for way in options)}

    assert named(lead(1500, "mid")) == {"hip"}
    assert named(lead(1500, "low")) == {"knee"}
    assert named(lead(3400, "high")) == {"overhead"}
    assert named(lead(1500, "roof")) == {"top"}


def test_a_restricted_paint_is_kept() -> None:
    assert "pink or tan" in words_on(card_of(**{"looks.colours": said(["pink", "tan"])}), "paint")


def test_printed_and_written(records: Mapping[str, Record], tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code = next(iter(records))
    assert main([code, "--seed", "3"]) == 0
    assert capsys.readouterr().out == f"{scene_card(code, records[code], 3)}\n"
    assert main(["--all", "--output", str(tmp_path / "cards.txt")]) == 0
    assert all(f"[{code}]" in (tmp_path / "cards.txt").read_text(encoding="utf-8") for code in records)


@pytest.mark.parametrize("arguments", [[], ["ZZZ-ZZZ"], ["--all", "ZZZ-ZZZ"]])
def test_what_to_print_must_be_said(arguments: list[str]) -> None:
    with pytest.raises(SystemExit):
        main(arguments)
