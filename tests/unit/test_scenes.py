"""The scene of the steps as the words of a description propose it."""

import pytest

from catalog.errors import BadInput
from catalog.plan.proposed import proposed_scene
from catalog.plan.scene import Said
from catalog.services.scenes import with_answers


@pytest.mark.parametrize(
    ("said", "field", "value"),
    [
        ({"fire": "yes"}, "fire", "yes"),
        ({"smoke": "yes"}, "fire", "yes"),
        ({"smoke": "yes", "fire": "no"}, "fire", "yes"),
        ({"fire": "no", "smoke": "no"}, "fire", "no"),
        ({"fire": "no"}, "fire", "unknown"),
        ({"smoke": "no"}, "fire", "unknown"),
        ({"fire": "no", "smoke": "perhaps"}, "fire", "unknown"),
        ({"water": "perhaps"}, "water", "unknown"),
        ({"water_salt": "yes"}, "water", "yes"),
        ({"on_wheels": "yes"}, "on_roof", "no"),
        ({"on_wheels": "no"}, "on_roof", "unknown"),
        ({"on_side": "yes"}, "on_side", "yes"),
        ({"damage_under": "yes"}, "pack_damage", "yes"),
        ({"damage_under": "no"}, "pack_damage", "unknown"),
        ({"power_dead": "yes"}, "power_alive", "no"),
        ({"airbags": "no"}, "airbags", "no"),
        ({"overhead_line": "perhaps"}, "overhead_line", "unknown"),
    ],
)
def test_what_is_said_becomes_a_field(said: dict[str, str], field: str, value: str) -> None:
    assert proposed_scene(said).said(field) is Said(value)


def test_the_caller_stands_where_one_place_is_said() -> None:
    assert proposed_scene({"caller_beside": "yes"}).caller == "beside"
    assert proposed_scene({"caller_beside": "yes", "caller_away": "yes"}).caller == "unknown"
    assert proposed_scene({"caller_beside": "perhaps"}).caller == "unknown"


def test_whoever_knows_better_puts_it_right() -> None:
    scene = with_answers(proposed_scene({"fire": "yes"}), {"fire": "unknown", "slope": "yes"}, ("ccs2",), "away")
    assert (scene.said("fire"), scene.said("slope")) == (Said.UNKNOWN, Said.YES)
    assert (scene.carried, scene.caller) == (frozenset({"ccs2"}), "away")


@pytest.mark.parametrize(
    ("answers", "carried", "caller", "words"),
    [
        ({"rain": "yes"}, None, None, "no field rain"),
        ({"fire": "perhaps"}, None, None, "fire is neither"),
        ({}, ("type9",), None, "type9"),
        ({}, None, "nowhere", "nowhere"),
    ],
)
def test_what_is_no_scene_is_refused_with_a_cure(
    answers: dict[str, str], carried: tuple[str, ...] | None, caller: str | None, words: str
) -> None:
    with pytest.raises(BadInput, match=words) as caught:
        with_answers(proposed_scene({}), answers, carried, caller)
    assert caught.value.cure
