"""Facts while the vehicle is uncertain: nothing agrees that should not, and the most protective value is there."""

import math
from collections.abc import Sequence
from itertools import permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.domain.facts import Fact, State, Value, stated
from catalog.domain.places import Place
from catalog.domain.protective import protective
from catalog.domain.record import Record
from catalog.domain.spec.nodes import Order
from catalog.domain.wording import value_words
from catalog.resolve.brief_facts import FACTS
from catalog.resolve.evidence import gather
from catalog.resolve.fact_chances import LISTED, FactChance, Verdict, fact_chances
from catalog.resolve.fact_values import elements_of
from catalog.resolve.fact_words import element_words
from catalog.resolve.posterior import Posterior, posterior
from catalog.resolve.tables import Tables
from tests.bench.plain_facts import plain_facts
from tests.unit.fact_cases import drawn_record
from tests.unit.resolve_cases import FLEET, LEFT_REAR, RIGHT_FRONT, SRC, cue, field, record, tables

WAIT, REFUSES, PORT = "restraints.wait", "motion.coupled.refuses_drive", "ports.place"


def weighed(found: Tables, *shares: float) -> dict[str, FactChance]:
    """Facts of a posterior with these probabilities of the records, the rest unlisted."""
    result = Posterior(np.array(shares), 1 - sum(shares), ())
    return {chance.fact.key: chance for chance in fact_chances(result, found)}


def of(path: str, *values: Value | Fact | None) -> Tables:
    """Records that state one fact each, or nothing."""
    facts = [value if isinstance(value, Fact) else stated(value, SRC) for value in values if value is not None]
    rest = iter(facts)
    return tables(*(record(facts={} if value is None else {path: next(rest)}) for value in values))


@st.composite
def fields(draw: st.DrawFn) -> tuple[list[Record], Tables, list[float]]:
    """A few drawn records and a posterior over them; often nearly certain of one."""
    drawn = [drawn_record(number) for number in draw(st.lists(st.integers(0, 10**6), min_size=1, max_size=4))]
    if draw(st.booleans()):
        drawn.append(drawn[0])
    weights = [10.0 ** draw(st.integers(-6, 0)) for _ in drawn]
    unlisted = 10.0 ** draw(st.integers(-4, 0))
    total = sum(weights) + unlisted
    return drawn, tables(*drawn), [weight / total for weight in weights]


@given(fields())
def test_shares_with_silence_and_unlisted_add_up(drawn: tuple[list[Record], Tables, list[float]]) -> None:
    _, found, shares = drawn
    for chance in weighed(found, *shares).values():
        assert math.isclose(chance.shares.sum() + chance.unlisted, 1.0, abs_tol=1e-9)
        assert math.isclose(chance.stated + chance.not_stated + chance.unlisted, 1.0, abs_tol=1e-9)


@given(fields())
def test_same_on_all_never_hides_a_record_of_some_mass(drawn: tuple[list[Record], Tables, list[float]]) -> None:
    members, found, shares = drawn
    for chance in weighed(found, *shares).values():
        said = [elements_of(chance.fact, member) for member in members]
        if chance.verdict is Verdict.SAME:
            assert chance.unlisted <= 0.05
            heavy = [value for value, share in zip(said, shares, strict=True) if share > 0.05]
            assert len(set(heavy)) == 1
            assert heavy[0] is not None
        if chance.verdict is Verdict.AGREE:
            stated_ = sum(share for value, share in zip(said, shares, strict=True) if value is not None)
            most = max(
                sum(share for value, share in zip(said, shares, strict=True) if value == wanted)
                for wanted in said
                if wanted
            )
            assert most >= 0.95 * stated_ - 1e-9
            assert stated_ > 0.5 * sum(shares) - 1e-9


@given(fields())
def test_the_most_protective_value_is_always_listed(drawn: tuple[list[Record], Tables, list[float]]) -> None:
    """Numbers and words against `catalog.domain.protective`, which knows nothing of chances."""
    members, found, shares = drawn
    for chance in weighed(found, *shares).values():
        fact, attr = chance.fact, chance.fact.attrs[0]
        if fact.inside or chance.verdict is Verdict.SAME or attr.order in (Order.LIST_ALL, Order.NONE):
            continue
        listed = {word for value in chance.values if value.protective for word in _parts(value.words)}
        if attr.order is Order.ONE:
            assert attr.best is not None
            wanted: tuple[Value, ...] = (attr.best,)
        else:
            wanted = protective(attr, [member.fact(fact.keys[0]) for member in members]).values
        for value in wanted:
            for word in value if isinstance(value, tuple) else (value,):
                shown = value_words(attr, (str(word),) if isinstance(value, tuple) else value)
                assert shown in listed or (shown == "fitted" and "may be fitted" in listed), (fact.key, shown, listed)


def _parts(words: str) -> list[str]:
    """A dispute's sides one by one."""
    return words.removeprefix("guides disagree: ").split(" or ")


@given(fields())
def test_every_place_of_more_than_one_in_a_hundred_is_listed(drawn: tuple[list[Record], Tables, list[float]]) -> None:
    members, found, shares = drawn
    for chance in weighed(found, *shares).values():
        if chance.verdict is Verdict.SAME:
            continue
        listed = {value.words: value.probability for value in chance.values}
        everything = {element for member in members for element in elements_of(chance.fact, member) or ()}
        for element in everything:
            mass = sum(
                share
                for member, share in zip(members, shares, strict=True)
                if element in (elements_of(chance.fact, member) or ())
            )
            if mass > LISTED + 1e-9:
                assert element_words(chance.fact, element) in listed


