"""Stop it moving: chock always first, then off, then the port, and only where it is a help."""

from dataclasses import replace

from catalog.domain.facts import State
from catalog.domain.wording import sentence
from catalog.web import wording
from catalog.web.first.lines import Detail, Reader, Step, fact_line, joined

_TWO_WHEELED = frozenset({"L1", "L2", "L3", "L4", "L5"})
_NEVER_PLUGGED = frozenset({"hybrid", "combustion"})


def motion_steps(reader: Reader) -> tuple[Step, ...]:
    """The steps, unnumbered. A vehicle that is never plugged in has no port step."""
    two_wheeled = reader.record.identity.category in _TWO_WHEELED
    title = wording.CHOCK_CYCLE if two_wheeled else wording.CHOCK
    chock = Step(0, "solid", title, (Detail(wording.CHOCK_MORE),), wheels=True)
    made = [chock, _switch_off(reader)]
    if can_plug(reader):
        made.append(_plug(reader))
    return tuple(made)


def can_plug(reader: Reader) -> bool:
    """Whether the vehicle may have a charge port at all."""
    return reader.record.identity.propulsion not in _NEVER_PLUGGED or bool(reader.items("ports"))


def _switch_off(reader: Reader) -> Step:
    off = reader.view("motion.switch_off")
    key = reader.view("motion.key_distance")
    details = [
        reader.detail("motion.parking_brake", "Brake"),
        Detail(f"Key at least {key.text} away") if key.plain else fact_line(key, "Key"),
    ]
    if not off.plain:
        details.insert(0, fact_line(off, "Switch off"))
    park = reader.view("motion.park_without_12v")
    if not (park.plain and reader.fact(park.path).value in ("stays", "engages")):
        details.append(fact_line(park, "When 12 V is lost, park"))
    title = sentence(off.text) if off.plain else wording.OFF_NOT_STATED
    return Step(0, "solid", title, joined(details), at=("motion.switch_place",))


def _plug(reader: Reader) -> Step:
    """The charge port: a ring only where refusing drive is stated, otherwise a line that says why not."""
    refuses = reader.view("motion.coupled.refuses_drive")
    where = tuple(_port(reader, port) for port in reader.items("ports"))
    where = where or (Detail("Where: not stated, find it by eye", State.NOT_STATED),)
    if refuses.plain and reader.fact(refuses.path).value is True:
        title = wording.PLUG
        if len(where) == 1 and not where[0].state:
            title, where = f"{wording.PLUG}: {where[0].text}", ()
        at = tuple(f"{port}.place" for port in reader.items("ports"))
        return Step(0, "ring", title, (*_capital(where), *_pyro(reader)), port=True, at=at)
    where = _capital(where)
    if refuses.plain:
        return Step(None, "", wording.PLUG_REFUSES_NOT, where)
    if refuses.state == State.DISPUTED:
        return Step(None, "", wording.PLUG_DISPUTED, where, State.DISPUTED)
    return Step(None, "", f"Plugging in: {refuses.text}", where, State.NOT_STATED)


def _capital(lines: tuple[Detail, ...]) -> tuple[Detail, ...]:
    return tuple(replace(line, text=sentence(line.text)) for line in lines)


def _port(reader: Reader, path: str) -> Detail:
    place, standard = reader.view(f"{path}.place"), reader.view(f"{path}.standard")
    if not place.plain:
        return fact_line(place, "Where")
    return Detail(f"{place.text} ({standard.text})" if standard.plain else place.text)


def _pyro(reader: Reader) -> tuple[Detail, ...]:
    """What the pyro-fuse may do to the plug; silent only where a guide says that it does nothing."""
    fuse, effect = reader.view("energy.pyro_fuse.fitted"), reader.view("energy.pyro_fuse.port_effect")
    if fuse.state == State.NOT_FITTED:
        return ()
    if fuse.state == State.NOT_STATED:
        return (fact_line(fuse, "Pyro-fuse"),)
    if effect.plain and reader.fact(effect.path).value == "no_effect":
        return ()
    return (fact_line(effect, "Pyro-fuse, once fired"),)
