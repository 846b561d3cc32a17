"""What several cues of one witness say together: names that overlap, sides that may be swapped."""

import math
from dataclasses import replace

import pytest

from catalog.resolve.cue import Cue, Doubt
from catalog.resolve.evidence import gather
from catalog.resolve.explain import bars, cue_bits
from catalog.resolve.field import Field
from catalog.resolve.mirrored import swaps_sides
from catalog.resolve.posterior import Posterior, posterior
from tests.unit.resolve_cases import FLEET, LEFT_REAR, body, cue, field, parameters_with, record


def weigh(whole: Field, *cues: Cue) -> Posterior:
    return posterior(gather(cues, whole.tables, whole.parameters), whole)


def seated(said: Cue) -> Cue:
    return replace(said, viewpoint="vehicle")


MAKE, MODEL = cue("name", "ostrel"), cue("name", "packhorse")


def test_names_of_one_vehicle_are_one_mistake_not_two() -> None:
    """With m the share of the mistaken, no more than (1 - m) to m against all others can come of names alone."""
    whole = field(*FLEET, parameters=parameters_with(cap=0.0))
    mistaken = whole.parameters.tables["name"]["mistaken"]
    result = weigh(whole, MAKE, MODEL)
    names_alone = result.records[0] / (1 - result.unlisted)
    assert weigh(whole, MAKE).records[0] < result.records[0]
    assert names_alone < 1 - mistaken * 5 / 6 + 1e-9  # one in six of the mistaken means the vehicle it is


def test_a_mistaken_name_gives_way_to_what_is_seen() -> None:
    whole = field(*FLEET, parameters=parameters_with(cap=0.0))
    seen = [cue("body", "hatchback"), cue("propulsion", "combustion")]
    alone, named = weigh(whole, *seen), weigh(whole, *seen, MAKE, MODEL)
    independent = math.prod(entry.at(4) / entry.at(0) for entry in named.evidence if entry.cue.attribute == "name")
    odds = (named.records[4] / named.records[0]) / (alone.records[4] / alone.records[0])
    assert independent ** (1 / whole.parameters.temperature) < odds < 1


def test_one_name_a_guess_and_a_denial_stand_alone() -> None:
    whole = field(*FLEET)
    assert weigh(whole, MAKE).joint is None
    assert weigh(whole, MAKE, cue("name", "packhorse", doubt=Doubt.GUESS)).joint is None
    assert weigh(whole, MAKE, cue("name", "kelvik", denied=True)).joint is None


@pytest.mark.parametrize("position", range(6))
def test_bars_of_names_add_up_and_each_is_what_leaving_it_out_takes(position: int) -> None:
    whole = field(*FLEET, parameters=parameters_with(cap=0.0))
    said = (MAKE, MODEL, cue("name", "ostril", doubt=Doubt.HEDGED), cue("body", "pickup"))
    full = weigh(whole, *said)
    total = sum(bar.bits for bar in bars(position, full, whole))
    assert total == pytest.approx(math.log2(full.records[position] / (0.88 / 6)), abs=1e-9)
    for number, each in enumerate(said):
        without = weigh(whole, *said[:number], *said[number + 1 :])
        entry = next(entry for entry in full.evidence if entry.cue == each)
        other = (position + 1) % 6
        moved = math.log2(full.records[position] / full.records[other])
        moved -= math.log2(without.records[position] / without.records[other])
        taken = cue_bits(entry, position, full, whole) - cue_bits(entry, other, full, whole)
        assert moved == pytest.approx(taken, abs=1e-9)


def test_an_unlisted_relative_keeps_the_make() -> None:
    """A make of this catalogue with a model nobody has: the others of that make are what it may be like."""
    whole = field(*FLEET)
    result = weigh(whole, cue("name", "mirrin"), cue("name", "zzyqua"))
    assert result.relatives is not None
    assert result.relatives[2] > 2 * result.relatives[0]


def test_sides_said_from_the_seat_weigh_more() -> None:
    whole = field(*FLEET)
    said = cue("port_place", "left||")
    unsaid, told = weigh(whole, said), weigh(whole, seated(said))
    assert told.records[0] / told.records[1] > 2 * unsaid.records[0] / unsaid.records[1]
    assert weigh(whole, said, seated(said)).records == pytest.approx(told.records)


def test_swapped_sides_are_noticed_where_all_else_fits() -> None:
    """P(swapped | said right, true left) = .12 x .94 / (.12 x .94 + .88 x .02); the end is the same in both."""
    whole = field(record(facts=body("pickup"), ports=[LEFT_REAR]))
    assert swaps_sides(weigh(whole, cue("port_place", "right|rear|")), whole) == pytest.approx(0.1128 / 0.1304)
    assert swaps_sides(weigh(whole, cue("port_place", "left|rear|")), whole) == pytest.approx(0.0024 / 0.8296)
    assert swaps_sides(weigh(whole, seated(cue("port_place", "right|rear|"))), whole) == pytest.approx(0.0188 / 0.0384)
    assert swaps_sides(weigh(whole, cue("port_place", "|rear|")), whole) == 0
    assert swaps_sides(weigh(whole, cue("port_place", "right|rear|", denied=True)), whole) == 0


def test_before_anything_points_to_a_vehicle_sides_are_swapped_as_often_as_ever() -> None:
    twins = [record("Ostrel", f"T{n}", facts=body("van"), ports=[place]) for n, place in enumerate([LEFT_REAR] * 2)]
    whole = field(*twins, record("Ostrel", "T3", facts=body("van")))
    hedged = swaps_sides(weigh(whole, cue("port_place", "right|rear|", doubt=Doubt.GUESS)), whole)
    assert 0.12 < hedged < swaps_sides(weigh(whole, cue("port_place", "right|rear|")), whole)
