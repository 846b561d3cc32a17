"""What the record's specification is made of.

A record is a tree: sections hold attributes, structs (fixed sub-objects) and lists of items
with record-local ids. Paths read `section.key`, `section.list[id].struct.key`; the ports
section is itself a list: `ports[a].door.mechanism`.
"""

from dataclasses import dataclass, field
from enum import StrEnum

from catalog.domain.terms import Vocabulary


@dataclass(frozen=True, slots=True)
class Text:
    """Free text, 1 to `longest` characters."""

    longest: int = 400


@dataclass(frozen=True, slots=True)
class Terms:
    """One term of a vocabulary, or (many) a set of them."""

    vocabulary: Vocabulary
    many: bool = False


@dataclass(frozen=True, slots=True)
class Number:
    """A whole number in `unit` (V, Wh, mm, s, kPa, "" for a count), low and high inclusive."""

    unit: str
    low: int
    high: int


@dataclass(frozen=True, slots=True)
class YesNo:
    """True or false."""


@dataclass(frozen=True, slots=True)
class Equipment:
    """Something that is fitted: the value is always true; absence is "not fitted"."""


@dataclass(frozen=True, slots=True)
class Where:
    """A place on the vehicle."""


Kind = Text | Terms | Number | YesNo | Equipment | Where


class Role(StrEnum):
    """What an attribute is to a crew."""

    HAZARD = "hazard"  # not stated is read as present
    AID = "aid"  # not stated is read as absent
    LOOK = "look"  # identifies; no protective reading
    NOTE = "note"  # says more; no protective reading


class Use(StrEnum):
    """What a protective reading is for. One fact may be read differently for two uses."""

    MOTION = "motion"
    PLUG = "plug"
    VOLTAGE = "high_voltage"
    CUTTING = "cutting"
    ACCESS = "access"
    FIRE = "fire"
    MOVING = "moving_it"
    PERSON = "person"


@dataclass(frozen=True, slots=True)
class Reading:
    """How "not stated" is read for one use. as_: the value assumed; words: said beside it."""

    use: Use
    as_: str
    words: str


class Order(StrEnum):
    """Which of several values protects best."""

    MOST = "maximum"
    LEAST = "minimum"
    UNION = "union"
    ONE = "one value"
    LIST_ALL = "list all"
    NONE = "not a safety fact"


@dataclass(frozen=True, slots=True)
class Attr:
    """One attribute of the record.

    best: the most protective value where order is ONE. fittable: "not fitted" and "may be
    fitted" are allowed. critical: a change needs two persons.
    """

    key: str
    label: str
    kind: Kind
    role: Role
    readings: tuple[Reading, ...] = ()
    order: Order = Order.NONE
    best: str | bool | None = None
    fittable: bool = False

    @property
    def critical(self) -> bool:
        return self.role in (Role.HAZARD, Role.AID)


@dataclass(frozen=True, slots=True)
class Struct:
    """A fixed sub-object."""

    key: str
    label: str
    children: tuple["Node", ...]


@dataclass(frozen=True, slots=True)
class ListOf:
    """Items with a record-local id. An open list never proves absence; `empty` says how to read it."""

    key: str
    label: str
    item: str
    children: tuple["Node", ...]
    empty: str
    ordered: bool = False


Node = Attr | Struct | ListOf


@dataclass(frozen=True, slots=True)
class Section:
    """A top-level group of the record."""

    key: str
    label: str
    children: tuple[Node, ...] = field(default=())


def hazard(
    key: str,
    label: str,
    kind: Kind,
    *readings: tuple[Use, str, str],
    order: Order = Order.LIST_ALL,
    best: str | bool | None = None,
    fittable: bool = False,
) -> Attr:
    """A hazard: every reading says what is assumed present when nothing is stated."""
    made = tuple(Reading(*entry) for entry in readings)
    return Attr(key, label, kind, Role.HAZARD, made, order, best, fittable)


def aid(
    key: str,
    label: str,
    kind: Kind,
    *readings: tuple[Use, str, str],
    order: Order = Order.LIST_ALL,
    best: str | bool | None = None,
    fittable: bool = False,
) -> Attr:
    """An aid: every reading says it is not counted on when nothing is stated."""
    made = tuple(Reading(*entry) for entry in readings)
    return Attr(key, label, kind, Role.AID, made, order, best, fittable)


def look(key: str, label: str, kind: Kind, *, fittable: bool = False) -> Attr:
    return Attr(key, label, kind, Role.LOOK, fittable=fittable)


def note(key: str, label: str, kind: Kind) -> Attr:
    return Attr(key, label, kind, Role.NOTE)
