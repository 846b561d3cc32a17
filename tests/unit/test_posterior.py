"""The posterior's promises, on small invented fleets."""

import math
from dataclasses import replace
from itertools import permutations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.domain.facts import stated
from catalog.resolve.cue import Cue, Doubt
from catalog.resolve.evidence import Evidence, evidence, gather
from catalog.resolve.explain import bars, cue_bits, prior_decides, why
from catalog.resolve.field import Field
from catalog.resolve.likelihood import terms_of
from catalog.resolve.posterior import Posterior, posterior
from catalog.resolve.together import together
from tests.unit.resolve_cases import (
    FLEET,
    LEFT_REAR,
    RIGHT_FRONT,
    SRC,
    body,
    cue,
    field,
    parameters_with,
    record,
    tables,
)


def weigh(given_field: Field, *cues: Cue) -> Posterior:
    return posterior(gather(cues, given_field.tables, given_field.parameters), given_field)


def one(given_field: Field, said: Cue) -> Evidence:
    found = evidence(said, given_field.tables, given_field.parameters)
    assert found is not None
    return found


PLACES = ["left|rear|", "right|front|", "driver|rear_quarter|", "|front_face|low", "passenger||"]
CUES = st.one_of(
    st.builds(
        cue, st.just("body"), st.sampled_from(terms_of("body")), denied=st.booleans(), doubt=st.sampled_from(Doubt)
    ),
    st.builds(cue, st.just("port_place"), st.sampled_from(PLACES), doubt=st.sampled_from(Doubt)),
    st.builds(cue, st.just("name"), st.sampled_from(["ostrel", "ostril", "kelvick", "zzyqua", "lantern"])),
    st.builds(cue, st.just("years"), st.sampled_from(["2019", "2021-2022", "1995", "2030"])),
    st.builds(cue, st.just("propulsion"), st.sampled_from(terms_of("propulsion"))),
    st.builds(cue, st.just("colour"), st.sampled_from(terms_of("colour"))),
)


@given(st.lists(CUES, max_size=8))
def test_mass_adds_up_and_nothing_is_certain(cues: list[Cue]) -> None:
    result = weigh(field(*FLEET), *cues)
    assert math.isclose(result.records.sum() + result.unlisted, 1.0, abs_tol=1e-9)
    assert (result.records > 0).all()
    assert max(result.records.max(), result.unlisted) < 1


@given(st.lists(CUES, max_size=4))
def test_neither_order_nor_repetition_matters(cues: list[Cue]) -> None:
    whole = field(*FLEET)
    first = weigh(whole, *cues)
    for order in list(permutations(cues))[:24]:
        again = weigh(whole, *order, *order)
        assert np.array_equal(first.records, again.records)
        assert first.unlisted == again.unlisted


def test_many_agreeing_cues_stay_below_certainty() -> None:
    whole = field(*FLEET)
    result = weigh(
        whole, cue("body", "pickup"), cue("port_place", "left|rear|"), cue("name", "ostrel"), cue("name", "packhorse")
    )
    assert int(result.order()[0]) == 0
    assert 0.8 < result.records[0] <= 1 - 0.01 * 0.12


def test_a_side_turned_round_turns_the_ranking_round() -> None:
    whole = field(*FLEET)
    left = weigh(whole, cue("body", "pickup"), cue("port_place", "left|rear|"))
    right = weigh(whole, cue("body", "pickup"), cue("port_place", "right|front|"))
    assert int(left.order()[0]) == 0
    assert int(right.order()[0]) == 1


def test_what_a_record_does_not_state_is_neutral() -> None:
    found = one(field(*FLEET), cue("body", "pickup"))
    assert found.ratio[5] == 1.0
    assert found.ratio[0] > 1 > found.ratio[4]


def test_no_single_cue_is_a_veto() -> None:
    ratio = one(field(*FLEET), cue("body", "motorcycle")).ratio
    assert ratio.min() > 0


def test_alternatives_add_up_and_denial_turns_round() -> None:
    whole = field(*FLEET)
    both = one(whole, cue("body", "pickup", "van")).ratio
    only = one(whole, cue("body", "pickup")).ratio
    assert both[3] > only[3]
    denied = one(whole, cue("body", "pickup", denied=True)).ratio
    assert denied[0] < 1 < denied[2]


def test_a_hedge_moves_towards_saying_nothing() -> None:
    whole = field(*FLEET)
    firm, hedged, guess = (one(whole, cue("body", "pickup", doubt=doubt)).ratio[0] for doubt in Doubt)
    assert firm > hedged > guess > 1


def test_paint_colour_says_nothing_unless_a_record_restricts_it() -> None:
    assert evidence(cue("colour", "white"), field(*FLEET).tables, field(*FLEET).parameters) is None
    restricted = record("Yarrow", "Post", facts={**body("van"), "looks.colours": stated(("yellow",), SRC)})
    whole = field(*FLEET, restricted)
    yellow, white = one(whole, cue("colour", "yellow")), one(whole, cue("colour", "white"))
    assert list(yellow.ratio[:6]) == [1.0] * 6
    assert yellow.ratio[6] > 1 > white.ratio[6]


