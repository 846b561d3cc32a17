"""The first screen of a record: stop it moving, doors, cut high voltage off, do not cut here.

Numbers are the order of reach and never change while a crew works; the scene only strikes.
An aid that is not stated is never offered as help: without a stated "refuses its own drive"
the charge port gets no disc.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from catalog.domain.facts import Fact, State
from catalog.domain.record import Record, attribute_at
from catalog.domain.sources import Source
from catalog.web import wording
from catalog.web.facts import FactView, fact_view, sentence

_TWO_WHEELED = frozenset({"L1", "L2", "L3", "L4", "L5"})
_CUT_WITH_TOOL = frozenset({"lv_cut_loop", "lv_negative", None})
_NEVER_PLUGGED = frozenset({"hybrid", "combustion"})


@dataclass(frozen=True, slots=True)
class Detail:
    """A line under a step. state: shown as a mark unless it is plainly stated ("")."""

    text: str
    state: str = ""


@dataclass(frozen=True, slots=True)
class Step:
    """A thing to do. number: None for a line without a disc. shape: "solid" or "ring"."""

    number: int | None
    shape: str
    title: str
    details: tuple[Detail, ...] = ()
    state: str = ""
    port: bool = False


@dataclass(frozen=True, slots=True)
class Zone:
    """Where not to cut. fill: "hatch" stated, "lattice" never push or pierce, "dots" not stated."""

    fill: str
    title: str
    why: str = ""
    state: str = ""


@dataclass(frozen=True, slots=True)
class FirstScreen:
    """The four groups. port_step: number of the port's ring, None when the port is no help."""

    motion: tuple[Step, ...]
    doors: tuple[Step, ...]
    cutoff: tuple[Step, ...]
    zones: tuple[Zone, ...]
    port_step: int | None
    can_plug: bool
    order_note: str = ""


class _Reader:
    """Facts of one record by path, as views."""

    def __init__(self, record: Record, sources: Mapping[str, Source]) -> None:
        self.record = record
        self.sources = sources

    def fact(self, path: str) -> Fact:
        return self.record.fact(path)

    def view(self, path: str) -> FactView:
        return fact_view(path, attribute_at(path), self.record.fact(path), self.sources)

    def items(self, path: str) -> tuple[str, ...]:
        return tuple(f"{path}[{item}]" for item in self.record.items.get(path, ()))

    def detail(self, path: str, lead: str = "") -> Detail:
        """One fact as a line: "Lead: value", every side when disputed, the reading when not stated."""
        return _detail(self.view(path), lead)


def first_screen(record: Record, sources: Mapping[str, Source]) -> FirstScreen:
    """Build the first screen. Discs are numbered through all groups."""
    reader = _Reader(record, sources)
    can_plug = record.identity.propulsion not in _NEVER_PLUGGED or bool(record.items.get("ports"))
    motion = _motion(reader, can_plug=can_plug)
    doors = _doors(reader)
    cutoff = _cutoff(reader)
    numbered = _number((*motion, *doors, *cutoff))
    first, second = len(motion), len(motion) + len(doors)
    note = reader.view("cutoff.order_note")
    return FirstScreen(
        motion=numbered[:first],
        doors=numbered[first:second],
        cutoff=numbered[second:],
        zones=_zones(reader),
        port_step=next((step.number for step in numbered if step.port), None),
        can_plug=can_plug,
        order_note=note.text if note.stated else "",
    )


