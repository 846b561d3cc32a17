"""The published charging couplers against the catalogue's vocabulary.

Where each value was read stands beside it; the standards themselves were not at hand. Ratings
change with the edition, so each is checked with the edition it was read for.
"""

import pytest

from catalog.domain.connectors import BY_KEY, CONNECTOR, CONNECTORS
from catalog.domain.markets import BY_KEY as MARKETS

# key: contacts, where read.
CONTACTS = {
    "type1": (5, "SAE J1772 summary, doc.surf: L1, L2/N, PE, CP, PP"),
    "type2": (7, "from memory of IEC 62196-2: L1-3, N, PE, CP, PP"),
    "ccs1": (7, "type 1 contacts + 2 DC; from memory of IEC 62196-3"),
    "ccs2": (9, "type 2 contacts + 2 DC; from memory of IEC 62196-3"),
    "chademo": (10, "from memory"),
    "gbt_dc": (9, "from memory of GB/T 20234.3"),
    "gbt_ac": (7, "from memory of GB/T 20234.2"),
    "j3400": (5, "kpt-bj.com on SAE J3400: AC and DC share the power contacts"),
    "mcs": (7, "encyclopedia article on the megawatt system"),
}

# (key, volts, amperes, edition), where read.
RATINGS = [
    (("ccs1", 600, 200, "IEC 62196-3 edition 1"), "table of configurations, electricvehiclegeek.com: EE"),
    (("ccs2", 1000, 200, "IEC 62196-3 edition 1"), "same table: FF"),
    (("chademo", 600, 200, "IEC 62196-3 edition 1"), "same table: AA"),
    (("gbt_dc", 750, 250, "IEC 62196-3 edition 1"), "same table: BB"),
    (("gbt_dc", 1000, 250, "GB/T 20234.3-2015"), "asaptic.com"),
    (("mcs", 1250, 3000, "SAE J3271"), "encyclopedia article; meganorms.com"),
    (("type1", 240, 80, "SAE J1772"), "from memory"),
    (("type2", 480, 63, "IEC 62196-2"), "from memory"),
    (("gbt_ac", 440, 32, "GB/T 20234.2-2015"), "32 A asaptic.com; 440 V from memory"),
    (("j3400", 277, 80, "SAE J3400, AC"), "277 V kpt-bj.com; 80 A from memory"),
    (("j3400", 1000, 400, "SAE J3400, DC"), "1000 V kpt-bj.com; 400 A from memory"),
]

# Configuration letters of IEC 62196-3 (same table).
CONFIGURATIONS = {"ccs1": "EE", "ccs2": "FF", "chademo": "AA", "gbt_dc": "BB"}

# What each carries: 62196-2 and 20234.2 are AC standards, 20234.3 and J3271 DC ones (their titles).
CURRENTS = {
    "type1": {"ac"}, "type2": {"ac"}, "gbt_ac": {"ac"}, "ccs1": {"ac", "dc"}, "ccs2": {"ac", "dc"},
    "chademo": {"dc"}, "gbt_dc": {"dc"}, "j3400": {"ac", "dc"}, "mcs": {"dc"},
}  # fmt: skip

# Main region (same sources as the contacts).
MAIN_MARKET = {
    "type1": "north_america", "type2": "europe", "ccs1": "north_america", "ccs2": "europe", "chademo": "japan",
    "gbt_dc": "china", "gbt_ac": "china", "j3400": "north_america",
}  # fmt: skip


@pytest.mark.parametrize(("key", "read"), CONTACTS.items())
def test_contacts(key: str, read: tuple[int, str]) -> None:
    assert BY_KEY[key].contacts == read[0], read[1]


@pytest.mark.parametrize(("rating", "where"), RATINGS)
def test_ratings_with_their_edition(rating: tuple[str, int, int, str], where: str) -> None:
    key, *expected = rating
    held = [[entry.volts, entry.amperes, entry.standard] for entry in BY_KEY[key].ratings]
    assert expected in held, where


def test_no_rating_is_without_a_checked_source() -> None:
    checked = {rating for rating, _ in RATINGS}
    held = {(entry.key, r.volts, r.amperes, r.standard) for entry in CONNECTORS for r in entry.ratings}
    assert held == checked


@pytest.mark.parametrize(("key", "letters"), CONFIGURATIONS.items())
def test_configuration_letters(key: str, letters: str) -> None:
    assert BY_KEY[key].designation.endswith(f"configuration {letters}")


@pytest.mark.parametrize(("key", "currents"), CURRENTS.items())
def test_currents(key: str, currents: set[str]) -> None:
    assert BY_KEY[key].currents == currents


@pytest.mark.parametrize(("key", "market"), MAIN_MARKET.items())
def test_main_markets(key: str, market: str) -> None:
    assert market in BY_KEY[key].markets


def test_the_megawatt_rating_is_its_published_power() -> None:
    """3.75 MW (encyclopedia article) is 1,250 V times 3,000 A."""
    (rating,) = BY_KEY["mcs"].ratings
    assert rating.volts * rating.amperes == 3_750_000


def test_the_vocabulary_is_this_table() -> None:
    assert CONNECTOR.keys == tuple(entry.key for entry in CONNECTORS)
    assert set(CONTACTS) | {"own"} == set(CONNECTOR.keys)
    assert all(entry.markets <= set(MARKETS) for entry in CONNECTORS)