def test_the_drivers_side_follows_each_records_steering() -> None:
    ratio = one(field(*FLEET), cue("port_place", "driver||")).ratio
    # Ostrel: wheel left, port left. Kelvik: wheel right, port right. Both are on the driver's side.
    assert ratio[0] == pytest.approx(ratio[1])
    passenger = one(field(*FLEET), cue("port_place", "passenger||")).ratio
    assert passenger[0] < 1 < ratio[0]


def test_side_and_end_belong_to_one_port() -> None:
    two = record("Aven", "Pair", facts=body("van"), ports=[LEFT_REAR, RIGHT_FRONT])
    single = record("Aven", "Mixed", facts=body("van"), ports=[LEFT_REAR])
    ratio = one(field(two, single), cue("port_place", "left|front_quarter|")).ratio
    assert ratio.max() / ratio.min() < 3  # left of one port and front of the other is no match


def test_nothing_to_plug_in_speaks_against_but_does_not_rule_out() -> None:
    ratio = one(field(*FLEET), cue("port_place", "left|rear|")).ratio
    assert 0 < ratio[4] < 1


def test_a_common_make_says_less_than_a_rare_one() -> None:
    ratio_common = one(field(*FLEET), cue("name", "mirrin")).ratio[2]
    ratio_rare = one(field(*FLEET), cue("name", "ostrel")).ratio[0]
    assert ratio_rare > ratio_common > 1


@given(st.sampled_from(["ostrel", "ostril", "mirin", "kelvick", "zzyqua", "quil", "embers"]))
def test_names_say_nothing_on_average(heard: str) -> None:
    whole = field(*FLEET)
    ratio = one(whole, cue("name", heard)).ratio
    assert float(np.dot(ratio, whole.tables.arrays["prior"])) == pytest.approx(1.0)


def test_nearer_names_weigh_more() -> None:
    whole = field(*FLEET)
    exact, one_off = (one(whole, cue("name", heard)).ratio[0] for heard in ("packhorse", "packhorze"))
    assert exact >= one_off > 1


def test_an_unheard_of_name_raises_not_in_this_catalogue() -> None:
    whole = field(*FLEET)
    plain = weigh(whole, cue("body", "pickup")).unlisted
    assert weigh(whole, cue("body", "pickup"), cue("name", "zzyqua")).unlisted > 2 * plain
    assert weigh(whole, cue("body", "pickup"), cue("name", "ostrel")).unlisted < plain


def test_bars_are_the_log_odds_between_any_two_vehicles() -> None:
    """Without the cap, bars (less the shared remainder) differ by exactly the posterior log odds."""
    whole = field(*FLEET, parameters=parameters_with(cap=0.0))
    result = weigh(whole, cue("body", "pickup"), cue("port_place", "left|rear|"), cue("years", "2021"))
    first, second = (sum(bar.bits for bar in bars(place, result, whole)[:-1]) for place in (0, 2))
    assert first - second == pytest.approx(math.log2(result.records[0] / result.records[2]), abs=1e-9)
    total = sum(bar.bits for bar in bars(0, result, whole))
    assert total == pytest.approx(math.log2(result.records[0] / ((1 - 0.12) / 6)), abs=1e-9)


def test_leaving_a_cue_out_takes_its_bits_away() -> None:
    whole = field(*FLEET, parameters=parameters_with(cap=0.0))
    said = cue("body", "pickup"), cue("port_place", "left|rear|")
    full, without = weigh(whole, *said), weigh(whole, said[0])
    place = next(entry for entry in full.evidence if entry.cue.attribute == "port_place")
    moved = math.log2(full.records[0] / full.records[1]) - math.log2(without.records[0] / without.records[1])
    assert moved == pytest.approx(cue_bits(place, 0, full, whole) - cue_bits(place, 1, full, whole), abs=1e-9)


def test_why_says_what_the_record_says_instead() -> None:
    whole = field(*FLEET)
    result = weigh(whole, cue("body", "pickup"), cue("port_place", "left|rear|"))
    assert why(0, result, whole) == "fits: body pickup, charge port left rear"
    assert "record says right front quarter" in why(1, result, whole)
    assert "record does not state: body pickup" in why(5, result, whole)


def test_popularity_weighs_half_and_is_owned_up_to() -> None:
    twins = [record("Ostrel", f"Twin{letter}", facts=body("pickup"), ports=[LEFT_REAR]) for letter in "ab"]
    whole = Field(tables(*twins, popularity=[9.0, 1.0]), parameters_with(), 0.12)
    assert list(whole.tables.arrays["prior"]) == pytest.approx([0.7, 0.3])
    result = weigh(whole, cue("body", "pickup"))
    assert prior_decides(0, 1, result, whole.tables)


