"""A record on the phone: scene, port line, four answers, steps, waits; of any vehicle too."""

from collections.abc import Mapping, Sequence
from typing import Any

from catalog.device.phone.answers import four_answers
from catalog.device.phone.model import Badge, Meta, RecordView, Ticked
from catalog.device.phone.port_line import port_line
from catalog.device.phone.scene_cells import first_cells, other_cells
from catalog.device.phone.step_views import clocks, phase_views
from catalog.domain.cautions import DEMO_MARK, FULL, short
from catalog.domain.facts import State
from catalog.domain.identity_words import vehicle_line
from catalog.domain.places import Place
from catalog.domain.record import Record
from catalog.plan.brief.dangers import also_words, dangers_of
from catalog.plan.brief.vehicles import Each
from catalog.plan.derived_items import Values
from catalog.plan.scene import Scene
from catalog.plan.steps import plan_for
from catalog.plan.subject import subject_of
from catalog.plan.table import Table

ANY_TITLE = "Any vehicle"
ANY_SUBTITLE = "steps that hold whatever it is"
_ALWAYS = ("two_wheeled", "heavy", "engine", "assume_live")
_TAILGATES = ("hatchback", "suv", "estate", "pickup", "van", "people_carrier")
_BOOTS = ("saloon", "coupe", "convertible")


def record_view(record: Record | None, meta: Meta, scene: Scene, ticks: Mapping[str, Ticked]) -> RecordView:
    """What the screens of one vehicle say in a scene. record: None for any vehicle. ticks: by key of the step."""
    each = each_for(record, scene, meta.table)
    port, dangers = port_line(each, scene), dangers_of([each])
    return RecordView(
        code=meta.code,
        title=ANY_TITLE if record is None else record.identity.title,
        subtitle=ANY_SUBTITLE if record is None else vehicle_line(record),
        edition=meta.edition,
        edition_short=f"edition {meta.number}",
        demo=DEMO_MARK if meta.demo else "",
        short=short(meta.number, demo=meta.demo),
        withdrawn=meta.withdrawn,
        doubted=meta.doubts,
        cells=first_cells(scene),
        others=other_cells(scene),
        port=port,
        danger=_danger(dangers),
        answers=four_answers(each, scene, ticks, port),
        badge=None if record is None else badge(record),
        phases=phase_views(each, ticks),
        clocks=clocks(each, ticks),
        cautions=FULL,
    )


def each_for(record: Record | None, scene: Scene, table: Table | None = None) -> Each:
    """One vehicle, or any, with its steps in a scene."""
    subject = subject_of(record, scene)
    return Each(subject, plan_for(record, scene, table), Values(subject, scene))


def _danger(dangers: Sequence[Mapping[str, Any]]) -> str:
    """The worst that the scene brings, and what else; what holds of the vehicle in any scene stands in its steps."""
    if dangers[0]["id"] in _ALWAYS:
        return ""
    return " ".join(part for part in (dangers[0]["forms"][-1], also_words(dangers)) if part)


def badge(record: Record) -> Badge:
    """The first badge that is plainly stated; without one, the vehicle's own name."""
    for item in record.items.get("looks.badges", ()):
        text = record.fact(f"looks.badges[{item}].text")
        place = record.fact(f"looks.badges[{item}].place")
        if text.state is State.STATED:
            return Badge(f"{_badge_at(record, place.value)} reads", f"{text.value}?")
    return Badge("Badge not stated. Is it the", f"{record.identity.title}?")


def _badge_at(record: Record, place: object) -> str:
    if not isinstance(place, Place):
        return "Badge"
    if place.end == "front_face":
        return "Front badge"
    if place.end != "rear_face":
        return f"Badge on the {place.side}" if place.side in ("left", "right") else "Badge"
    body = record.fact("looks.body").value
    if body in _TAILGATES:
        return "Tailgate badge"
    return "Boot badge" if body in _BOOTS else "Rear badge"
