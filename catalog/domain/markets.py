"""Markets: regions with one side of the road and usual charge couplers.

Used for plausibility only; a record may still be sold against the habit.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from catalog.domain.terms import Term, Vocabulary


@dataclass(frozen=True, slots=True)
class Market:
    """A region. traffic: side of the road ("left" or "right"); steering is on the other side."""

    key: str
    label: str
    traffic: str

    @property
    def steering(self) -> str:
        """The side the steering wheel is usually on."""
        return "right" if self.traffic == "left" else "left"


MARKETS: tuple[Market, ...] = (
    Market("europe", "mainland Europe", "right"),
    Market("britain_ireland", "Britain and Ireland", "left"),
    Market("north_america", "North America", "right"),
    Market("japan", "Japan", "left"),
    Market("china", "China", "right"),
    Market("korea", "Korea", "right"),
    Market("oceania", "Oceania", "left"),
    Market("south_asia", "South Asia", "left"),
    Market("southern_africa", "southern Africa", "left"),
)

BY_KEY: Mapping[str, Market] = {market.key: market for market in MARKETS}

MARKET = Vocabulary("market", "market", tuple(Term(m.key, m.label, f"traffic keeps {m.traffic}") for m in MARKETS))
