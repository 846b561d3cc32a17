"""Do not cut here. Blank is never permission: what is not stated is a row of its own."""

from catalog.domain.facts import State
from catalog.domain.places import Place
from catalog.domain.wording import sentence
from catalog.web import wording
from catalog.web.first.lines import Reader, Zone


def no_cut_zones(reader: Reader) -> tuple[Zone, ...]:
    """Stated zones, then where never to push, then everywhere else."""
    made = (*_listed(reader, "structure.no_cut", "hatch"), *_listed(reader, "structure.never_push", "lattice"))
    if not reader.items("structure.no_cut"):
        return (Zone("dots", wording.NO_CUT_EMPTY, state=State.NOT_STATED), *made)
    return (*made, Zone("dots", wording.ELSEWHERE, wording.STRIP, State.NOT_STATED))


def _listed(reader: Reader, path: str, fill: str) -> tuple[Zone, ...]:
    """Zones of one list; the same zone left and right for the same reason is one row."""
    rows: dict[tuple[object, ...], list[Zone]] = {}
    for item in reader.items(path):
        zone = _zone(reader, item, fill)
        rows.setdefault((*_but_for_side(reader, item), zone.why), []).append(zone)
    return tuple(_merged(zones) for zones in rows.values())


def _but_for_side(reader: Reader, item: str) -> tuple[object, ...]:
    """What left and right of the same zone have in common; the item itself when it is on no side."""
    fact = reader.fact(f"{item}.place")
    where = fact.value
    if fact.state is not State.STATED or not isinstance(where, Place) or where.side == "centre":
        return (item,)
    return (where.end, where.level, where.landmark)


def _merged(zones: list[Zone]) -> Zone:
    first = zones[0]
    if all(zone.title == first.title for zone in zones):
        return first
    place = first.title.partition(" ")[2]
    return Zone(first.fill, f"Left and right {place}", first.why, first.state)


def _zone(reader: Reader, path: str, fill: str) -> Zone:
    place, why = reader.view(f"{path}.place"), reader.view(f"{path}.why")
    reason = why.text if why.stated else (wording.NEVER_PUSH if fill == "lattice" else "")
    return Zone(fill, sentence(place.text), sentence(reason), "" if place.plain else place.state)
