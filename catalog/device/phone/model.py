"""What the record's screens are made of: plain views in words, ready to be put on a page."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from catalog.plan.table import Table


@dataclass(frozen=True, slots=True)
class Ticked:
    """What became of a step. state: "done" or "cannot". at: milliseconds since 1970. said: its time as it is read."""

    state: str
    at: int
    said: str


@dataclass(frozen=True, slots=True)
class Doubted:
    """A fact taken back. path: as reported. label: what it is. reason: why, in somebody's words."""

    path: str
    label: str
    reason: str


@dataclass(frozen=True, slots=True)
class Meta:
    """What the edition says of a record. edition: "edition 14, 2026-03-02". withdrawn: the reason, "" where in use.

    sources: titles by key, as far as they are on the device. table: the site's own steps, None for the program's.
    """

    code: str
    number: int
    edition: str
    revision: int
    demo: bool
    withdrawn: str = ""
    doubts: tuple[Doubted, ...] = ()
    sources: Mapping[str, str] = field(default_factory=dict)
    table: Table | None = None


@dataclass(frozen=True, slots=True)
class Said:
    """One line. state: of the fact behind it, "stated" for a sentence of ours."""

    text: str
    state: str = "stated"


@dataclass(frozen=True, slots=True)
class Cell:
    """A question of the scene bar. said: "yes", "no" or "unknown". answer: "YES", "no" or "not said". ask: in full."""

    key: str
    label: str
    ask: str
    said: str
    answer: str


@dataclass(frozen=True, slots=True)
class PortLine:
    """kind: "step", "only_if", "leave", "in", "none". number: of the step, 0 where it is none."""

    kind: str
    text: str
    number: int = 0


@dataclass(frozen=True, slots=True)
class Row:
    """A row of an answer. key: of its step, "" where it is none. rank: 0 stays longest where there is little room.

    shape: of its disc, or "". fill: "hatch", "lattice", "dots" or "". ticks: it can be ticked.
    """

    key: str
    number: int
    shape: str
    title: str
    lines: tuple[Said, ...] = ()
    rank: int = 0
    fill: str = ""
    ticks: bool = False
    ticked: Ticked | None = None


@dataclass(frozen=True, slots=True)
class Answer:
    """One of the four. aside: said with its title. steps: how many steps there are to it. at: key of the first."""

    key: str
    title: str
    aside: str
    rows: tuple[Row, ...]
    steps: int
    at: str


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a step: its lead ("How") and its lines."""

    key: str
    lead: str
    lines: tuple[Said, ...]


@dataclass(frozen=True, slots=True)
class StepView:
    """A step in full. only_if: as one sentence, "" where there is nothing to be made sure of. first: what it waits for.

    seconds: of the wait that begins with it, 0 where none is stated; waits: whether there is one at all.
    """

    key: str
    id: str
    number: int
    phase: str
    do: str
    shape: str
    only_if: str
    first: tuple[str, ...]
    parts: tuple[Part, ...]
    sources: tuple[str, ...]
    ticked: Ticked | None
    waits: bool = False
    seconds: int = 0


@dataclass(frozen=True, slots=True)
class PhaseView:
    """Steps of one phase, in order."""

    key: str
    label: str
    steps: tuple[StepView, ...]


@dataclass(frozen=True, slots=True)
class Clock:
    """A wait that runs. since: milliseconds. seconds: 0 where nobody states them. over: said once it is over."""

    key: str
    title: str
    since: int
    seconds: int
    meanwhile: str
    over: str


@dataclass(frozen=True, slots=True)
class Badge:
    """What is asked at the foot. ask: "Tailgate badge reads". reads: "PACKHORSE?"."""

    ask: str
    reads: str


@dataclass(frozen=True, slots=True)
class RecordView:
    """Everything the record's screens say but its facts (facts.py) and its look-alikes (alike.py).

    code: "" for any vehicle. withdrawn: why it is not to be used, "" where it is. short: cautions of the first screen.
    """

    code: str
    title: str
    subtitle: str
    edition: str
    edition_short: str
    demo: str
    short: str
    withdrawn: str
    doubted: tuple[Doubted, ...]
    cells: tuple[Cell, ...]
    others: tuple[Cell, ...]
    port: PortLine
    danger: str
    answers: tuple[Answer, ...]
    badge: Badge | None
    phases: tuple[PhaseView, ...]
    clocks: tuple[Clock, ...]
    cautions: tuple[str, ...]