@settings(max_examples=40)
@given(fields())
def test_values_are_those_of_the_plain_way(drawn: tuple[list[Record], Tables, list[float]]) -> None:
    """Against each fact summed by itself: the same values, as likely to 1e-12, equally likely ones by their words."""
    _, found, shares = drawn
    plain = plain_facts(Posterior(np.array(shares), 1 - sum(shares), ()), found)
    for chance, expected in zip(weighed(found, *shares).values(), plain, strict=True):
        if chance.verdict is not Verdict.SAME:
            listed = [value for value in chance.values if not value.assumed]
            assert sorted(value.words for value in listed) == sorted(words for words, _ in expected)
            assert listed == sorted(listed, key=lambda value: (-value.probability, value.words))
            likely = {words: sure.probability for words, sure in expected}
            assert all(math.isclose(value.probability, likely[value.words], abs_tol=1e-12) for value in listed)


def test_one_value_on_nearly_all_is_the_same() -> None:
    found = weighed(of(WAIT, 60, 60, 300), 0.5, 0.46, 0.01)[WAIT]
    assert found.verdict is Verdict.SAME
    assert [value.words for value in found.values] == ["60 s"]
    assert math.isclose(found.lower_bound, 0.96)


def test_unlisted_counts_against_the_same_but_not_against_agreement() -> None:
    found = weighed(of(WAIT, 60, 60), 0.5, 0.38)[WAIT]
    assert found.verdict is Verdict.AGREE
    assert math.isclose(found.unlisted, 0.12)
    assert found.agreement == 1.0


def test_silence_counts_against_the_same_and_is_no_agreement_when_most_are_silent() -> None:
    assert weighed(of(WAIT, 60, None), 0.6, 0.38)[WAIT].verdict is Verdict.AGREE
    assert weighed(of(WAIT, 60, None), 0.3, 0.68)[WAIT].verdict is Verdict.DIFFERS
    assert weighed(of(WAIT, 60, None), 0.02, 0.96)[WAIT].verdict is Verdict.NOT_STATED
    nothing = weighed(of(WAIT, None, None), 0.5, 0.48)[WAIT]
    assert nothing.verdict is Verdict.NOT_STATED
    assert nothing.words == "not stated"
    assert nothing.values == ()
    assert math.isclose(nothing.not_stated, 0.98)


def test_a_dispute_is_no_agreement() -> None:
    sides = Fact(State.DISPUTED, sides=(stated(60, SRC), stated(300, SRC)))
    found = weighed(of(WAIT, sides), 0.99)[WAIT]
    assert found.verdict is Verdict.DIFFERS
    assert [value.words for value in found.values] == ["guides disagree: 60 s or 5 min"]


def test_the_protective_value_is_listed_however_unlikely() -> None:
    found = weighed(of(WAIT, 60, 90, 1200), 0.6, 0.3999, 1e-7)[WAIT]
    assert found.values[-1].words == "20 min"
    assert found.values[-1].protective
    assert found.values[-1].probability == pytest.approx(1e-7)


def test_what_nobody_states_is_assumed_from_silence() -> None:
    found = weighed(of(REFUSES, True, True), 0.5, 0.38)[REFUSES]
    assert found.verdict is Verdict.AGREE
    assert [(value.words, value.assumed) for value in found.values] == [("yes", False), ("no", True)]
    assert found.values[-1].probability == 0.0


def test_an_unlikely_value_without_protection_is_left_out_and_a_place_is_not() -> None:
    fleet = tables(
        record(ports=[LEFT_REAR]), record(ports=[RIGHT_FRONT]), record(ports=[Place("left", "middle", "low")])
    )
    found = weighed(fleet, 0.8, 0.0101, 0.0099)[PORT]
    assert [value.words for value in found.values] == [
        "left rear quarter, mid height",
        "right front quarter, mid height",
    ]


def test_each_of_two_ports_has_its_own_chance() -> None:
    found = weighed(tables(record(ports=[LEFT_REAR, RIGHT_FRONT]), record(ports=[LEFT_REAR])), 0.5, 0.4)[PORT]
    assert {value.words: round(value.probability, 6) for value in found.values} == {
        "left rear quarter, mid height": 0.9,
        "right front quarter, mid height": 0.5,
    }


def test_the_order_of_cues_does_not_matter() -> None:
    given_field = field(*FLEET)
    said = (cue("body", "pickup"), cue("port_place", "left|rear|"), cue("name", "mirrin"))
    made = []
    for order in permutations(said):
        result = posterior(gather(order, given_field.tables, given_field.parameters), given_field)
        made.append([(c.verdict, c.values, c.not_stated) for c in fact_chances(result, given_field.tables)])
    assert all(each == made[0] for each in made)


def test_an_empty_catalogue_has_no_facts() -> None:
    assert fact_chances(Posterior(np.zeros(0), 1.0, ()), tables()) == ()


def test_batches_give_what_one_pass_per_fact_gives() -> None:
    """The joined columns against a plain sum, on more records than one batch holds."""
    rng = np.random.default_rng(5)
    waits: Sequence[int] = [int(number) for number in rng.integers(0, 1200, 1500)]
    places = [Place("left", "middle", "low"), LEFT_REAR, RIGHT_FRONT]
    fleet = [
        record(
            facts={WAIT: stated(wait, SRC), "motion.key_distance": stated(1000 + wait % 37, SRC)},
            ports=[places[wait % 3]],
        )
        for wait in waits
    ]
    found = tables(*fleet)
    shares = rng.dirichlet(np.ones(len(fleet))) * 0.9
    chances = weighed(found, *shares)
    for number, fact in enumerate(FACTS):
        column = np.asarray(found.arrays["facts"][number])
        plain = [shares[column == value].sum() for value in range(len(chances[fact.key].shares))]
        assert np.allclose(chances[fact.key].shares, plain, atol=1e-12)
