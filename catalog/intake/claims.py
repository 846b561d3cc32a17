"""Facts in cells: every state in words, with the sources beside it.

NOT STATED                             the key is absent
NOT FITTED
MAY BE FITTED: value                   a line "DEPENDS ON: ..." may follow
DISPUTED: side, then lines "AGAINST: side"; the source cell's lines in the same order
STATED: value                          for a text that would otherwise read as one of these
value
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from catalog.domain.findings import Severity
from catalog.domain.spec.nodes import Attr, Equipment, Number, Text
from catalog.intake.kinds import CellKind, ListState, Names, Paragraphs, References
from catalog.intake.readings import Problem, Read, refused
from catalog.intake.synonyms import words
from catalog.intake.terms import BETWEEN
from catalog.intake.values import read_value, value_text

NOT_STATED, NOT_FITTED = "NOT STATED", "NOT FITTED"
MAY, DEPENDS, DISPUTED, AGAINST, STATED = "MAY BE FITTED", "DEPENDS ON", "DISPUTED", "AGAINST", "STATED"
_LONGEST = 20  # characters of the longest of them, and some
_OPENERS = (NOT_STATED, NOT_FITTED, MAY, DISPUTED, AGAINST, STATED, DEPENDS)

_INITIALS = "".join(sorted({word[0] for word in _OPENERS}))
_FREE = (Text, Paragraphs, Names)  # kinds whose cells hold what somebody wrote

Claim = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Shape:
    """What a cell may hold. fittable: NOT FITTED and MAY BE FITTED are allowed. assumed: the heading's unit."""

    kind: CellKind
    attr: Attr | None = None
    assumed: str | None = None

    @property
    def fittable(self) -> bool:
        return isinstance(self.kind, ListState) or (self.attr is not None and self.attr.fittable)


def fact_text(kind: CellKind, stored: Mapping[str, Any]) -> str:
    """A stored fact as its cell says it."""
    if "disputed" in stored:
        first, *others = (_claim_text(kind, side) for side in stored["disputed"])
        return "\n".join([f"{DISPUTED}: {first}", *(f"{AGAINST}: {other}" for other in others)])
    return _claim_text(kind, stored)


def sources_text(stored: Mapping[str, Any]) -> str:
    """The sources of a stored fact as its source cell says them; of a dispute one line a side."""
    first, *others = (BETWEEN.join(side["src"]) for side in stored.get("disputed", (stored,)))
    return "\n".join([first, *(f"{AGAINST}: {other}" for other in others)])


def plain_text(kind: CellKind, value: Any) -> str:
    """A value of something that is no fact, such as a make."""
    text = value_text(kind, value)
    return f"{STATED}: {text}" if _reads_as_state(kind, text) else text


def read_fact(shape: Shape, text: str) -> Read:
    """The claims a cell makes, without their sources: () for NOT STATED, one, or the sides of a dispute."""
    if text.upper() == NOT_STATED:
        return Read(())
    after = _after(text, DISPUTED)
    if after is None:
        return _joined(text, [_read_claim(shape, text)])
    sides = _sides(after)
    if len(sides) < 2:
        return refused(text, "two or more sides that say different things", f"Write each other side after {AGAINST}:")
    return _joined(text, [_read_claim(shape, side) for side in sides])


@lru_cache(maxsize=50_000)  # rows of many records cite the same pages
def read_sources(text: str) -> Read:
    """The sources of each side: ((ref, ...), ...)."""
    sides = [read_value(References(), side) for side in _sides(text)]
    problems = tuple(problem for side in sides for problem in side.problems)
    return Read(None if problems else tuple(tuple(side.value) for side in sides), problems)


def read_plain(kind: CellKind, text: str, assumed: str | None = None) -> Read:
    """A value of something that is no fact: () where it says NOT STATED, otherwise (value,)."""
    if text.upper() == NOT_STATED:
        return Read(())
    read = _read_stated(Shape(kind, None, assumed), text)
    return read if read.value is None else Read((read.value,), read.problems)


def is_empty_word(kind: CellKind, text: str) -> bool:
    """Whether people write this where they know nothing: "-", "n/a", "none", "0" where not a number."""
    bare = text.lower()
    return bare in words("empty") and not (isinstance(kind, Number) and bare == "0")


