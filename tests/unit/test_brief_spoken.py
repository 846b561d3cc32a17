"""How a text is said, word by word."""

import pytest

from catalog.domain.places import Place, words
from catalog.plan.brief.places import place_said, spoken_place
from catalog.plan.brief.spoken import number_words, seconds_of, spoken, spoken_words


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Data 14.", "Data fourteen"),
        ("Data 21", "Data twenty one"),
        ("Data 123", "Data one two three"),
        ("12 V gone", "twelve volt gone"),
        ("wait 2 min 30 s", "wait two minutes thirty seconds"),
        ("150 s", "one hundred and fifty seconds"),
        ("1,500 V", "one thousand five hundred volt"),
        ("2.5 m", "two point five metres"),
        ("48 kWh", "forty eight kilowatt hours"),
        ("2017 to 2021", "twenty seventeen to twenty twenty one"),
        ("CCS2 and J3400", "C C S two and J three four zero zero"),
        ("record 76R-MJZ", "record seventy six R M J Z"),
        ("the VIN", "the VIN"),
        ("DEMO. CORRECTION.", "DEMO CORRECTION"),
        ("read-back", "read back"),
        ("vehicle's left", "vehicle's left"),
        ("A or B", "A or B"),
        ("left & right + roof", "left and right plus roof"),
        ("E8 05", "E eight five"),
        ("12T 007", "twelve T zero zero seven"),
        ("", ""),
    ],
)  # fmt: skip
def test_as_it_is_said(text: str, said: str) -> None:
    assert " ".join(spoken(text)) == said


def test_a_word_takes_four_tenths_of_a_second() -> None:
    assert spoken_words("one two three") == 3
    assert seconds_of(50) == 20.0


def test_whole_numbers_in_full() -> None:
    assert " ".join(number_words(2_000_101)) == "two million one hundred and one"
    assert " ".join(number_words(1_000_001)) == "one million and one"


def test_a_place_says_whose_side_it_is_and_the_level_where_no_landmark_does() -> None:
    assert place_said(Place("left", "rear_quarter", "mid", "in_boot")) == "vehicle's left rear, in boot"
    assert place_said(Place("right", "front_face", "low")) == "vehicle's right front face, low"
    assert place_said(Place("centre", "middle", "under")) == "middle of the vehicle, underneath"


def test_a_place_in_full_words_is_known_again_and_other_text_left_as_it_is() -> None:
    place = Place("right", "front_quarter", "mid", "under_bonnet")
    assert spoken_place(words(place)) == place_said(place)
    assert spoken_place("2 min") == "2 min"