def test_equal_vehicles_come_in_code_order() -> None:
    whole = field(*(record("Ostrel", "Same", facts=body("pickup")) for _ in range(5)))
    assert list(weigh(whole, cue("body", "pickup")).order()) == [0, 1, 2, 3, 4]


def test_an_empty_catalogue_holds_nothing() -> None:
    result = weigh(field(), cue("body", "pickup"))
    assert result.unlisted == 1.0
    assert len(result.records) == 0


def test_a_clear_vin_decides_and_a_strange_one_points_outside_the_catalogue() -> None:
    numbered = [
        replace(entry, identity=replace(entry.identity, vins=(pattern,)))
        for entry, pattern in zip(FLEET, ["DA1AA1AA?????????", "DB1AA1AA?????????", "DC1AA1AA?????????"], strict=False)
    ]
    whole = field(*numbered, *FLEET[3:])
    fitting = weigh(whole, cue("vin", "DB1AA1AA4N1000001"))
    assert fitting.records[1] == pytest.approx(0.99 + 0.01 * 0.88 / 6, abs=1e-6)  # all that the cap leaves
    against = [cue("body", "bus"), cue("port_place", "left|rear|"), cue("name", "ostrel"), cue("name", "packhorse")]
    contradicted = weigh(whole, cue("vin", "DB1AA1AA4N1000001"), *against)
    assert contradicted.records[1] == pytest.approx(fitting.records[1], abs=1e-3)
    part = weigh(whole, cue("vin", "DB1AA1??????????*"))
    assert 0.5 < part.records[1] < fitting.records[1]
    strange = weigh(whole, cue("vin", "DZ9ZZ9ZZ4N1000001"))
    assert strange.unlisted > 0.12 > strange.records[:3].max()


def test_what_no_record_here_has_points_outside_the_catalogue() -> None:
    whole = field(*FLEET)
    assert weigh(whole, cue("body", "motorcycle")).unlisted > 1.5 * 0.12
    assert weigh(whole, cue("body", "pickup")).unlisted == pytest.approx(0.12, abs=0.01)


@given(st.lists(CUES, max_size=8))
def test_products_are_the_sums_of_logarithms_they_stand_for(cues: list[Cue]) -> None:
    """The definition at the head of posterior.py, written out in logarithms (1e-12)."""
    whole = field(*FLEET)
    found = gather(tuple(cues), whole.tables, whole.parameters)
    prior, temperature = whole.tables.arrays["prior"], whole.parameters.temperature
    joint = together(found, whole)
    terms = found if joint is None else (*found, joint)
    logs = sum((np.log(entry.ratio) for entry in terms), np.zeros(6)) / temperature
    mixed = sum((np.log(entry.weights.mixed)[entry.index] for entry in terms), np.zeros(6))
    novel = sum(math.log(entry.weights.novel) for entry in found)
    listed = (1 - 0.12) * prior * np.exp(logs)
    unlisted = 0.12 * (float(np.dot(prior, np.exp(mixed))) * math.exp(novel)) ** (1 / temperature)
    total = listed.sum() + unlisted
    keep = 1 - whole.parameters.cap
    expected = keep * listed / total + whole.parameters.cap * (1 - 0.12) * prior
    result = posterior(found, whole)
    assert np.allclose(result.records, expected, rtol=1e-12, atol=0)
    assert result.unlisted == pytest.approx(keep * unlisted / total + whole.parameters.cap * 0.12, rel=1e-12)


def test_very_many_cues_neither_vanish_nor_overflow() -> None:
    whole = field(*FLEET)
    cues = [cue(a, v, denied=d) for a in ("body", "propulsion", "selector") for v in terms_of(a) for d in (True, False)]
    cues += [cue("name", f"ostre{letter}", doubt=doubt) for letter in "abcdefghij" for doubt in Doubt]
    result = weigh(whole, *cues)
    assert len(result.evidence) > 60
    assert math.isclose(result.records.sum() + result.unlisted, 1.0, abs_tol=1e-9)


@given(st.integers(0, 2**32 - 1), st.sampled_from([1, 7, 63, 640, 3000, 9001]), st.integers(1, 30), st.integers(1, 9))
def test_the_first_few_are_those_of_the_whole_order(seed: int, count: int, limit: int, levels: int) -> None:
    """Many ties, some closer than what counts, and catalogues larger than the blocks that are looked at."""
    draw = np.random.default_rng(seed)
    records = draw.integers(levels, size=count) / 100 + draw.integers(2, size=count) * 1e-13
    result = Posterior(records, 0.0, ())
    assert list(result.order(limit)) == list(result.order()[:limit])


def test_one_record_s_ratio_is_that_of_the_row() -> None:
    whole = field(*FLEET)
    for said in (cue("body", "pickup"), cue("name", "ostril", "kelvik"), cue("port_place", "driver|rear|")):
        found = one(whole, said)
        assert [found.at(place) for place in range(6)] == list(found.ratio)
        assert found.favours == bool((found.ratio > 1).any())