def _number(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    made, next_number = [], 1
    for step in steps:
        if step.number is None:
            made.append(step)
        else:
            made.append(replace(step, number=next_number))
            next_number += 1
    return tuple(made)


def _motion(reader: _Reader, *, can_plug: bool) -> tuple[Step, ...]:
    two_wheeled = reader.record.identity.category in _TWO_WHEELED
    chock = Step(0, "solid", wording.CHOCK_CYCLE if two_wheeled else wording.CHOCK, (Detail(wording.CHOCK_MORE),))
    made = [chock, _switch_off(reader)]
    if can_plug:
        made.append(_plug(reader))
    return tuple(made)


def _switch_off(reader: _Reader) -> Step:
    off = reader.view("motion.switch_off")
    key = reader.view("motion.key_distance")
    details = [
        reader.detail("motion.parking_brake", "Brake"),
        Detail(f"Key at least {key.text} away") if key.plain else _detail(key, "Key"),
    ]
    if not off.plain:
        details.insert(0, _detail(off, "Switch off"))
    park = reader.view("motion.park_without_12v")
    if not (park.plain and reader.fact(park.path).value in ("stays", "engages")):
        details.append(_detail(park, "When 12 V is lost, park"))
    return Step(0, "solid", sentence(off.text) if off.plain else wording.OFF_NOT_STATED, _joined(details))


def _plug(reader: _Reader) -> Step:
    """The charge port: a ring only where refusing drive is stated, otherwise a line that says why not."""
    refuses = reader.view("motion.coupled.refuses_drive")
    where = tuple(_port(reader, port) for port in reader.items("ports"))
    where = where or (Detail("Where: not stated, find it by eye", State.NOT_STATED),)
    if refuses.plain and reader.fact(refuses.path).value is True:
        title = wording.PLUG
        if len(where) == 1 and not where[0].state:
            title, where = f"{wording.PLUG}: {where[0].text}", ()
        return Step(0, "ring", title, (*_capital(where), *_pyro(reader)), port=True)
    where = _capital(where)
    if refuses.plain:
        return Step(None, "", wording.PLUG_REFUSES_NOT, where)
    if refuses.state == State.DISPUTED:
        return Step(None, "", wording.PLUG_DISPUTED, where, State.DISPUTED)
    return Step(None, "", f"Plugging in: {refuses.text}", where, State.NOT_STATED)


def _capital(lines: tuple[Detail, ...]) -> tuple[Detail, ...]:
    return tuple(replace(line, text=sentence(line.text)) for line in lines)


def _port(reader: _Reader, path: str) -> Detail:
    place, standard = reader.view(f"{path}.place"), reader.view(f"{path}.standard")
    if not place.plain:
        return _detail(place, "Where")
    return Detail(f"{place.text} ({standard.text})" if standard.plain else place.text)


def _pyro(reader: _Reader) -> tuple[Detail, ...]:
    """What the pyro-fuse may do to the plug; silent only where a guide says that it does nothing."""
    fuse, effect = reader.view("energy.pyro_fuse.fitted"), reader.view("energy.pyro_fuse.port_effect")
    if fuse.state == State.NOT_FITTED:
        return ()
    if fuse.state == State.NOT_STATED:
        return (_detail(fuse, "Pyro-fuse"),)
    if effect.plain and reader.fact(effect.path).value == "no_effect":
        return ()
    return (_detail(effect, "Pyro-fuse, once fired"),)


def _doors(reader: _Reader) -> tuple[Step, ...]:
    """One step for all doors that open alike."""
    alike: dict[tuple[Detail, Detail], list[str]] = {}
    for path in reader.items("access.doors"):
        name = reader.view(f"{path}.name")
        ways = (reader.detail(f"{path}.outside", "Outside"), reader.detail(f"{path}.inside", "Inside"))
        alike.setdefault(ways, []).append(name.text if name.stated else "door, which one not stated")
    if not alike:
        nothing = Detail("No release without power to count on")
        return (Step(None, "", "None stated", (nothing,), State.NOT_STATED),)
    return tuple(Step(0, "solid", sentence(" and ".join(names)), ways) for ways, names in alike.items())


def _cutoff(reader: _Reader) -> tuple[Step, ...]:
    made = tuple(_method(reader, path) for path in reader.items("cutoff.methods"))
    if made:
        return made
    nothing = Detail("High voltage stays on; work as if live")
    return (Step(None, "", "No way stated", (nothing,), State.NOT_STATED),)


def _method(reader: _Reader, path: str) -> Step:
    kind, place = reader.view(f"{path}.kind"), reader.view(f"{path}.place")
    title = sentence(kind.text) if kind.plain else "Way to cut off"
    first: list[Detail] = [] if kind.plain else [_detail(kind, "Way")]
    if place.plain:
        title = f"{title}: {place.text}"
    else:
        first.append(_detail(place, "Where"))
    opening = reader.view(f"{path}.opening")
    if opening.stated:
        first.append(_detail(opening, "First"))
    last = [reader.detail(f"{path}.wait", "Wait")]
    reach = reader.view(f"{path}.reachable_when")
    if reach.stated:
        last.append(_detail(reach, "Reachable"))
    return Step(0, "solid", title, (*_joined(first), *_joined(_cut_lines(reader, path)), *_joined(last)))


def _cut_lines(reader: _Reader, path: str) -> list[Detail]:
    """Tool, number of cuts and label; a plug pulled by hand has neither cuts nor label to count."""
    cut = reader.fact(f"{path}.kind").value in _CUT_WITH_TOOL
    made = []
    cuts, label, tool = (reader.view(f"{path}.{key}") for key in ("cuts", "label", "tool"))
    if cuts.plain:
        made.append(Detail("1 cut" if cuts.text == "1" else f"{cuts.text} cuts"))
    elif cut or cuts.stated:
        made.append(_detail(cuts, "Cuts"))
    if label.plain:
        made.append(Detail(f"Label “{label.text}”"))
    elif cut or label.stated:
        made.append(_detail(label, "Label"))
    made.append(_detail(tool, "Tool"))
    return made


def _zones(reader: _Reader) -> tuple[Zone, ...]:
    made = [_zone(reader, path, "hatch") for path in reader.items("structure.no_cut")]
    made += [_zone(reader, path, "lattice") for path in reader.items("structure.never_push")]
    if not reader.items("structure.no_cut"):
        return (Zone("dots", wording.NO_CUT_EMPTY, state=State.NOT_STATED), *made)
    made.append(Zone("dots", wording.ELSEWHERE, wording.STRIP, State.NOT_STATED))
    return tuple(made)


def _zone(reader: _Reader, path: str, fill: str) -> Zone:
    place, why = reader.view(f"{path}.place"), reader.view(f"{path}.why")
    state = "" if place.state == State.STATED else place.state
    reason = why.text if why.stated else ("never push, pierce or lever" if fill == "lattice" else "")
    return Zone(fill, sentence(place.text), sentence(reason), state)


def _detail(view: FactView, lead: str) -> Detail:
    start = f"{lead}: " if lead else ""
    if view.state == State.STATED:
        return Detail(start + view.text)
    if view.state == State.MAY_BE_FITTED:
        claim = view.claims[0]
        parts = ["may be fitted", claim.depends, claim.text if claim.text != "fitted" else "", view.reading]
        return Detail(start + ": ".join(part for part in parts if part), view.state)
    if view.state == State.DISPUTED:
        sides = " or ".join(f"{c.text} ({', '.join(s.short for s in c.sources)})" for c in view.claims)
        return Detail(f"{start}guides disagree: {sides}", view.state)
    return Detail(start + view.text, view.state)


def _joined(details: list[Detail]) -> tuple[Detail, ...]:
    """Plainly stated lines run together as sentences; the others keep a line and a mark of their own."""
    plain = ". ".join(sentence(detail.text) for detail in details if not detail.state)
    marked = tuple(detail for detail in details if detail.state)
    return (Detail(plain), *marked) if plain else marked
