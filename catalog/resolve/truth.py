"""What the records say about each attribute a cue may have, as plain JSON-able signatures.

Records that say the same share one signature, so evidence is computed once per signature and
gathered: a handful of numbers for a catalogue of any size. An unknown attribute is None
(neutral); NO_PORT says by definition that there is nothing to plug in.
"""

from collections.abc import Callable, Mapping
from typing import Any

from catalog.domain.facts import State
from catalog.domain.places import Place
from catalog.domain.record import Record

Signature = Any
NO_PORT = "no port"
UNPLUGGED = ("combustion", "hybrid")


def _values(record: Record, path: str) -> list[str] | None:
    found = [str(value) for value in record.fact(path).values()]
    return sorted(set(found)) or None


def _port_values(record: Record, key: str) -> Signature:
    """One value per port, repeats kept out; every side of a disputed fact counts."""
    if not record.items.get("ports"):
        return _without_ports(record)
    found = {str(value) for item in record.items["ports"] for value in record.fact(f"ports[{item}].{key}").values()}
    return sorted(found) or None


def _without_ports(record: Record) -> Signature:
    plugless = record.identity.propulsion in UNPLUGGED or "ports" in record.complete
    return NO_PORT if plugless else None


def _port_places(record: Record) -> Signature:
    """{"places": [[side, end, level], ...], "steering": [...]} for the sides a driver may mean."""
    if not record.items.get("ports"):
        return _without_ports(record)
    places = sorted(
        {
            value.zone
            for item in record.items["ports"]
            for value in record.fact(f"ports[{item}].place").values()
            if isinstance(value, Place)
        }
    )
    if not places:
        return None
    return {"places": [list(place) for place in places], "steering": sorted(record.identity.steering)}


def _tailpipe(record: Record) -> Signature:
    claims = record.fact("looks.tailpipe").claims()
    found = {"none" if claim.state is State.NOT_FITTED else "yes" for claim in claims if claim.src}
    return sorted(found) or None


def _fuel(record: Record) -> Signature:
    tanks = record.items.get("energy.tanks", ())
    found = {str(v) for item in tanks for v in record.fact(f"energy.tanks[{item}].fuel").values()}
    if found:
        return sorted(found)
    if record.identity.propulsion == "battery":
        return ["none"]
    return ["hydrogen"] if record.identity.propulsion == "fuel_cell" else None


def _doors(record: Record) -> Signature:
    found = sorted({int(str(value)) for value in record.fact("looks.doors").values()})
    return found or None


def _colours(record: Record) -> Signature:
    found = {str(colour) for value in record.fact("looks.colours").values() for colour in _as_set(value)}
    return sorted(found) or None


def _as_set(value: object) -> tuple[object, ...]:
    return value if isinstance(value, tuple) else (value,)


def _looks(key: str) -> Callable[[Record], Signature]:
    return lambda record: _values(record, f"looks.{key}")


TRUTHS: Mapping[str, Callable[[Record], Signature]] = {
    "body": _looks("body"),
    "size": _looks("size"),
    "front_face": _looks("front_face"),
    "front_lamps": _looks("front_lamps"),
    "rear_lamps": _looks("rear_lamps"),
    "roof": _looks("roof"),
    "handles": _looks("handles"),
    "tailpipe": _tailpipe,
    "colour": _colours,
    "doors": _doors,
    "propulsion": lambda record: [record.identity.propulsion],
    "category": lambda record: [record.identity.category],
    "fuel": _fuel,
    "years": lambda record: [record.identity.years.since, record.identity.years.until],
    "port_place": _port_places,
    "connector": lambda record: _port_values(record, "standard"),
    "door_mechanism": lambda record: _port_values(record, "door.mechanism"),
    "port_cover": lambda record: _port_values(record, "cover"),
    "selector": lambda record: _values(record, "motion.selector"),
    "vin": lambda record: list(record.identity.vins) or None,
}
