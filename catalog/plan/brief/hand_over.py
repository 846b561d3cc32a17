"""The slip for tow and yard: what the record says, what the crew ticked and what it typed. Nothing said reads so.

Wording: data/hand_over.json.
"""

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from catalog.domain.facts import State
from catalog.domain.wording import claim_words, sentence
from catalog.plan.brief.full import vehicle_lines
from catalog.plan.brief.model import BriefInput, Line, Section
from catalog.plan.brief.vehicles import Each, each_of
from catalog.plan.scene import DATA, DONE, Said, Scene, field_words
from catalog.plan.subject import attribute

TICKS = ("done", "cannot")


@dataclass(frozen=True, slots=True)
class Tick:
    """A step the crew has ticked. key: of the step. state: done or cannot. at: its time as it is to be read."""

    key: str
    state: str
    at: str


@dataclass(frozen=True, slots=True)
class Temperature:
    """A reading with its time, as typed: "41 °C at the sill", "02:55"."""

    at: str
    words: str


@dataclass(frozen=True, slots=True)
class HandOver:
    """asked: of the brief it belongs to. typed: key of `typed_fields` -> what was typed.

    Raises ValueError for a key that does not exist, or a tick that is neither done nor cannot.
    """

    asked: BriefInput
    ticks: tuple[Tick, ...] = ()
    typed: Mapping[str, str] = field(default_factory=dict)
    temperatures: tuple[Temperature, ...] = ()

    def __post_init__(self) -> None:
        strange = sorted(set(self.typed) - set(typed_fields()))
        if strange:
            raise ValueError(f"no part of a slip: {', '.join(strange)}; known: {', '.join(typed_fields())}")
        wrong = sorted({tick.state for tick in self.ticks} - set(TICKS))
        if wrong:
            raise ValueError(f"a step is not {', '.join(wrong)}: {' or '.join(TICKS)}")


@cache
def _words() -> Mapping[str, Any]:
    document: Mapping[str, Any] = json.loads((DATA / "hand_over.json").read_text("utf-8"))
    return document


def typed_fields() -> Mapping[str, str]:
    """What may be typed: key -> label, in the order of the slip."""
    fields: Mapping[str, str] = _words()["typed"]
    return fields


def slip(given: HandOver) -> tuple[Section, ...]:
    """The slip's sections, none empty: what nobody said reads "not said"."""
    each = each_of(given.asked)
    made = [Section("vehicle", f"Vehicle {given.asked.letter}", tuple(vehicle_lines(given.asked)))]
    made += [Section(row["key"], row["title"], tuple(_section(row, given, each))) for row in _words()["sections"]]
    return (*made, Section("steps", _words()["steps_title"], tuple(_steps(given))))


def _section(row: Mapping[str, Any], given: HandOver, each: Sequence[Each]) -> Iterator[Line]:
    """The crew's own word first, then the scene as said, then the record's."""
    own = [*_ticked(row, given), *_scene(row.get("scene", ()), given.asked.scene), *_typed(row, given.typed)]
    readings = [Line(one.words, lead=one.at) for one in given.temperatures] if row.get("readings") else []
    own += readings
    yield from own
    if row.get("readings") and not readings:
        yield _silent("")
    yield from (Line(text) for text in row.get("always", ()))
    for path, lead in row.get("facts", ()):
        yield from _facts(path, lead, each)


def _ticked(row: Mapping[str, Any], given: HandOver) -> Iterator[Line]:
    ticks = {tick.key: tick for tick in given.ticks}
    for step in given.asked.plan.plan.steps:
        if step.id.startswith(tuple(row.get("steps", ()))) and step.id not in row.get("but", ()) and row.get("steps"):
            where = " ".join(step.part("where")[:1])
            done = ticks.get(step.key)
            said = _tick_words(done) if done else _words()["not_said"]
            yield Line(said, lead=f"{step.do} {where}".strip().removesuffix("."), key=step.key, state=_state(done))


def _steps(given: HandOver) -> Iterator[Line]:
    """Every step with what became of it."""
    ticks = {tick.key: tick for tick in given.ticks}
    for number, step in enumerate(given.asked.plan.plan.steps, 1):
        done = ticks.get(step.key)
        said = _tick_words(done) if done else _words()["not_said"]
        yield Line(said, lead=step.do.removesuffix("."), number=number, key=step.key, state=_state(done))


def _tick_words(tick: Tick) -> str:
    return f"{_words()['ticks'][tick.state]}, {tick.at}" if tick.at else str(_words()["ticks"][tick.state])


def _state(tick: Tick | None) -> str:
    return (State.NOT_STATED if tick is None else State.STATED).value


def _scene(keys: Sequence[str], scene: Scene) -> Iterator[Line]:
    """What was said of the scene. What a crew has done starts as not done, which nobody said."""
    known = [(key, scene.said(key)) for key in keys]
    told = [(key, said) for key, said in known if said is Said.YES or (said is Said.NO and key not in DONE)]
    words = dict.fromkeys(sentence(field_words(key, said)) for key, said in told)
    yield from (Line(text) for text in words)


def _typed(row: Mapping[str, Any], typed: Mapping[str, str]) -> Iterator[Line]:
    for key in row.get("typed", ()):
        text, label = typed.get(key, "").strip(), typed_fields()[key]
        if text:
            yield Line(text, lead=label, key=key)
        elif not row.get("optional"):
            yield _silent(label, key)


def _silent(label: str, key: str = "") -> Line:
    return Line(_words()["not_said"], lead=label, key=key, state=State.NOT_STATED.value)


def _facts(path: str, lead: str, each: Sequence[Each]) -> Iterator[Line]:
    """Every value any of the possible vehicles states, and how silence is read."""
    inside, mark, key = path.partition("[].")
    found: dict[str, Line] = {}
    for one in each:
        for item in one.subject.items(inside) if mark else ("",):
            at = f"{item}.{key}" if mark else inside
            fact = one.subject.fact(at)
            text = sentence(claim_words(attribute(at), fact))
            found.setdefault(text, Line(text, lead=lead, key=path, state=fact.state.value, src=fact.sources()))
    yield from found.values()
