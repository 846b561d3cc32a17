"""The first screen of a record: stop it moving, doors, cut high voltage off, do not cut here.

Numbers are the order of reach and never change while a crew works; the scene only strikes.
An aid that is not stated is never offered as help: without a stated "refuses its own drive"
the charge port gets no disc.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from catalog.domain.record import Record
from catalog.domain.sources import Source
from catalog.web.first.lines import Detail, Reader, Step, Zone
from catalog.web.first.motion import can_plug, motion_steps
from catalog.web.first.reach import cutoff_steps, door_steps
from catalog.web.first.zones import no_cut_zones

__all__ = ["Detail", "FirstScreen", "Step", "Zone", "first_screen"]


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


def first_screen(record: Record, sources: Mapping[str, Source]) -> FirstScreen:
    """Build the first screen. Discs are numbered through all groups."""
    reader = Reader(record, sources)
    motion, doors, cutoff = motion_steps(reader), door_steps(reader), cutoff_steps(reader)
    numbered = _number((*motion, *doors, *cutoff))
    first, second = len(motion), len(motion) + len(doors)
    note = reader.view("cutoff.order_note")
    return FirstScreen(
        motion=numbered[:first],
        doors=numbered[first:second],
        cutoff=numbered[second:],
        zones=no_cut_zones(reader),
        port_step=next((step.number for step in numbered if step.port), None),
        can_plug=can_plug(reader),
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
