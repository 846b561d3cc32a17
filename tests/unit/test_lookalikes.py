"""Look-alikes, what a crew must do differently on them, and the safe sights that tell them apart."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.domain.facts import NOT_STATED, Fact, State, stated
from catalog.domain.places import Place
from catalog.domain.record import Record
from catalog.resolve.cue import RANKING
from catalog.resolve.field import Field
from catalog.resolve.groups import Grouped, grouped
from catalog.resolve.labels import ATTRIBUTE_LABEL
from catalog.resolve.lookalikes import ALIKE, NO_FURTHER, differences, lookalikes, looks_apart, looks_between, tellings
from catalog.resolve.posterior import Posterior
from catalog.resolve.said import divergence, said_of
from catalog.resolve.sights import LOOKS, SAFE_FOR, SIGHTS, Observer, Stance
from tests.unit.fact_cases import drawn_record
from tests.unit.resolve_cases import LEFT_REAR, RIGHT_FRONT, SRC, field, record

LOOK = {
    "looks.body": stated("pickup", SRC),
    "looks.doors": stated(4, SRC),
    "looks.front_lamps": stated("strip", SRC),
    "looks.front_face": stated("closed_panel", SRC),
}
OFF: dict[str, Any] = {"motion.switch_off": stated("Hold OFF", SRC)}
CUT_LEFT: dict[str, Any] = {"energy.pyro_fuse.fitted": stated(True, SRC), "restraints.wait": stated(60, SRC)}
CUT_RIGHT: dict[str, Any] = {
    "energy.pyro_fuse.fitted": Fact(State.NOT_FITTED, src=(SRC,)),
    "restraints.wait": stated(300, SRC),
}


def looking(name: str = "Packhorse", *, ports: tuple[Place, ...] = (), **changed: Any) -> Record:
    """The same pickup, some of its facts changed; NOT_STATED takes one away."""
    facts = {**LOOK, **OFF, **{key.replace("__", "."): value for key, value in changed.items()}}
    return record(
        "Ostrel", name, facts={path: fact for path, fact in facts.items() if fact is not NOT_STATED}, ports=ports
    )


def weighed(given_field: Field, *shares: float) -> Grouped:
    return grouped(Posterior(np.array(shares), 1 - sum(shares), ()), given_field)


def test_a_record_is_no_distance_from_itself_and_distance_has_no_direction() -> None:
    fleet = field(*(drawn_record(number) for number in range(8)), looking(), looking(looks__body=stated("van", SRC)))
    apart = np.array([looks_apart(place, fleet) for place in range(fleet.tables.size)])
    assert np.allclose(np.diag(apart), 0)
    assert np.allclose(apart, apart.T)
    assert (apart >= 0).all()
    some = np.array([8, 1, 3])
    assert np.allclose(looks_between(some, fleet), apart[np.ix_(some, some)])


@pytest.mark.parametrize("attribute", [sight.attribute for sight in SIGHTS if sight.attribute != "name"])
def test_what_would_be_said_adds_up(attribute: str) -> None:
    fleet = field(looking(), record(ports=[LEFT_REAR, RIGHT_FRONT]), record(propulsion="combustion"))
    said = said_of(attribute, fleet.tables, fleet.parameters)
    assert np.allclose(said.rows.sum(axis=1), 1)
    assert (divergence(attribute, 0, fleet.tables, fleet.parameters) <= 1 + 1e-12).all()


def test_silence_is_spoken_of_as_vehicles_at_large() -> None:
    fleet = field(looking(), looking(), looking(looks__body=stated("van", SRC)), looking(looks__body=NOT_STATED))
    said = said_of("body", fleet.tables, fleet.parameters)
    index = fleet.tables.arrays["sig_body"]
    usual = (2 * said.rows[index[0]] + said.rows[index[2]]) / 3
    assert np.allclose(said.rows[index[3]], usual)
    assert not said.stated[index[3]]


def test_nearest_first_and_nothing_that_looks_otherwise() -> None:
    fleet = field(
        looking("A"),
        looking("B", looks__front_face=stated("lower_intake", SRC)),
        looking("C"),
        looking("D", looks__body=stated("bus", SRC), looks__doors=stated(2, SRC)),
    )
    found = lookalikes(0, fleet, Observer.CREW)
    assert [other.position for other in found] == [2, 1]
    assert found[0].bits == 0
    assert 0 < found[1].bits < ALIKE
    assert lookalikes(3, fleet, Observer.CREW) == ()


def test_of_equally_near_ones_the_dangerous_comes_first() -> None:
    fleet = field(looking("A", **CUT_LEFT), looking("B", **CUT_LEFT), looking("C", **CUT_RIGHT))
    found = lookalikes(0, fleet, Observer.CREW, limit=2)
    assert [other.position for other in found] == [2, 1]
    assert found[1].differs == ()
    assert [(each.label, each.values) for each in found[0].differs] == [
        ("pyro-fuse", ("fitted", "not fitted")),
        ("wait for the restraints", ("60 s", "5 min")),
    ]


def test_not_stated_differs_from_stated_and_never_reads_as_none() -> None:
    fleet = field(looking("A", **CUT_LEFT), looking("B"))
    assert [each.values for each in differences((0, 1), fleet.tables)[0]] == [
        ("fitted", "not stated"),
        ("60 s", "not stated"),
    ]


def test_of_lists_only_what_differs_is_told() -> None:
    both = field(looking("A", ports=(LEFT_REAR, RIGHT_FRONT)), looking("B", ports=(LEFT_REAR,)))
    (where,) = [each for each in differences((0, 1), both.tables)[0] if each.key == "ports.place"]
    assert where.values == ("right front quarter, mid height", NO_FURTHER)


def test_facts_in_free_text_come_after_those_that_weigh_the_same() -> None:
    fleet = field(
        looking("A", motion__selector=stated("dial", SRC)), looking("B", motion__switch_off=stated("Turn key", SRC))
    )
    assert [each.key for each in differences((0, 1), fleet.tables)[0]] == ["motion.selector", "motion.switch_off"]


def test_a_caller_is_told_only_of_what_is_seen_from_where_they_stand() -> None:
    fleet = field(
        looking("Alpha", ports=(LEFT_REAR,), motion__selector=stated("dial", SRC), looks__roof=stated("rack", SRC)),
        looking("Omega", ports=(RIGHT_FRONT,), motion__selector=stated("lever", SRC), looks__roof=stated("soft", SRC)),
    )
    caller = [telling.sight for telling in tellings(0, 1, fleet, Observer.CALLER)]
    crew = [telling.sight for telling in tellings(0, 1, fleet, Observer.CREW)]
    assert {sight.attribute for sight in caller} == {"roof", "name"}
    assert {sight.attribute for sight in crew} == {"roof", "name", "port_place", "selector"}
    assert all(sight.stance is Stance.AWAY for sight in caller)


def test_safety_mask_of_the_table() -> None:
    """A caller is never sent nearer, asked to touch, or asked to cross: no such word, no such stance."""
    assert SAFE_FOR[Observer.CALLER] == {Stance.AWAY}
    for sight in SIGHTS:
        assert sight.attribute in RANKING
        assert sight.attribute in ATTRIBUTE_LABEL
        if sight.stance is Stance.AWAY:
            words = sight.ask.lower()
            assert not any(
                word in words for word in ("go ", "open", "touch", "pull", "walk", "get ", "inside", "under")
            )
    assert set(LOOKS) <= {sight.attribute for sight in SIGHTS if sight.stance is Stance.AWAY}


def test_what_one_of_the_two_does_not_state_tells_nothing() -> None:
    fleet = field(looking("A", looks__roof=stated("rack", SRC)), looking("A"))
    assert tellings(0, 1, fleet, Observer.CREW) == ()


def test_look_alikes_are_one_group_and_their_difference_is_the_headline() -> None:
    fleet = field(
        looking("A", **CUT_LEFT),
        looking("B", **CUT_RIGHT),
        looking("C", **CUT_RIGHT),
        record("Kelvik", "Tiller", facts={"looks.body": stated("bus", SRC), **CUT_LEFT}),
    )
    found = weighed(fleet, 0.3, 0.25, 0.2, 0.1)
    first, second = found.groups
    assert first.positions == (1, 2, 0)
    assert first.probability == pytest.approx(0.75)
    assert [action.positions for action in first.actions] == [(1, 2), (0,)]
    assert [action.probability for action in first.actions] == pytest.approx([0.45, 0.3])
    assert (first.differs[0].label, first.differs[0].values) == ("pyro-fuse", ("not fitted", "fitted"))
    assert second.positions == (3,)
    assert second.differs == ()
    assert second.telling == ()


def test_action_equivalents_are_counted_together_whatever_they_look_like() -> None:
    fleet = field(
        looking("A", **CUT_LEFT),
        looking("B", looks__body=stated("bus", SRC), looks__doors=stated(2, SRC), **CUT_LEFT),
        looking("C", **CUT_RIGHT),
    )
    found = weighed(fleet, 0.3, 0.3, 0.2)
    assert [(action.positions, round(action.probability, 9)) for action in found.acting] == [((0, 1), 0.6), ((2,), 0.2)]


@given(st.lists(st.integers(0, 40), min_size=1, max_size=8), st.integers(0, 1000))
def test_groups_part_the_records_and_their_chances_add_up(numbers: list[int], seed: int) -> None:
    fleet = field(*(drawn_record(number) for number in numbers))
    shares = np.random.default_rng(seed).dirichlet(np.ones(len(numbers) + 1))
    found = weighed(fleet, *shares[:-1])
    positions = [position for group in found.groups for position in group.positions]
    assert len(set(positions)) == len(positions)
    assert sorted(positions) == sorted(position for action in found.acting for position in action.positions)
    assert sum(group.probability for group in found.groups) + found.rest == pytest.approx(1 - shares[-1])
    facts = fleet.tables.arrays["facts"]
    for group in found.groups:
        vectors = {facts[:, action.positions[0]].tobytes() for action in group.actions}
        assert len(vectors) == len(group.actions)
        assert bool(group.differs) == (len(group.actions) > 1)
        assert len(group.differs) == min(6, group.differ_in)
        for action in group.actions:
            assert (facts[:, list(action.positions)] == facts[:, action.positions[:1]]).all()


def test_an_empty_catalogue_has_no_groups() -> None:
    assert grouped(Posterior(np.zeros(0), 1.0, ()), field()) == Grouped((), (), 0.0)
