"""What the caller is told: by where the caller is and what is known, and never into harm's way."""

from itertools import product

import pytest

from catalog.plan.caller import caller_lines, in_its_way, shipped_lines, with_site_lines
from catalog.plan.claims import claims
from catalog.plan.scene import CALLERS, Scene
from catalog.plan.site import with_site
from catalog.plan.table import shipped_table

FIELDS = ("fire", "vapour", "leak", "water", "overhead_line", "charger_attached", "enclosed", "nobody_inside")
SCENES = [dict(zip(FIELDS, said, strict=True)) for said in product(("yes", "no", "unknown"), repeat=3)
          for said in [(*said, *said[:3], *said[:2])]]  # fmt: skip


@pytest.mark.parametrize("caller", CALLERS)
def test_there_is_always_something_to_say_and_none_of_it_harms(caller: str) -> None:
    for values in SCENES:
        said = caller_lines(Scene(caller=caller).having(**values))
        assert said
        assert len(said) == len(set(said))
        assert not [word for line in said for word in (*in_its_way(line), *claims(line))]


def test_nobody_inside_is_sent_out_under_a_power_line() -> None:
    for fire in ("yes", "no", "unknown"):
        said = " ".join(caller_lines(Scene(caller="inside").having(overhead_line="yes", fire=fire)))
        assert "Get out" not in said
        assert "stay inside" in said


def test_what_burns_is_left_at_once_and_nobody_stays_to_switch_it_off() -> None:
    for field in ("fire", "vapour", "hiss", "leak"):
        said = caller_lines(Scene(caller="inside").having(**{field: "yes"}))
        assert said[0].startswith("Get out now")
        assert not any("park" in line for line in said)


def test_a_caller_beside_it_is_told_to_touch_nothing_orange() -> None:
    for caller in ("unknown", "inside", "beside"):
        assert "Touch nothing orange." in caller_lines(Scene(caller=caller))


def test_a_site_adds_lines_and_says_its_own_but_takes_no_warning_away() -> None:
    table = with_site(
        shipped_table(),
        {"caller": {
            "orange": {"say": "Nor anything that hums."},
            "key": {"say": "Leave the key on the wall."},
            "tunnel": {"say": "Walk to the green door.", "where": ["inside"], "when": {"is": ["enclosed", "yes"]}},
        }},
    )  # fmt: skip
    said = caller_lines(Scene(caller="inside").having(enclosed="yes"), table.caller)
    assert "Touch nothing orange. Nor anything that hums." in said
    assert "Leave the key on the wall." in said
    assert "Walk to the green door." in said
    assert "Walk to the green door." not in caller_lines(Scene(caller="beside").having(enclosed="yes"), table.caller)
    assert len(table.caller) == len(shipped_lines()) + 1


@pytest.mark.parametrize(
    ("row", "why"),
    [
        ({"say": ""}, "it says nothing"),
        ({}, "it says nothing"),
        ({"say": "Stand in front of it and wave."}, "in its way: 'front'"),
        ({"say": "Crawl under it."}, "in its way: 'under'"),
        ({"say": "Wait between the cars."}, "in its way: 'between'"),
        ({"say": "It is safe now."}, "states"),
        ({"say": "Go.", "where": ["moon"]}, "no place of a caller: moon"),
        ({"say": "Go.", "when": {"is": ["moon", "yes"]}}, "moon is neither"),
        ({"say": "Go.", "warns": False}, "a line has no warns"),
    ],
)
def test_a_line_that_cannot_be_used_says_why(row: dict[str, object], why: str) -> None:
    with pytest.raises(ValueError, match=why):
        with_site_lines(shipped_lines(), {"mine": row})
