"""A limit to how often something is done."""

import pytest

from catalog.errors import Unavailable
from catalog.services.pace import Pace


def test_so_many_in_so_long_and_no_more() -> None:
    now = 0.0
    pace = Pace(2, 10.0, lambda: now)
    pace.step("outcomes")
    now = 4.0
    pace.step("outcomes")
    with pytest.raises(Unavailable, match="More than 2 outcomes in 10 seconds"):
        pace.step("outcomes")
    now = 10.0  # the first was ten seconds ago
    pace.step("outcomes")
    with pytest.raises(Unavailable):
        pace.step("outcomes")
