"""The record's specification in the order of an emergency response guide by ISO 17840-3, as another view of it.

The order (identification, immobilisation, disabling hazards, access, stored energy; fire, submersion; towing,
transport, storage; more) is the template's; the exact headings are from memory. Every attribute stands in exactly one
section.
"""

from dataclasses import dataclass

from catalog.domain.spec import TREE, ListOf, Node, Section

ISO_17840_3 = "iso17840-3"


@dataclass(frozen=True, slots=True)
class Part:
    """Nodes of the specification below one path; prefix "" for a list of its own."""

    prefix: str
    nodes: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class TemplateSection:
    """number: as the template counts."""

    number: int
    title: str
    parts: tuple[Part, ...]


# (number, title, ((section, keys of its children or () for the whole), ...))
_ROWS: tuple[tuple[int, str, tuple[tuple[str, tuple[str, ...]], ...]], ...] = (
    (1, "Identification, recognition", (("looks", ()),)),
    (
        2, "Immobilisation, stabilisation, lifting",
        (
            ("motion", ("switch_off", "switch_place", "wakes_again", "selector", "auto_park", "coupled",
                        "park_without_12v", "parking_brake", "ready_shown", "engine_autostart",
                        "self_moving_suspension", "key_distance")),
            ("ports", ()),
            ("structure", ("lift", "strut")),
            ("heavy", ("air_brakes", "air_suspension", "tilting_cab", "powered_body", "driven_wheel")),
        ),
    ),
    (3, "Disabling direct hazards", (("cutoff", ()), ("heavy", ("switches",)), ("energy", ("pyro_fuse",)))),
    (
        4, "Access to the occupants",
        (
            ("access", ()),
            ("heavy", ("door_air_release", "door_air_release_place")),
            ("restraints", ()),
            ("structure", ("no_cut", "never_push", "strong", "ram", "glazing")),
        ),
    ),
    (5, "Stored energy, liquids, gases, solids",
     (("energy", ("packs", "cables", "low_voltage", "outlets", "roof_rails", "tanks")),)),
    (6, "In case of fire",
     (("aftermath", ("pack_water", "pack_water_place", "venting_signs", "reignition_watch")),)),
    (7, "In case of submersion", (("aftermath", ("salt_water",)),)),
    (8, "Towing, transport, storage",
     (("aftermath", ("wheels_turning", "stand_off", "tow_eye")), ("motion", ("neutral", "tow_mode")))),
    (9, "Important additional information", (("heavy", ("about",)), ("aftermath", ("about",)))),
)  # fmt: skip


def template_sections() -> tuple[TemplateSection, ...]:
    """Every section of the template, in its order. Raises KeyError for a key the specification does not have."""
    return tuple(
        TemplateSection(number, title, tuple(_part(key, keys) for key, keys in rows)) for number, title, rows in _ROWS
    )


def _part(key: str, keys: tuple[str, ...]) -> Part:
    section = next(section for section in TREE if section.key == key)
    if isinstance(section, ListOf):
        return Part("", (section,))
    return Part(key, section.children if not keys else tuple(_child(section, child) for child in keys))


def _child(section: Section, key: str) -> Node:
    found = {node.key: node for node in section.children}
    return found[key]
