"""What is drawn of a vehicle walked round: its steps' numbers where the record says, and where not to cut or push.

Two steps at one place share its disc, which carries the later number: the port is opened, then plugged. What a record
does not state gets a mark of its own, at the place its protective reading names; it is never left out.
"""

from collections.abc import Iterator, Sequence

from catalog.device.phone.shapes import shape_of_step
from catalog.domain.facts import State
from catalog.domain.places import Place
from catalog.domain.record import Record, list_at
from catalog.domain.wording import protective_words, sentence, value_words
from catalog.draw.model import STRUCK, Drawn, Numbered, Zone
from catalog.plan.scene import Said, Scene
from catalog.plan.steps import Plan, Step
from catalog.plan.subject import Subject, attribute, subject_of

# Step -> where it is done: a fact of the record, or of each item of a list. "[]" stands for the step's own item.
_AT: dict[str, str] = {
    "power_off": "motion.switch_place",
    "chock_cycle": "heavy.driven_wheel",
    "plug": "[].place",
    "port_alone": "ports[].place",
    "plug_none_fits": "ports[].place",
    "plug_not_stated": "ports[].place",
    "plug_refused": "ports[].place",
    "plug_accepted": "ports[].place",
    "cut_loop": "[].place",
    "cut_disconnect": "[].place",
    "cut_fuse": "[].place",
    "cut_switch": "[].place",
    "cut_low_voltage": "[].place",
    "cut_way": "[].place",
    "cut_out_of_reach": "[].place",
    "cut_sources": "energy.low_voltage[].place",
    "doors": "access.doors[].place",
    "air_doors": "heavy.door_air_release_place",
    "fire_water": "aftermath.pack_water_place",
}
# What holds a vehicle goes where no record says it: at its wheels, or its sides as it lies. Common practice, no source.
_AT_WHEELS = ("chock", "chock_cycle", "hold_lying")
_WHEELS = (Place("left", "rear_quarter", "low"), Place("right", "rear_quarter", "low"))
_MIDDLE = Place("centre", "middle", "under")
_SIDES = (Place("left", "middle", "mid"), Place("right", "middle", "mid"))
_SILLS = (Place("left", "middle", "low"), Place("right", "middle", "low"), _MIDDLE)
_RAILS = (Place("left", "middle", "roof"), Place("right", "middle", "roof"))
_TAIL = (Place("centre", "rear_quarter", "low"),)
# List -> kind of its zones, and where its silence is marked.
_ZONES: tuple[tuple[str, str, tuple[Place, ...]], ...] = (
    ("structure.no_cut", "no_cut", _SIDES),
    ("structure.strong", "strong", ()),
    ("structure.never_push", "no_push", _SILLS),
    ("energy.packs", "pack", (_MIDDLE,)),
    ("energy.cables", "cable", (_MIDDLE,)),
    ("energy.low_voltage", "battery12", ()),
    ("energy.tanks", "tank", _TAIL),
    ("restraints.inflators", "inflator", _RAILS),
    ("restraints.pretensioners", "pretensioner", _SIDES),
    ("restraints.gas_struts", "gas_strut", ()),
)
# What says more of an item than its list's name.
_TELLS = {
    "structure.no_cut": "why",
    "structure.never_push": "why",
    "structure.strong": "material",
    "energy.packs": "role",
    "energy.cables": "what",
    "energy.low_voltage": "voltage",
    "energy.tanks": "fuel",
    "restraints.inflators": "kind",
}
# Steps at a flank: on the ground they are out of reach. Of a way of cutting off the record says when it is reached.
_BY_SIDE = ("plug", "doors")
_NOT_STATED = "not_stated"


def drawn_of(record: Record | None, plan: Plan, scene: Scene) -> Drawn:
    """The drawing of one vehicle, or of any, in a scene. plan: its steps in that scene."""
    subject = subject_of(record, scene)
    body = subject.plainly("looks.body")
    return Drawn(
        "" if body is None else str(body),
        _size(subject, "looks.length"),
        _size(subject, "looks.width"),
        _size(subject, "looks.height"),
        tuple(_numbered(subject, plan, scene)),
        tuple(_zones(subject)),
    )


