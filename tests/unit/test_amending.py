"""Cues struck out, put right and said outright: named by what they say, so that the text may go on growing."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.resolve.amending import CORRECTED, GIVEN, READ, Amendments, Given, amend, key_of, sent_out
from catalog.resolve.cue import ANOTHER, Cue, Doubt, Reading, Span

VAN = Cue("body", ("van",), (Span(6, 9),), "van", viewpoint="front")
WHITE = Cue("colour", ("white",), (Span(0, 5),), "white", doubt=Doubt.HEDGED)
BUS = Cue("body", ("bus",), (Span(20, 23),), "bus", vehicle=ANOTHER)
SMOKE = Cue("scene", ("smoke",), (Span(11, 16),), "smoke")
READING = Reading((WHITE, VAN, SMOKE, BUS), (Span(17, 19),), (Span(30, 35),))


def said(attribute: str, *values: str, denied: bool = False) -> Cue:
    return Cue(attribute, values, (), " or ".join(values), denied)


def test_nothing_said_changes_nothing() -> None:
    made = amend(READING, Amendments())
    assert made.reading == READING
    assert [one.origin for one in made.taken] == [READ] * 4


def test_a_struck_cue_is_left_out_and_kept_apart() -> None:
    made = amend(READING, Amendments(struck=(VAN.key, SMOKE.key)))
    assert made.reading.cues == (WHITE, BUS)
    assert made.reading.scene == {}
    assert made.struck == (VAN, SMOKE)
    assert (made.reading.unread, made.reading.masked) == (READING.unread, READING.masked)


def test_a_corrected_cue_stands_in_the_place_of_the_one_that_was_read() -> None:
    made = amend(READING, Amendments(cues=(Given(said("body", "pickup"), VAN.key),)))
    new = made.taken[1]
    assert (new.origin, new.instead_of) == (CORRECTED, VAN)
    assert (new.cue.values, new.cue.spans, new.cue.heard, new.cue.viewpoint) == (("pickup",), VAN.spans, "van", "front")
    assert VAN not in made.reading.cues


def test_the_same_kind_of_cue_of_the_other_vehicle_is_another_cue() -> None:
    made = amend(READING, Amendments(struck=(("body", ("bus",), False, "A"),)))
    assert made.reading.cues == READING.cues
    assert made.idle == 1


def test_a_correction_of_what_is_not_read_any_more_changes_nothing_and_is_counted() -> None:
    gone = Given(said("body", "pickup"), ("body", ("lorry",), False, "A"))
    made = amend(READING, Amendments(struck=(("size", ("small",), False, "A"),), cues=(gone,)))
    assert made.reading.cues == READING.cues
    assert made.idle == 2


def test_a_cue_said_outright_is_added_after_the_text_or_takes_the_place_of_the_same_one() -> None:
    made = amend(READING, Amendments(cues=(Given(said("selector", "dial")), Given(said("colour", "white")))))
    assert made.taken[-1].cue == said("selector", "dial")
    white = made.taken[0]
    assert (white.origin, white.cue.doubt, white.cue.spans) == (GIVEN, Doubt.FIRM, WHITE.spans)
    assert sum(one.cue.attribute == "colour" for one in made.taken) == 1


def test_put_right_into_what_is_said_elsewhere_it_is_one_cue_with_both_places() -> None:
    pickup = Cue("body", ("pickup",), (Span(40, 46),), "pickup")
    made = amend(Reading((VAN, pickup), ()), Amendments(cues=(Given(said("body", "pickup"), VAN.key),)))
    assert [one.cue.spans for one in made.taken] == [(Span(6, 9), Span(40, 46))]


def test_the_last_of_two_corrections_counts() -> None:
    twice = (Given(said("body", "pickup"), VAN.key), Given(said("body", "lorry"), VAN.key))
    bodies = [cue.values for cue in amend(READING, Amendments(cues=twice)).reading.own if cue.attribute == "body"]
    assert bodies == [("lorry",)]


@pytest.mark.parametrize("value", ["WVVZZZ12ZXW000001", "*4421", "X9Q*"])
def test_a_vin_is_named_by_the_part_of_it_that_is_sent_out(value: str) -> None:
    vin = Cue("vin", (value,), (Span(0, 17),), value)
    made = amend(Reading((vin,), ()), Amendments(struck=(key_of(vin),)))
    assert made.reading.cues == ()
    assert "000001" not in str(sent_out(vin))
    assert "4421" not in str(key_of(vin))


CUES = st.lists(st.sampled_from([VAN, WHITE, BUS, SMOKE]), unique=True)
KEYS = st.lists(st.sampled_from([VAN.key, WHITE.key, BUS.key, SMOKE.key]), max_size=4)
GIVENS = st.lists(
    st.builds(
        Given,
        st.sampled_from([said("body", "pickup"), said("body", "van"), said("colour", "red", denied=True)]),
        st.one_of(st.none(), st.sampled_from([VAN.key, WHITE.key])),
    ),
    max_size=5,
)


@given(CUES, KEYS, GIVENS)
def test_whatever_is_said_no_key_counts_twice_and_nothing_struck_counts_as_read(
    cues: list[Cue], keys: list[tuple[str, tuple[str, ...], bool, str]], givens: list[Given]
) -> None:
    made = amend(Reading(tuple(cues), ()), Amendments(tuple(keys), tuple(givens)))
    counted = [one.cue.key for one in made.taken]
    assert len(counted) == len(set(counted))
    assert made.reading.cues == tuple(one.cue for one in made.taken)
    assert not [one for one in made.taken if one.origin == READ and one.cue.key in keys]
