"""Who a record is about: names, years, markets, VIN patterns."""

from dataclasses import dataclass

from seed_demo.generator.looks import drive_name
from seed_demo.generator.makes import Make
from seed_demo.generator.marks import Document, Src
from seed_demo.generator.plan import LATEST, Body, Member
from seed_demo.generator.tables import table

_YEARS = "ABCDEFGHJKLMNPRSTVWXY123456789"  # position 10 from 2010 on; it repeats every thirty years
_CODED = "ABCDEFGHJKLMNPRSTUVWXYZ"
_DRIVES = {"battery": "B", "plug_in_hybrid": "P", "hybrid": "H", "fuel_cell": "F", "combustion": "C"}


@dataclass(frozen=True, slots=True)
class Naming:
    """platform: its number. place: the member's place in its family."""

    make: Make
    model: str
    platform: str
    place: int
    twin_of: tuple[str, ...]
    replaces: tuple[str, ...]
    replaced_by: tuple[str, ...]


def identity(member: Member, body: Body, naming: Naming, src: Src) -> Document:
    made: Document = {"make": naming.make.name, "model": naming.model}
    variant = _variant(member, naming)
    if variant:
        made["variant"] = variant
    made |= {
        "propulsion": member.propulsion,
        "category": body.category,
        "platform": naming.platform,
        "years": {"from": member.since} | ({} if member.until is None else {"to": member.until}),
        "steering": ["none"] if body.build == "bike" else list(member.region.steering),
        "markets": list(member.region.markets),
    }
    if member.kit.number("also", 0, 1) < 0.5:
        made["names"] = [f"{naming.model} {drive_name(member)}"]
    for key in ("twin_of", "replaces", "replaced_by"):
        links = getattr(naming, key)
        if links:
            made[key] = list(links)
    made["vins"] = _vins(member, naming)
    made["src"] = src
    return made


def _variant(member: Member, naming: Naming) -> str:
    """What follows the model's name, in the make's manner."""
    habits = naming.make.habits
    parts = [drive_name(member)] if member.role == "drive" or member.propulsion == "plug_in_hybrid" else []
    parts += {
        "facelift": [habits["facelift"]],
        "stretched": [habits["stretched"]],
        "taxi": ["Taxi"],
        "market": [table("shape")["market_names"][member.region.key]],
    }.get(member.role, [])
    return " ".join(parts)


def _vins(member: Member, naming: Naming) -> list[str]:
    """One pattern per model year, three at most; the check digit and the serial number stay open."""
    model = sum(map(ord, naming.model))
    pair = _CODED[model % len(_CODED)] + _CODED[model // 7 % len(_CODED)]
    head = f"{naming.make.vin}{pair}{_CODED[naming.place % len(_CODED)]}{_DRIVES[member.propulsion]}"
    years = range(member.since, (member.until or LATEST) + 1)
    return [f"{head}??{_YEARS[(year - 2010) % 30]}???????" for year in list(years)[:3]]
