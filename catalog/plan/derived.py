"""Derived facts of the scene: what several of its fields come to, each yes, no or unknown.

Those of the vehicle are in `derived_vehicle`, those of one port or way in `derived_items`.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from catalog.plan.scene import DONE, FIELDS, Said, Scene, either
from catalog.plan.subject import Subject


@dataclass(frozen=True, slots=True)
class Case:
    """What a condition is weighed on. item: the path of the port or way it is asked about."""

    subject: Subject
    scene: Scene
    item: str = ""


Function = Callable[[Case], Said]

PACK_SIGNS = ("jet", "vapour", "hiss", "pop", "odour")
WATER = ("water", "water_deep", "water_salt")
# Any of these, and nothing is attached at a port. No record states a permission in water.
PORT_RULED_OUT = ("fire", *PACK_SIGNS, *WATER, "recovered", "leak", "port_damaged", "charger_attached", "orange_cable",
                  "converted", "cut_off_done")  # fmt: skip
# Each confirmed absent, and nothing but a medical case: then cutting off may be left out.
CONFIRMED_ABSENT = ("trapped", "danger_to_life", "fire", *PACK_SIGNS, *WATER, "recovered", "leak", "pack_damage",
                    "sill_damage", "cutting_planned", "airbags", "orange_cable", "converted",
                    "charger_attached")  # fmt: skip

OFF_WHEELS = ("left_down", "right_down", "on_side", "on_roof")
OTHERS = ("trailer", "towing", "on_carrier", "under_vehicle", "over_vehicle")


def any_of(case: Case, *fields: str) -> Said:
    return either(case.scene.said(field) for field in fields)


def record_known(case: Case) -> Said:
    return Said.of(case.subject.record is not None)


def pack_signs(case: Case) -> Said:
    return any_of(case, *PACK_SIGNS)


def pack_fire(case: Case) -> Said:
    return any_of(case, "fire", *PACK_SIGNS)


def in_water(case: Case) -> Said:
    return any_of(case, *WATER)


def immersed(case: Case) -> Said:
    """In water and not known to be out of it."""
    return Said.NO if case.scene.said("recovered") is Said.YES else in_water(case)


def off_its_wheels(case: Case) -> Said:
    return any_of(case, *OFF_WHEELS)


def others_involved(case: Case) -> Said:
    return any_of(case, *OTHERS)


def port_ruled_out(case: Case) -> Said:
    return any_of(case, *PORT_RULED_OUT)


def cut_off_not_needed(case: Case) -> Said:
    """A medical case only, everything that calls for cutting off confirmed absent. Unknown is not absent."""
    absent = all(case.scene.said(field) is Said.NO for field in CONFIRMED_ABSENT)
    return Said.of(absent and case.scene.said("casualty") is Said.YES)


OF_SCENE: Mapping[str, Function] = {
    function.__name__: function
    for function in (
        record_known, pack_signs, pack_fire, in_water, immersed, off_its_wheels, others_involved, port_ruled_out,
        cut_off_not_needed,
    )
}  # fmt: skip
# The fields of the scene behind a composite fact, for saying what is still to be made sure of.
MADE_OF: Mapping[str, tuple[str, ...]] = {
    "pack_signs": PACK_SIGNS,
    "pack_fire": ("fire", *PACK_SIGNS),
    "in_water": WATER,
    "immersed": WATER,
    "off_its_wheels": OFF_WHEELS,
    "others_involved": OTHERS,
    "port_ruled_out": PORT_RULED_OUT,
}
SCENE_NAMES = frozenset((*FIELDS, *DONE))
