"""The scene bar: the four questions above everything, and every other field of the scene."""

from catalog.device.phone.model import Cell
from catalog.domain.wording import sentence
from catalog.plan.scene import DONE, FIELDS, Said, Scene, field_words

# Field -> its label in the cell, and the question in full.
FIRST: dict[str, tuple[str, str]] = {
    "fire": ("Fire or smoke?", "Can you see fire or smoke at or in the vehicle?"),
    "water": ("Water?", "Can you see water at or in the vehicle?"),
    "charger_attached": ("Plugged in?", "Is it plugged in to a charger or a supply?"),
    "port_damaged": ("Port damaged?", "Is the charge port crushed, burnt or wet inside?"),
}
# Asked next, in this order; the rest of the fields follow in the order of the scene.
_NEXT = ("trapped", "danger_to_life", "left_down", "right_down", "on_roof", "pack_damage", "vapour", "airbags",
         "power_alive", "cutting_planned", "enclosed", "orange_cable", "converted")  # fmt: skip
ANSWER = {"yes": "YES", "no": "no", "unknown": "not said"}


def first_cells(scene: Scene) -> tuple[Cell, ...]:
    """The four that stand above everything."""
    return tuple(_cell(key, label, ask, scene) for key, (label, ask) in FIRST.items())


def other_cells(scene: Scene) -> tuple[Cell, ...]:
    """Every other field: those that are known first, then as they are asked next."""
    keys = [key for key in dict.fromkeys((*_NEXT, *FIELDS, *DONE)) if key not in FIRST]
    cells = [_other(key, scene) for key in keys]
    known = [cell for cell in cells if cell.said == "yes" or (cell.said == "no" and cell.key not in DONE)]
    return (*known, *(cell for cell in cells if cell not in known))


def _other(key: str, scene: Scene) -> Cell:
    label = f"{sentence(field_words(key, Said.YES))}?"
    return _cell(key, label, label, scene)


def _cell(key: str, label: str, ask: str, scene: Scene) -> Cell:
    said = scene.said(key).value
    return Cell(key, label, ask, said, ANSWER[said])
