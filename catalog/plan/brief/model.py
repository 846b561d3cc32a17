"""What a brief is made of, and what it is: plain and frozen, so that it can be kept and sent as JSON."""

from dataclasses import dataclass, field

from catalog.domain.record import Record
from catalog.plan.brief.spoken import seconds_of, spoken_words
from catalog.plan.scene import UNKNOWN, Scene
from catalog.plan.several import SeveralPlan
from catalog.plan.table import Table, shipped_table

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@dataclass(frozen=True, slots=True)
class Sure:
    """How sure, in words: "likely" and "about 7 in 10". Both "" where somebody named the vehicle."""

    word: str = ""
    said: str = ""


@dataclass(frozen=True, slots=True)
class BriefVehicle:
    """A vehicle it may be."""

    code: str
    title: str
    subtitle: str
    record: Record
    sure: Sure = Sure()


@dataclass(frozen=True, slots=True)
class Data:
    """The edition a brief is fixed to. words: "edition 14, 2026-03-02"."""

    number: int
    words: str
    demo: bool


@dataclass(frozen=True, slots=True)
class Agreed:
    """A fact over all possible vehicles, as the answer to a description says it. verdict: "same on all"."""

    label: str
    verdict: str
    said: str


@dataclass(frozen=True, slots=True)
class BriefInput:
    """Everything a brief is composed from.

    letter: A to Z, of the vehicle in its incident. plan: made by `brief_plan`. vehicles: those that count, likeliest
    first; none for any vehicle. unlisted: that it is in no record. agreed: what holds for all of them.
    table: with this site's steps and lines to the caller. Raises ValueError for another letter.
    """

    letter: str
    data: Data
    plan: SeveralPlan
    vehicles: tuple[BriefVehicle, ...] = ()
    scene: Scene = UNKNOWN
    unlisted: Sure = Sure()
    agreed: tuple[Agreed, ...] = ()
    table: Table = field(default_factory=shipped_table)

    def __post_init__(self) -> None:
        if len(self.letter) != 1 or self.letter not in LETTERS:
            raise ValueError(f"no letter of a vehicle: {self.letter!r}; known: A to Z")


@dataclass(frozen=True, slots=True)
class Breath:
    """One line of the radio text, said in one breath. start, seconds: from the first word, at 150 words a minute."""

    key: str
    text: str
    words: int
    start: float
    seconds: float


@dataclass(frozen=True, slots=True)
class Line:
    """lead: "Where", or "". state: of the fact behind it ("stated" for a sentence of ours). src: its sources.

    number, key: of a step, 0 and "" for what is none. level: 0 for a step or statement, 1 for what belongs to it.
    """

    text: str
    lead: str = ""
    level: int = 0
    number: int = 0
    key: str = ""
    state: str = "stated"
    src: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Section:
    """A part of the full text, of the sheet or of a slip."""

    key: str
    title: str
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Point:
    """A thing a crew acts on, as this brief says it. read_back: how it is asked for, "" where it is not."""

    key: str
    label: str
    words: str
    read_back: str = ""


@dataclass(frozen=True, slots=True)
class Changed:
    """A point that reads differently now. was, now: "not stated" rather than nothing."""

    key: str
    label: str
    was: str
    now: str
    read_back: str = ""


@dataclass(frozen=True, slots=True)
class Brief:
    """A composed brief. left_out: what the radio text leaves to the full text, by key. warnings: with every form."""

    letter: str
    data: Data
    kind: str
    breaths: tuple[Breath, ...]
    full: tuple[Section, ...]
    sheet: tuple[Section, ...]
    caller: tuple[str, ...]
    points: tuple[Point, ...]
    warnings: tuple[str, ...]
    left_out: tuple[str, ...] = ()
    changes: tuple[Changed, ...] = ()
    read_back: tuple[str, ...] = ()

    @property
    def correction(self) -> bool:
        return bool(self.changes)

    @property
    def radio(self) -> tuple[str, ...]:
        """One breath a line."""
        return tuple(breath.text for breath in self.breaths)

    @property
    def radio_text(self) -> str:
        """The lines under one another."""
        return "\n".join(self.radio)

    @property
    def seconds(self) -> float:
        """How long it takes to say."""
        return seconds_of(spoken_words(self.radio_text))
