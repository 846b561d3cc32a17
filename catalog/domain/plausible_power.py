"""Plausibility of power: propulsion, packs and their voltage, tanks, charge ports, plugging in."""

from collections.abc import Iterator

from catalog.domain.connectors import BY_KEY as CONNECTORS
from catalog.domain.connectors import Connector
from catalog.domain.findings import Finding
from catalog.domain.markets import BY_KEY as MARKETS
from catalog.domain.places import Place
from catalog.domain.plausible_parts import (
    absent,
    blocks,
    has_none,
    heavy,
    items,
    light,
    look,
    note,
    stated,
    traction_packs,
    values,
)
from catalog.domain.record import Record

HIGH_VOLTAGE_ABOVE = 60  # V DC; UN R100: above 60 V and up to 1500 V
_USUAL_LOW_VOLTAGE = (12, 24, 48)

_PLUGGED = ("battery", "plug_in_hybrid")
_BURNING = ("plug_in_hybrid", "hybrid", "combustion")
_UNDER_PRESSURE = ("cng", "lng", "lpg", "hydrogen")
_LIQUID = ("petrol", "diesel")

# Traction energy in Wh by kind of vehicle; common practice, no source. Wide on purpose.
_ENERGY = {
    ("battery", "L"): (500, 40_000),
    ("battery", "light"): (8_000, 300_000),
    ("battery", "heavy"): (40_000, 1_500_000),
    ("plug_in_hybrid", "L"): (500, 20_000),
    ("plug_in_hybrid", "light"): (3_000, 100_000),
    ("plug_in_hybrid", "heavy"): (10_000, 400_000),
    ("hybrid", "L"): (100, 3_000),
    ("hybrid", "light"): (100, 6_000),
    ("hybrid", "heavy"): (500, 60_000),
    ("fuel_cell", "L"): (100, 10_000),
    ("fuel_cell", "light"): (500, 40_000),
    ("fuel_cell", "heavy"): (5_000, 400_000),
}

_COVER_OF = {"hinged_badge": "badge", "hinged_lamp": "lamp", "hinged_plate": "plate", "cap": "cap"}


def voltage_class(record: Record) -> Iterator[Finding]:
    if record.identity.propulsion == "battery" and not light(record):
        for pack in traction_packs(record):
            for volts in values(record, f"{pack}.voltage"):
                if isinstance(volts, int) and volts <= HIGH_VOLTAGE_ABOVE:
                    why = (
                        f"a battery vehicle's traction pack is high voltage, above {HIGH_VOLTAGE_ABOVE} V DC (UN R100)"
                    )
                    cure = "Check the figure; a 12 V or 48 V source belongs in energy.low_voltage."
                    yield look(f"{pack}.voltage", f"{volts} V", why, cure)
    for source in items(record, "energy.low_voltage"):
        for volts in values(record, f"{source}.voltage"):
            if isinstance(volts, int) and volts > HIGH_VOLTAGE_ABOVE:
                why = f"above {HIGH_VOLTAGE_ABOVE} V DC it is high voltage (UN R100)"
                yield blocks(f"{source}.voltage", f"{volts} V", why, "It belongs in energy.packs.")
            elif volts not in _USUAL_LOW_VOLTAGE:
                yield note(f"{source}.voltage", f"{volts} V", "such sources are usually 12, 24 or 48 V")


def packs(record: Record) -> Iterator[Finding]:
    propulsion = record.identity.propulsion
    if propulsion == "combustion":
        for pack in items(record, "energy.packs"):
            if "traction" in values(record, f"{pack}.role"):
                why = "combustion means no traction battery"
                yield blocks(f"{pack}.role", "traction", why, "Set the propulsion to hybrid or plug_in_hybrid.")
    elif has_none(record, "energy.packs"):
        yield blocks("energy.packs", "no pack", f"propulsion is {propulsion}", "Leave the list out if not stated.")


def capacity(record: Record) -> Iterator[Finding]:
    kind = "L" if light(record) else "heavy" if heavy(record) else "light"
    limits = _ENERGY.get((record.identity.propulsion, kind))
    largest = [
        max((v for v in values(record, f"{pack}.capacity") if isinstance(v, int)), default=None)
        for pack in traction_packs(record)
    ]
    known = [energy for energy in largest if energy is not None]
    if limits is None or not known or len(known) < len(largest):
        return
    total, (low, high) = sum(known), limits
    if not low <= total <= high:
        why = f"{low} to {high} Wh is usual for {record.identity.propulsion}, category {record.identity.category}"
        path = f"{next(iter(traction_packs(record)))}.capacity" if len(known) == 1 else "energy.packs"
        yield look(path, f"{total} Wh", why, "Check the unit: Wh, not kWh or Ah.")


def tanks(record: Record) -> Iterator[Finding]:
    propulsion = record.identity.propulsion
    held = list(items(record, "energy.tanks"))
    fuels = {fuel for tank in held for fuel in values(record, f"{tank}.fuel")}
    if propulsion == "battery" and held:
        if heavy(record):
            yield look("energy.tanks", "a tank", "a battery vehicle has one for a fuel-fired heater at most")
        else:
            yield blocks("energy.tanks", "a tank", "a battery vehicle holds no fuel", "Check the propulsion.")
    if propulsion == "fuel_cell" and "hydrogen" not in fuels:
        yield look("energy.tanks", "no hydrogen tank", "a fuel-cell vehicle has one", "Add it from the guide.")
    if propulsion in _BURNING and has_none(record, "energy.tanks"):
        yield blocks("energy.tanks", "no tank", f"propulsion is {propulsion}", "Leave the list out if not stated.")