def _claim_text(kind: CellKind, claim: Mapping[str, Any]) -> str:
    if claim.get("fitted") is False:
        return NOT_FITTED
    text = value_text(kind, claim["value"])
    if claim.get("fit") == "some":
        first = MAY if isinstance(kind, Equipment) else f"{MAY}: {text}"
        return f"{first}\n{DEPENDS}: {claim['depends']}" if "depends" in claim else first
    return f"{STATED}: {text}" if _reads_as_state(kind, text) else text


def _reads_as_state(kind: CellKind, text: str) -> bool:
    if not isinstance(kind, _FREE):
        return False  # what these say is ours, and never one of those words
    if is_empty_word(kind, text):
        return True
    # Most texts begin like none of them, which one letter says.
    return text[:1].upper() in _INITIALS and (
        _resembles(text) or any(_after(text, word) is not None for word in _OPENERS)
    )


def _resembles(text: str) -> bool:
    return text[:_LONGEST].upper().startswith((NOT_STATED, NOT_FITTED, MAY, DISPUTED))


def _read_claim(shape: Shape, text: str) -> Read:
    if text.upper() == NOT_FITTED:
        if shape.fittable:
            return Read({"fitted": False})
        return refused(text, "a value: this is never simply not fitted", "State its value, or NOT STATED.")
    maybe = _after(text, MAY)
    if maybe is not None:
        return _read_maybe(shape, text, maybe)
    read = _read_stated(shape, text)
    return read if read.value is None else Read({"value": read.value}, read.problems)


def _read_stated(shape: Shape, text: str) -> Read:
    explicit = _after(text, STATED)
    if explicit == "" or (explicit is None and is_empty_word(shape.kind, text)):
        return _says_nothing(text)
    read = read_value(shape.kind, text if explicit is None else explicit, shape.assumed, shape.attr)
    if explicit is None and isinstance(shape.kind, Text) and _resembles(text):
        cure = f"Write {MAY}: or {DISPUTED}: with a colon if that is meant, {STATED}: before it if not."
        problem = Problem(f'"{text}"', "read as plain text, though it begins like a state", cure, Severity.LOOK)
        return Read(read.value, (problem,))
    return read


def _read_maybe(shape: Shape, text: str, said: str) -> Read:
    if shape.attr is None or not shape.attr.fittable:
        cure = "State what differs in a record of its own, or as DISPUTED."
        return refused(text, "a value: this cannot be optional", cure)
    before, line, depends = _split_line(said, DEPENDS)
    made: Claim = {"value": True, "fit": "some"}
    problems: tuple[Problem, ...] = ()
    if before or not isinstance(shape.kind, Equipment):
        read = (
            read_value(shape.kind, before, shape.assumed, shape.attr) if before else refused(text, "a value after it")
        )
        if read.value is None:
            return read
        made["value"], problems = read.value, read.problems
    if line:
        made["depends"] = depends
    return Read(made, problems)


def _joined(text: str, reads: list[Read]) -> Read:
    problems = tuple(problem for read in reads for problem in read.problems)
    if any(read.value is None for read in reads):
        return Read(None, problems or (Problem(f'"{text}"', "a value"),))
    return Read(tuple(read.value for read in reads), problems)


def _says_nothing(text: str) -> Read:
    cure = f"{NOT_STATED}: the guide is silent. {NOT_FITTED}: it says there is none. Left blank, nothing changes."
    return refused(text, "something that says what the guide says; this could mean none or not known", cure)


def _sides(text: str) -> list[str]:
    """The parts between lines that begin with AGAINST."""
    sides = [""]
    for line in text.split("\n"):
        after = _after(line, AGAINST)
        if after is not None:
            sides.append(after)
        else:
            sides[-1] = f"{sides[-1]}\n{line}" if sides[-1] else line
    return [side.strip() for side in sides]


def _split_line(text: str, opener: str) -> tuple[str, bool, str]:
    lines = text.split("\n")
    for at, line in enumerate(lines):
        after = _after(line, opener)
        if after is not None:
            rest = "\n".join([after, *lines[at + 1 :]]).strip()
            return "\n".join(lines[:at]).strip(), True, rest
    return text, False, ""


def _after(text: str, opener: str) -> str | None:
    """What follows an opening word, with or without its colon; None where the text does not begin with it."""
    if text[: len(opener)].upper() != opener:
        return None
    rest = text[len(opener) :]
    if rest and rest[0] not in ":\n":
        return None
    return rest.lstrip(":").strip()
