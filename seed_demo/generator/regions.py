"""Markets as records are sold in: sides of the wheel and usual couplers by kind of use.

Couplers per market follow catalog.domain.connectors; which came when is common practice, no source.
"""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Region:
    """Where a record is sold, the sides its wheel is on, and its couplers by kind of use."""

    key: str
    markets: tuple[str, ...]
    steering: tuple[str, ...]
    ac: str
    dc: Mapping[str, str]
    heavy: Mapping[str, str]

    def main(self, band: str) -> str:
        """The DC coupler of a battery vehicle of a band of years."""
        return _latest(self.dc, band)

    def large(self, band: str) -> str:
        """The same for buses and lorries."""
        return _latest(self.heavy, band)


def _latest(couplers: Mapping[str, str], band: str) -> str:
    return couplers[max(since for since in couplers if since <= band)]


_LEFT, _RIGHT, _EITHER = ("left",), ("right",), ("left", "right")
_CCS2 = {"2010": "chademo", "2015": "ccs2"}
REGIONS: Mapping[str, Region] = {
    region.key: region
    for region in (
        Region("europe", ("europe",), _LEFT, "type2", _CCS2, {"2010": "ccs2"}),
        Region("europe_both", ("europe", "britain_ireland"), _EITHER, "type2", _CCS2, {"2010": "ccs2"}),
        Region("britain", ("britain_ireland",), _RIGHT, "type2", _CCS2, {"2010": "ccs2"}),
        Region(
            "north_america", ("north_america",), _LEFT, "type1",
            {"2010": "chademo", "2015": "ccs1", "2025": "j3400"}, {"2010": "ccs1", "2025": "j3400"},
        ),
        Region("japan", ("japan",), _RIGHT, "type1", {"2010": "chademo"}, {"2010": "chademo"}),
        Region("china", ("china",), _LEFT, "gbt_ac", {"2010": "gbt_dc"}, {"2010": "gbt_dc"}),
        Region("korea", ("korea",), _LEFT, "type1", {"2010": "ccs1"}, {"2010": "ccs1"}),
        Region("oceania", ("oceania",), _RIGHT, "type2", {"2010": "ccs2"}, {"2010": "ccs2"}),
        Region("south_asia", ("south_asia",), _RIGHT, "type2", {"2010": "ccs2"}, {"2010": "ccs2"}),
        Region("southern_africa", ("southern_africa",), _RIGHT, "type2", {"2010": "ccs2"}, {"2010": "ccs2"}),
    )
}  # fmt: skip
