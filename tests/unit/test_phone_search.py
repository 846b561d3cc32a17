"""The phone's search: words, taps and answers are one question, and what it says adds up."""

from functools import cache

import pytest

from catalog.device.phone.asked import asked_from
from catalog.device.phone.search import SearchView, answer
from catalog.resolve.field import Field
from catalog.resolve.parameters import shipped
from catalog.resolve.rows import Entry, row_of
from catalog.resolve.tables import tables_of
from tests.plan_cases import demo_records


@cache
def field() -> Field:
    return Field(tables_of(row_of(Entry(code, record)) for code, record in demo_records().items()), shipped(), 0.12)


def view(text: str = "", **page: object) -> SearchView:
    return answer(field(), asked_from({"text": text, **page}))


def test_a_tap_weighs_as_the_same_words_do() -> None:
    said = view("pickup, port left rear as you sit in it facing forward")
    tapped = view(
        taps=[
            {"attribute": "body", "values": ["pickup"]},
            {"attribute": "port_place", "values": ["left|rear|"]},
        ]
    )
    assert [chip.key for chip in tapped.chips] == [chip.key for chip in said.chips]
    assert all(chip.given and not chip.spans for chip in tapped.chips)
    assert (tapped.rows, tapped.unlisted, tapped.others) == (said.rows, said.unlisted, said.others)


@pytest.mark.parametrize(
    "text", ["white pickup, port left rear", "van", "Quellorne", "a motorbike", "bus, maybe smoke"]
)
def test_the_rows_share_one_scale_of_ten_that_never_closes(text: str) -> None:
    found = view(text)
    rows = [row.boxes for row in found.rows] + [found.unlisted.boxes] + ([found.others.boxes] if found.others else [])
    at = 0
    for boxes in rows:
        assert boxes.start == at
        at += boxes.length
    assert at <= 19
    assert found.unlisted.title == "Not in this catalogue"


def test_pieces_joined_give_the_text_back_and_chips_lie_in_it() -> None:
    text = "maybe a white pickup, port left rear, grzblfx"
    found = view(text)
    assert "".join(piece.text for piece in found.pieces) == text
    assert {text[span.start : span.end] for chip in found.chips for span in chip.spans} == {
        "white", "pickup", "port left rear",
    }  # fmt: skip
    assert "grzblfx" in found.unread


def test_nothing_said_names_no_vehicle() -> None:
    found = view()
    assert found.rows == ()
    assert found.others is None
    assert found.message.startswith("Nothing said yet")
    assert found.any_title == "Steps for any vehicle"


def test_fire_said_is_a_danger_until_it_is_denied() -> None:
    assert view("van on fire").danger.startswith("Fire or smoke")
    assert view("van on fire").scene["fire"] == "yes"
    assert view("van on fire", scene={"fire": "no"}).danger == ""


def test_what_is_struck_out_does_not_count_and_is_shown() -> None:
    found = view("pickup", struck=[["body", ["pickup"], False, "A"]])
    assert [chip.value for chip in found.struck] == ["pickup"]
    assert found.rows == ()


def test_the_question_is_left_out_where_it_is_not_asked_for() -> None:
    assert view("white pickup", questions=False).ask is None
    asked = view("white pickup").ask
    assert asked is not None
    assert asked.answers[-1].id == "cannot_tell"


def test_it_says_what_the_probabilities_rest_on() -> None:
    assert view("van").state == shipped().origin
    assert view("van").rests == shipped().calibration
