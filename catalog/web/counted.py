"""What the crew can count on while the vehicle is still open: brief facts under their headings.

A fact's likeliest values come first and what protects most is always among them. Of a long list the
rest is folded; where to cut is never folded, so that no place above one chance in a hundred is missed.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from catalog.domain.wording import sentence
from catalog.resolve.fact_chances import Verdict
from catalog.resolve.fact_words import NOT_STATED
from catalog.services.doubts import DoubtView
from catalog.services.fact_views import SharedFact, ValueView
from catalog.services.facts import more_words
from catalog.web import wording

URGENT = 3  # may kill: shown at once; all others are one key away
CUT_PLACES = "cutoff.methods.place"
COUPLED = "motion.coupled."
PLACE = ".place"
PORT = ("ports.", COUPLED)
_AT_ONCE = 3


@dataclass(frozen=True, slots=True)
class ValueLine:
    """A value and how often. protects: of the values the one to plan by."""

    words: str
    frequency: str
    protects: bool


@dataclass(frozen=True, slots=True)
class FactLine:
    """A fact. words: the one value where all or most say the same, a place a line.

    shown, folded: the values where they differ.
    first: what to do before trusting any of them. against: what is not known of it and how to take that.
    doubts: what was taken back of it on a possible vehicle's record.
    """

    key: str
    label: str
    words: tuple[str, ...]
    shown: tuple[ValueLine, ...]
    folded: tuple[ValueLine, ...]
    first: str
    against: str
    reading: str
    doubts: tuple[DoubtView, ...]


@dataclass(frozen=True, slots=True)
class Heading:
    """kind: value of `Verdict`. note: what the heading promises, and what it does not."""

    kind: str
    title: str
    note: str
    facts: tuple[FactLine, ...]


@dataclass(frozen=True, slots=True)
class Counted:
    """headings: those that have facts, the surest first. hidden: facts one key away. unlisted: its frequency."""

    headings: tuple[Heading, ...]
    hidden: int
    unlisted: str


def counted(facts: Sequence[SharedFact], *, every: bool, danger: bool = False) -> Counted | None:
    """None where nothing said can rank. every: the less urgent ones too. danger: what was said rules the port out."""
    if not facts:
        return None
    shown = [fact for fact in facts if every or fact.weight >= URGENT]
    made = (
        Heading(
            verdict.value,
            *wording.COUNTED[verdict.value],
            tuple(_line(f, danger=danger) for f in shown if f.verdict == verdict),
        )
        for verdict in Verdict
    )
    return Counted(tuple(each for each in made if each.facts), len(facts) - len(shown), facts[0].unlisted.frequency)


def _line(fact: SharedFact, *, danger: bool) -> FactLine:
    agreed = fact.verdict in (Verdict.SAME, Verdict.AGREE)
    cut = fact.key == CUT_PLACES
    listed = _listed(fact)
    few = 0 if agreed else _AT_ONCE
    at_once = [cut or len(listed) <= few + 1 or place < few or value.protective for place, value in enumerate(listed)]
    lines = [_value(value, listed) for value in listed]
    return FactLine(
        key=fact.key,
        label=sentence(fact.label),
        words=_words(fact) if agreed else (),
        shown=tuple(line for line, now in zip(lines, at_once, strict=True) if now),
        folded=tuple(line for line, now in zip(lines, at_once, strict=True) if not now),
        first=_first(fact.key, danger=danger),
        against=_against(fact),
        reading=fact.reading.removeprefix("not stated: ") if _against(fact) else "",
        doubts=fact.doubts,
    )


def _first(key: str, *, danger: bool) -> str:
    """What comes before any use of a fact: no port is offered without its condition."""
    if key == CUT_PLACES:
        return wording.CUT_FIRST
    if not key.startswith(PORT):
        return ""
    if danger:
        return wording.PORT_RULED_OUT
    return wording.PLUG_FIRST if key.startswith(COUPLED) else wording.PORT_FIRST


def _listed(fact: SharedFact) -> tuple[ValueView, ...]:
    """The values to list beside what all or most say."""
    if fact.verdict == Verdict.SAME:
        return ()
    if fact.verdict != Verdict.AGREE:
        return fact.values
    said = {fact.words, *fact.words.split("; "), *fact.words.split(", ")}
    return tuple(value for value in fact.values if value.words not in said)


def _words(fact: SharedFact) -> tuple[str, ...]:
    said = tuple(fact.words.split("; ")) if fact.key.endswith(PLACE) else (fact.words,)
    if not fact.several:
        return said
    more = more_words(fact.words)
    return (*said, more.removeprefix("; ")) if more and len(said) > 1 else (*said[:-1], said[-1] + more)


def _value(value: ValueView, among: Sequence[ValueView]) -> ValueLine:
    # Where every value counts, as with a list of what wakes it, none is the one to plan by.
    protects = value.protective and not all(other.protective for other in among)
    return ValueLine(value.words, wording.ASSUMED if value.assumed else value.chance.frequency, protects)


def _against(fact: SharedFact) -> str:
    """What is not known of it; "" where nothing is left open."""
    if fact.verdict == Verdict.SAME:
        return wording.AGAINST_PART if NOT_STATED in fact.words else ""
    if fact.not_stated.probability <= 0:
        return wording.AGAINST_UNLISTED
    return wording.AGAINST_SILENT.format(share=fact.not_stated.frequency)
