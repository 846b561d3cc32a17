"""What the first screen of a record is made of, and how its lines are read from facts."""

from collections.abc import Mapping
from dataclasses import dataclass

from catalog.domain.facts import Fact, State
from catalog.domain.record import Record, attribute_at
from catalog.domain.sources import Source
from catalog.domain.wording import sentence
from catalog.web.facts import FactView, fact_view


@dataclass(frozen=True, slots=True)
class Detail:
    """A line under a step. state: shown as a mark unless it is plainly stated (""). strong: a wait."""

    text: str
    state: str = ""
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Step:
    """A thing to do. number: None for a line without a disc. shape: "solid" or "ring".

    at: paths of the facts that say where. wheels: it is done at the wheels, whatever a record says.
    """

    number: int | None
    shape: str
    title: str
    details: tuple[Detail, ...] = ()
    state: str = ""
    port: bool = False
    at: tuple[str, ...] = ()
    wheels: bool = False


@dataclass(frozen=True, slots=True)
class Zone:
    """Where not to cut. fill: "hatch" stated, "lattice" never push or pierce, "dots" not stated."""

    fill: str
    title: str
    why: str = ""
    state: str = ""


class Reader:
    """Facts of one record by path, as views."""

    def __init__(self, record: Record, sources: Mapping[str, Source]) -> None:
        self.record = record
        self.sources = sources

    def fact(self, path: str) -> Fact:
        return self.record.fact(path)

    def view(self, path: str) -> FactView:
        return fact_view(path, attribute_at(path), self.record.fact(path), self.sources)

    def items(self, path: str) -> tuple[str, ...]:
        return tuple(f"{path}[{item}]" for item in self.record.items.get(path, ()))

    def detail(self, path: str, lead: str = "") -> Detail:
        """One fact as a line: "Lead: value", every side when disputed, the reading when not stated."""
        return fact_line(self.view(path), lead)


def fact_line(view: FactView, lead: str) -> Detail:
    """A fact as one line; see `Reader.detail`."""
    start = f"{lead}: " if lead else ""
    if view.state == State.STATED:
        return Detail(start + view.text)
    if view.state == State.MAY_BE_FITTED:
        claim = view.claims[0]
        parts = ["may be fitted", claim.depends, claim.text if claim.text != "fitted" else "", view.reading]
        return Detail(start + ": ".join(part for part in parts if part), view.state)
    if view.state == State.DISPUTED:
        sides = " or ".join(f"{c.text} ({', '.join(s.short for s in c.sources)})" for c in view.claims)
        return Detail(f"{start}guides disagree: {sides}", view.state)
    return Detail(start + view.text, view.state)


def joined(details: list[Detail]) -> tuple[Detail, ...]:
    """Plainly stated lines run together as sentences; the others keep a line and a mark of their own."""
    plain = ". ".join(sentence(detail.text) for detail in details if not detail.state)
    marked = tuple(detail for detail in details if detail.state)
    return (Detail(plain), *marked) if plain else marked