def out_of_reach(place: Place, scene: Scene) -> bool:
    """Whether a place lies on the ground in the posture that was said."""
    return (
        (place.side == "left" and scene.said("left_down") is Said.YES)
        or (place.side == "right" and scene.said("right_down") is Said.YES)
        or (place.level == "roof" and scene.said("on_roof") is Said.YES)
    )


def places_of(step: Step, subject: Subject) -> tuple[Place, ...]:
    """Where a step is done, as far as the record states it; every side of a dispute."""
    places = [place for path in _paths(step, subject) for place in _places(subject, path)]
    if not places and step.id in _AT_WHEELS:
        return _WHEELS
    return tuple(dict.fromkeys(places))


def _size(subject: Subject, path: str) -> int:
    value = subject.plainly(path)
    return value if isinstance(value, int) else 0


def _numbered(subject: Subject, plan: Plan, scene: Scene) -> Iterator[Numbered]:
    cut = {_zone_of(place) for step in plan.steps if step.id == "cut_low_voltage" for place in places_of(step, subject)}
    for number, step in enumerate(plan.steps, 1):
        shape = shape_of_step(step)
        for place in _shown(step, places_of(step, subject)):
            # A battery that is taken off is no other source.
            if step.id != "cut_sources" or _zone_of(place) not in cut:
                struck = step.id in _BY_SIDE and out_of_reach(place, scene)
                wheel = step.id in _AT_WHEELS
                yield Numbered(number, STRUCK if struck else shape, place, _label(step), place.at is None, wheel)


def _shown(step: Step, places: tuple[Place, ...]) -> Sequence[Place]:
    """Doors carry one disc a side: the step is about all of them."""
    if step.id != "doors":
        return places
    sides = list(dict.fromkeys(place.side for place in places))
    return [next(place for place in places if place.side == side) for side in sides]


def _zone_of(place: Place) -> str:
    return f"{place.side} {place.end} {place.level} {place.landmark}"


def _label(step: Step) -> str:
    return step.do.removesuffix(".")


def _paths(step: Step, subject: Subject) -> Sequence[str]:
    path = _AT.get(step.id, "")
    head, mark, tail = path.partition("[]")
    if not mark:
        return [path] if path else []
    return [f"{step.item}{tail}"] if not head else [f"{item}{tail}" for item in subject.items(head)]


def _places(subject: Subject, path: str) -> Sequence[Place]:
    return [value for value in subject.said(path) if isinstance(value, Place)]


def _zones(subject: Subject) -> Iterator[Zone]:
    for path, kind, silent in _ZONES:
        items = subject.items(path)
        for item in items:
            yield from _zone(subject, item, kind, silent)
        if not items and not _none_to_state(subject, path):
            listed = list_at(path)
            yield from (Zone(place, _NOT_STATED, sentence(f"{listed.label}: {listed.empty}")) for place in silent)


def _zone(subject: Subject, item: str, kind: str, silent: tuple[Place, ...]) -> Iterator[Zone]:
    path = f"{item}.place"
    fact = subject.fact(path)
    listed = list_at(item.partition("[")[0])
    places = _places(subject, path)
    if not places:
        said = sentence(f"{listed.item}: {State.NOT_STATED.label}: {protective_words(attribute(path))}")
        yield from (Zone(place, _NOT_STATED, said) for place in silent or (_MIDDLE,))
    doubt = "" if fact.state is State.STATED else f", {fact.state.label}"
    yield from (Zone(place, kind, sentence(f"{_named(subject, item, listed.item)}{doubt}")) for place in places)


def _named(subject: Subject, item: str, name: str) -> str:
    """What is there: why nobody cuts, what a cable is, what a tank holds; or the list's own word."""
    key = _TELLS.get(item.partition("[")[0], "")
    said = subject.plainly(f"{item}.{key}") if key else None
    return name if said is None else value_words(attribute(f"{item}.{key}"), said)


def _none_to_state(subject: Subject, path: str) -> bool:
    """No tank on a battery vehicle unless a guide speaks of one; nothing of a list that is complete and empty."""
    if subject.record is not None and path in subject.record.complete:
        return True
    return path == "energy.tanks" and subject.propulsion == "battery"
