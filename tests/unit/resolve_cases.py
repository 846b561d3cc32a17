"""Small invented records and tables for the evidence tests."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from catalog.domain.facts import Fact, stated
from catalog.domain.places import Place
from catalog.domain.record import Identity, Record, Years
from catalog.resolve.cue import Cue, Doubt, Span
from catalog.resolve.field import Field
from catalog.resolve.parameters import Parameters, expert
from catalog.resolve.rows import Entry
from catalog.resolve.tables import Tables, build_tables

SRC = "TST-1/1:1"
LEFT_REAR = Place("left", "rear_quarter", "mid")
RIGHT_FRONT = Place("right", "front_quarter", "mid")


def record(
    make: str = "Ostrel",
    model: str = "Packhorse",
    *,
    propulsion: str = "battery",
    steering: tuple[str, ...] = ("left",),
    years: tuple[int, int | None] = (2020, 2023),
    facts: Mapping[str, Fact] | None = None,
    ports: Sequence[Place] = (),
) -> Record:
    """A record with the given facts; ports get ids a, b, c."""
    identity = Identity(
        make=make,
        model=model,
        years=Years(*years),
        propulsion=propulsion,
        category="N1",
        steering=steering,
        markets=("europe",),
        src=(SRC,),
    )
    ids = tuple("abc"[: len(ports)])
    made = dict(facts or {})
    for item, place in zip(ids, ports, strict=True):
        made[f"ports[{item}].place"] = stated(place, SRC)
    return Record(identity, made, {"ports": ids} if ids else {})


def body(value: str) -> dict[str, Fact]:
    return {"looks.body": stated(value, SRC)}


def tables(*records: Record, popularity: Sequence[float | None] | None = None) -> Tables:
    """Tables whose codes are A00, A01, ... in the order given."""
    shares = popularity or [None] * len(records)
    return build_tables([Entry(f"A{n:02}", r, p) for n, (r, p) in enumerate(zip(records, shares, strict=True))])


def field(*records: Record, rate: float = 0.12, parameters: Parameters | None = None) -> Field:
    return Field(tables(*records), parameters or expert(), rate)


def cue(attribute: str, *values: str, denied: bool = False, doubt: Doubt = Doubt.FIRM, at: int = 0) -> Cue:
    return Cue(attribute, tuple(values), (Span(at, at + 4),), "said", denied, doubt)


def parameters_with(**changes: object) -> Parameters:
    """The expert set with some numbers changed."""
    return replace(expert(), **changes)  # type: ignore[arg-type]


FLEET: tuple[Record, ...] = (
    record("Ostrel", "Packhorse", facts=body("pickup"), ports=[LEFT_REAR]),
    record("Kelvik", "Tiller", facts=body("pickup"), ports=[RIGHT_FRONT], steering=("right",)),
    record("Mirrin", "Lantern", facts=body("suv"), ports=[LEFT_REAR]),
    record("Mirrin", "Skerry", facts=body("van"), ports=[LEFT_REAR, RIGHT_FRONT]),
    record("Dorvane", "Quill", facts=body("hatchback"), propulsion="combustion"),
    record("Tarnholt", "Ember", facts={}),
)
