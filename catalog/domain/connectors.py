"""Charging couplers by published designation, with the rating of a named standard edition.

Ratings change from edition to edition, so each carries the document it was read from.
`tests/outside/test_connectors.py` holds the published table against this one.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from catalog.domain.terms import Term, Vocabulary


@dataclass(frozen=True, slots=True)
class Rating:
    """Largest voltage (V) and current (A) a standard's edition allows a coupler."""

    volts: int
    amperes: int
    standard: str


@dataclass(frozen=True, slots=True)
class Connector:
    """A coupler. contacts: number of contacts, None where no source was at hand.

    currents: "ac" and/or "dc". markets: where vehicles usually carry it (plausibility only).
    """

    key: str
    label: str
    designation: str
    contacts: int | None
    currents: frozenset[str]
    ratings: tuple[Rating, ...]
    markets: frozenset[str]


def _connector(
    key: str,
    label: str,
    designation: str,
    contacts: int | None,
    currents: str,
    ratings: tuple[tuple[int, int, str], ...],
    markets: str,
) -> Connector:
    return Connector(
        key,
        label,
        designation,
        contacts,
        frozenset(currents.split()),
        tuple(Rating(*rating) for rating in ratings),
        frozenset(markets.split()),
    )


_LEFT_HAND_62196 = "europe britain_ireland oceania southern_africa south_asia"

CONNECTORS: tuple[Connector, ...] = (
    _connector(
        "type1", "Type 1", "SAE J1772, IEC 62196-2 type 1", 5, "ac",
        ((240, 80, "SAE J1772"),), "north_america japan korea",
    ),
    _connector(
        "type2", "Type 2", "IEC 62196-2 type 2", 7, "ac",
        ((480, 63, "IEC 62196-2"),), _LEFT_HAND_62196,
    ),
    _connector(
        "ccs1", "CCS1", "IEC 62196-3 configuration EE", 7, "ac dc",
        ((600, 200, "IEC 62196-3 edition 1"),), "north_america korea",
    ),
    _connector(
        "ccs2", "CCS2", "IEC 62196-3 configuration FF", 9, "ac dc",
        ((1000, 200, "IEC 62196-3 edition 1"),), _LEFT_HAND_62196,
    ),
    _connector(
        "chademo", "CHAdeMO", "IEC 62196-3 configuration AA", 10, "dc",
        ((600, 200, "IEC 62196-3 edition 1"),), "japan europe britain_ireland oceania north_america",
    ),
    _connector(
        "gbt_dc", "GB/T DC", "GB/T 20234.3, IEC 62196-3 configuration BB", 9, "dc",
        ((750, 250, "IEC 62196-3 edition 1"), (1000, 250, "GB/T 20234.3-2015")), "china",
    ),
    _connector(
        "gbt_ac", "GB/T AC", "GB/T 20234.2", 7, "ac", ((440, 32, "GB/T 20234.2-2015"),), "china",
    ),
    _connector(
        "j3400", "J3400", "SAE J3400", 5, "ac dc",
        ((277, 80, "SAE J3400, AC"), (1000, 400, "SAE J3400, DC")), "north_america",
    ),
    _connector(
        "mcs", "MCS", "SAE J3271 megawatt charging", 7, "dc",
        ((1250, 3000, "SAE J3271"),), "north_america europe britain_ireland china oceania",
    ),
    _connector(
        "own", "maker's own coupler", "no published standard", None, "ac dc", (),
        "north_america europe britain_ireland japan china korea oceania south_asia southern_africa",
    ),
)  # fmt: skip

BY_KEY: Mapping[str, Connector] = {entry.key: entry for entry in CONNECTORS}

CONNECTOR = Vocabulary(
    "connector",
    "connector standard",
    tuple(Term(entry.key, entry.label, entry.designation) for entry in CONNECTORS),
)
