"""What the strip is tried on: every demo record as the phone draws it, in every posture."""

from functools import cache

from catalog.device.phone.drawn import drawn_of
from catalog.domain.record import Record
from catalog.draw.model import POSTURES, Drawn
from catalog.plan.scene import Said, Scene
from catalog.plan.steps import plan_for
from tests.plan_cases import demo_records

# Posture -> what the scene says of it.
_SAID: dict[str, dict[str, Said]] = {
    "": {},
    "wheels": {"left_down": Said.NO, "right_down": Said.NO, "on_roof": Said.NO},
    "left_down": {"left_down": Said.YES, "right_down": Said.NO, "on_roof": Said.NO},
    "right_down": {"left_down": Said.NO, "right_down": Said.YES, "on_roof": Said.NO},
    "roof": {"left_down": Said.NO, "right_down": Said.NO, "on_roof": Said.YES},
}


def drawn_for(record: Record, posture: str) -> Drawn:
    """A record in the scene of which nothing is known but how it lies."""
    scene = Scene(_SAID[posture])
    return drawn_of(record, plan_for(record, scene), scene)


@cache
def cases() -> tuple[tuple[str, str, Drawn], ...]:
    """(code, posture, what is drawn) of all demo records."""
    return tuple(
        (code, posture, drawn_for(record, posture)) for code, record in demo_records().items() for posture in POSTURES
    )
