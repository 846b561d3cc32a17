"""Which vehicles a family consists of, before any fact is written."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import accumulate
from random import Random
from typing import Any, NamedTuple

from seed_demo.generator.draws import pick, weighted
from seed_demo.generator.makes import Kit, Make
from seed_demo.generator.regions import REGIONS, Region
from seed_demo.generator.tables import table

PLUGGED = ("battery", "plug_in_hybrid")
BURNING = ("plug_in_hybrid", "hybrid", "combustion")
LATEST = 2027
_GROUPS = {"bus": "heavy", "lorry": "heavy", "bike": "bike"}


@dataclass(frozen=True, slots=True)
class Body:
    """What the vehicles of a family share: a row of data/bodies.json with its sizes settled."""

    name: str
    build: str
    category: str
    doors: int
    rows: int
    size: str
    roof: str
    length: int
    width: int
    height: int

    @property
    def group(self) -> str:
        """The part of the habits that fits: "car", "heavy" or "bike"."""
        return _GROUPS.get(self.build, "car")

    @property
    def use(self) -> str:
        """The group, or "work" for what has a load bed or hold in the place of a boot."""
        return "work" if self.build in ("pickup", "van") else self.group

    @property
    def has_curtains(self) -> bool:
        """Whether there is a roof rail to carry curtain airbags."""
        return self.group == "car" and self.name not in ("convertible", "microcar")


class Member(NamedTuple):
    """One record to be; a tuple, because several are made for every record.

    issue: of the guide it cites. role: what makes it another record than the lead.
    """

    propulsion: str
    fuel: str
    region: Region
    since: int
    until: int | None
    band: str
    role: str
    issue: int
    kit: Kit


def draw_band(draw: Random) -> str:
    return weighted(draw, table("shape")["band_share"])


def draw_body(draw: Random, propulsion: str, band: str) -> Body:
    """A body in the shape of the counts; one is added to each so that nothing is ruled out."""
    name = draw.choices(table("shape")["bodies"], cum_weights=_body_weights(propulsion, band))[0]
    row = table("bodies")[name]
    size = weighted(draw, row["size"])
    low, high = row["length"][size]
    wide, tall = row["width"], row["height"]
    large = draw.random()
    return Body(
        name=name,
        build=row["build"],
        category=_category(draw, name, row, size),
        doors=int(weighted(draw, row["doors"])),
        rows=row["rows"],
        size=size,
        roof=pick(draw, row["roof"]),
        length=low + int((high - low) * large),
        width=wide[0] + int((wide[1] - wide[0]) * (0.6 * large + 0.4 * draw.random())),
        height=tall[0] + int((tall[1] - tall[0]) * draw.random()),
    )


@cache
def _body_weights(propulsion: str, band: str) -> Sequence[float]:
    """Running totals, as `choices` takes them."""
    shape = table("shape")
    counts = shape["counts"][propulsion][band]
    return tuple(
        accumulate(
            (count + 1) * shape["beyond_cars"].get(body, 1.0) * _possible(body, propulsion)
            for body, count in zip(shape["bodies"], counts, strict=True)
        )
    )


def _possible(body: str, propulsion: str) -> float:
    """Two-wheelers and microcars are left to batteries and petrol."""
    return 0.0 if body in ("motorcycle", "microcar") and propulsion not in ("battery", "combustion") else 1.0


def _category(draw: Random, name: str, row: Mapping[str, Any], size: str) -> str:
    if name == "lorry":
        return "N3" if size == "very_large" else "N2"
    return str(pick(draw, row["category"]))


def draw_members(draw: Random, make: Make, body: Body, lead: str, band: str) -> Iterator[Member]:
    """The lead, its look-alikes with other drives, its other markets and lengths, its facelift."""
    shape = table("shape")
    first, last = shape["bands"][band]
    since = draw.randint(first, last)
    region = REGIONS[make.regions[0]]
    until = since + draw.randint(2, 6)
    kit = Kit(make, draw, body.use)
    one = Member(lead, draw_fuel(draw, body, lead), region, since, until, band, "lead", 1, kit)
    ends = until >= LATEST
    facelifted = not ends and draw.random() < shape["facelift"]
    made = [one._replace(until=None) if ends else one]
    for drive, chance in shape["look_alikes"][lead].items():
        if _possible(body.name, drive) and draw.random() < chance:
            made.append(made[0]._replace(propulsion=drive, fuel=draw_fuel(draw, body, drive), role="drive"))
    if body.group == "car" and body.rows >= 2 and draw.random() < shape["stretched"]:
        made.append(made[0]._replace(role="stretched"))
    if lead in PLUGGED and len(make.regions) > 1 and draw.random() < shape["other_market"]:
        made.append(made[0]._replace(region=REGIONS[make.regions[1]], role="market"))
    if body.build == "car" and body.rows >= 2 and draw.random() < shape["taxi"]:
        made.append(made[0]._replace(role="taxi"))
    if facelifted:
        made.append(_facelift(draw, made[0]))
    yield from made


def _facelift(draw: Random, before: Member) -> Member:
    """The next series: new lamps, and often a moved port or cut point."""
    since = (before.until or LATEST) + 1
    until = since + draw.randint(2, 5)
    redrawn = ["front_lamps", "rear_lamps", "loop_wait"]
    redrawn += ["loop", "label"] if draw.random() < 0.5 else []
    redrawn += ["port"] if draw.random() < 0.3 else []
    return before._replace(
        since=since,
        until=None if until >= LATEST else until,
        band=max(start for start in table("shape")["bands"] if int(start) <= since),
        role="facelift",
        issue=2,
        kit=before.kit.anew(*redrawn),
    )


def draw_fuel(draw: Random, body: Body, propulsion: str) -> str:
    """What burns; "" where nothing does."""
    if propulsion == "fuel_cell":
        return "hydrogen"
    if propulsion not in BURNING:
        return ""
    fuels = table("shape")["fuels"]
    light = body.build == "bike" or body.name == "microcar"
    key = "two_wheeled" if light else "heavy" if body.group == "heavy" else "light"
    fuel = weighted(draw, fuels[key])
    return "petrol" if propulsion == "plug_in_hybrid" and fuel in ("lpg", "cng") else fuel
