"""The safety wording says what it must and never what it must not."""

import re
from datetime import UTC, datetime

from catalog.domain import cautions
from catalog.domain.places import FRAME_NOTE

WHEN = datetime(2026, 3, 2, 23, 5, tzinfo=UTC)
FORBIDDEN = re.compile(r"\b(safe|dead|zero|off)\b", re.I)


def test_the_whole_wording_has_every_part() -> None:
    whole = cautions.full(14, WHEN, demo=True)
    assert whole[0] == "DEMO - INVENTED VEHICLES, NOT FOR OPERATIONS"
    joined = " ".join(whole)
    for part in ("edition 14", "2026-03-02", "does not replace", "local procedures", "badge, VIN", FRAME_NOTE):
        assert part in joined


def test_only_demo_data_carries_the_mark() -> None:
    assert cautions.DEMO_MARK not in cautions.full(14, WHEN, demo=False)
    assert cautions.short(14, demo=True) == "DEMO; data 14; confirm badge; vehicle's left"
    assert cautions.short(14, demo=False) == "data 14; confirm badge; vehicle's left"


def test_nothing_is_called_safe_dead_zero_or_off() -> None:
    said = [*cautions.full(14, WHEN, demo=True), *cautions.FULL_POSSIBLE, cautions.short(14, demo=True)]
    assert not [line for line in said if FORBIDDEN.search(line)]


def test_possible_vehicles_are_said_to_be_possible() -> None:
    assert set(cautions.FULL) < set(cautions.FULL_POSSIBLE)
    assert any("may not be in this catalogue" in line for line in cautions.FULL_POSSIBLE)
