"""The hand-over slip from what was ticked on this phone: done and "cannot" alike, each with its time."""

from collections.abc import Mapping

from catalog.device.phone.model import Meta, Ticked
from catalog.device.phone.record import ANY_TITLE
from catalog.domain.cautions import DEMO_MARK
from catalog.domain.identity_words import vehicle_line
from catalog.domain.record import Record
from catalog.plan.brief.hand_over import HandOver, Tick, slip, typed_fields
from catalog.plan.brief.model import BriefInput, BriefVehicle, Data, Section
from catalog.plan.scene import Scene
from catalog.plan.several import Field, Possible, plan_for_several
from catalog.plan.table import shipped_table

_LETTER = "A"  # a slip of the phone is about the one vehicle at hand and shows none


def slip_of(
    record: Record | None, meta: Meta, scene: Scene, ticks: Mapping[str, Ticked], typed: Mapping[str, str]
) -> tuple[Section, ...]:
    """The slip's sections. typed: by the keys of `fields_of_slip`. Raises ValueError for another key."""
    possible = () if record is None else (Possible(meta.code, record, 1.0),)
    table = meta.table or shipped_table()
    plan = plan_for_several(Field(possible), scene, None, table)
    vehicles = () if record is None else (BriefVehicle(meta.code, record.identity.title, vehicle_line(record), record),)
    asked = BriefInput(_LETTER, Data(meta.number, meta.edition, meta.demo), plan, vehicles, scene)
    ticked = tuple(Tick(key, each.state, each.said) for key, each in ticks.items())
    made = slip(HandOver(asked, ticked, typed))
    title = ANY_TITLE if record is None else record.identity.title
    return (Section("vehicle", title, made[0].lines), *made[1:])


def fields_of_slip() -> Mapping[str, str]:
    """What may be typed: key -> label."""
    return typed_fields()


def slip_head(meta: Meta) -> tuple[str, ...]:
    """What stands above a slip: the demo mark, the record and the edition it rests on."""
    mark = (DEMO_MARK,) if meta.demo else ()
    return (*mark, f"Record {meta.code}, {meta.edition}" if meta.code else f"Steps for any vehicle, {meta.edition}")