def tank_pressure(record: Record) -> Iterator[Finding]:
    for tank in items(record, "energy.tanks"):
        fuels = values(record, f"{tank}.fuel")
        for pressure in values(record, f"{tank}.pressure"):
            if not isinstance(pressure, int):
                continue
            if any(fuel in _LIQUID for fuel in fuels) and pressure > 100:
                why = "petrol and diesel are stored without pressure"
                yield look(f"{tank}.pressure", f"{pressure} kPa", why, "Check the fuel.")
            if any(fuel in _UNDER_PRESSURE for fuel in fuels) and pressure < 100:
                why = "gas is stored under pressure"
                yield look(f"{tank}.pressure", f"{pressure} kPa", why, "Check the unit: kPa, not bar or MPa.")


def engine(record: Record) -> Iterator[Finding]:
    """A battery vehicle has no exhaust and no engine to start."""
    if record.identity.propulsion != "battery":
        return
    if stated(record, "looks.tailpipe"):
        say = look if heavy(record) else blocks
        yield say("looks.tailpipe", "a tailpipe", "a battery vehicle has none", 'Write {"fitted": false} or drop it.')
    if stated(record, "motion.engine_autostart"):
        yield blocks("motion.engine_autostart", "an engine", "a battery vehicle has none", "Check the propulsion.")


def port_presence(record: Record) -> Iterator[Finding]:
    propulsion = record.identity.propulsion
    ports = record.items.get("ports", ())
    if propulsion in _PLUGGED and not ports:
        found = "no port" if has_none(record, "ports") else "not stated"
        cure = "Add the port, or say in a note how the pack is charged."
        yield look("ports", found, f"a {propulsion.replace('_', ' ')} vehicle is charged somewhere", cure)
    if propulsion in ("hybrid", "combustion") and ports:
        yield blocks("ports", "a charge port", f"{propulsion} means it cannot be plugged in", "Check the propulsion.")


def couplers(record: Record) -> Iterator[Finding]:
    """What plugging in does can only be said of a vehicle with a port."""
    if not has_none(record, "ports"):
        return
    for key in ("refuses_drive", "selects_park", "powers_down"):
        path = f"motion.coupled.{key}"
        if True in values(record, path):
            yield blocks(path, "true", "the record says there is no charge port", "Check which of the two is right.")
    if stated(record, "energy.pyro_fuse.port_effect"):
        path = "energy.pyro_fuse.port_effect"
        yield blocks(path, "an effect on the port", "the record says there is no charge port", "Check which is right.")


def port_current(record: Record) -> Iterator[Finding]:
    for path, connector in _standards(record):
        for current in values(record, f"{path}.current"):
            needed = str(current).split("_")
            if not connector.currents.issuperset(needed):
                carried = " and ".join(entry.upper() for entry in sorted(connector.currents))
                why = f"{connector.label} ({connector.designation}) carries {carried} only"
                yield blocks(f"{path}.current", str(current), why, "Check the standard and the current.")


def port_markets(record: Record) -> Iterator[Finding]:
    markets = set(record.identity.markets)
    covered: set[str] = set()
    for path, connector in _standards(record):
        covered |= connector.markets
        if not markets & connector.markets:
            why = f"{connector.label} is usual in {_labels(connector.markets)}, the record is for {_labels(markets)}"
            yield look(f"{path}.standard", connector.label, why, "Check the standard and the markets.")
    if covered and markets & covered and markets - covered:
        why = f"no port of the record is usual in {_labels(markets - covered)}"
        yield note("ports", _labels(markets), why, "A market with another port is another record.")


def port_voltage(record: Record) -> Iterator[Finding]:
    packs = [v for pack in traction_packs(record) for v in values(record, f"{pack}.voltage") if isinstance(v, int)]
    for path, connector in _standards(record):
        if "dc" not in connector.currents or not connector.ratings or values(record, f"{path}.current") == ("ac",):
            continue
        best = max(connector.ratings, key=lambda rating: rating.volts)
        if packs and max(packs) > best.volts:
            why = f"{connector.label} is rated {best.volts} V ({best.standard}), the pack {max(packs)} V"
            yield look(f"{path}.standard", connector.label, why, "Check the standard and the pack voltage.")


def port_door(record: Record) -> Iterator[Finding]:
    for port in items(record, "ports"):
        covers = values(record, f"{port}.cover")
        for mechanism in values(record, f"{port}.door.mechanism"):
            implied = _COVER_OF.get(str(mechanism))
            if implied and covers and implied not in covers:
                why = f"the port is covered by {', '.join(map(str, covers))}"
                yield look(f"{port}.door.mechanism", str(mechanism), why, "Check the cover and the mechanism.")
        for place in values(record, f"{port}.place"):
            if isinstance(place, Place) and {"badge", "plate"} & set(covers) and place.end in ("middle",):
                why = "badges and plates that hide a port are at the front or the rear"
                yield look(f"{port}.place", place.end, why, "Check the place and the cover.")
        if absent(record, f"{port}.lock.fitted") and stated(record, f"{port}.lock.release"):
            why = "the record says the coupler is not locked"
            yield look(f"{port}.lock.release", "a release", why, "Check which of the two is right.")


def _standards(record: Record) -> Iterator[tuple[str, Connector]]:
    for port in items(record, "ports"):
        for standard in values(record, f"{port}.standard"):
            yield port, CONNECTORS[str(standard)]


def _labels(markets: set[str] | frozenset[str]) -> str:
    return ", ".join(MARKETS[key].label for key in MARKETS if key in markets)


CHECKS = (
    voltage_class, packs, capacity, tanks, tank_pressure, engine, port_presence, couplers, port_current,
    port_markets, port_voltage, port_door,
)  # fmt: skip
