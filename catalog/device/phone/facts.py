"""Every fact of a record with its state, its sources and, where it is not plainly stated, how it is read.

Figures are metric with US customary beside them, as everywhere (domain/wording.py).
"""

from collections.abc import Iterator
from dataclasses import dataclass

from catalog.device.phone.model import Meta
from catalog.domain.facts import State
from catalog.domain.identity_words import identity_words
from catalog.domain.record import Line, Record, lines, list_at, list_paths
from catalog.domain.spec import TREE, ListOf
from catalog.domain.wording import Wording, fact_wording, sentence


@dataclass(frozen=True, slots=True)
class SideView:
    """One claim: its state in words where it is not plainly stated, its value, what it depends on, its sources."""

    state: str
    text: str
    depends: str
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FactView:
    """path: for a report of what is different. item: of a list, "" elsewhere. sides: none where not stated."""

    path: str
    item: str
    label: str
    state: str
    state_words: str
    sides: tuple[SideView, ...]
    reading: str


@dataclass(frozen=True, slots=True)
class FactGroup:
    """A section. empty: of each list that states nothing, how that is read."""

    key: str
    label: str
    facts: tuple[FactView, ...]
    empty: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Facts:
    """identity: (label, words). notes: (language, text, sources). sources: (short name, title)."""

    identity: tuple[tuple[str, str], ...]
    groups: tuple[FactGroup, ...]
    notes: tuple[tuple[str, str, tuple[str, ...]], ...]
    sources: tuple[tuple[str, str], ...]


def facts_of(record: Record, meta: Meta) -> Facts:
    """Everything a record says, and what it does not say, in the order of the specification."""
    groups: dict[str, list[FactView]] = {each.key: [] for each in TREE}
    for line in lines(record):
        groups[line.section.key].append(_fact(line, record))
    return Facts(
        identity_words(record),
        tuple(
            FactGroup(each.key, sentence(each.label), tuple(groups[each.key]), tuple(_empty(each.key, record)))
            for each in TREE
        ),
        tuple((note.lang, note.text, tuple(map(source_words, note.src))) for note in record.notes),
        tuple((source_words(key), title) for key, title in meta.sources.items()),
    )


def source_words(reference: str) -> str:
    """ "OPH-204/2:9" -> "OPH-204 issue 2, p. 9"."""
    key, mark, page = reference.partition(":")
    number, _, issue = key.rpartition("/")
    return f"{number} issue {issue}, p. {page}" if mark else f"{number} issue {issue}"


def _section(path: str) -> str:
    return path.partition(".")[0]


def _fact(line: Line, record: Record) -> FactView:
    said = fact_wording(line.attr, line.fact)
    sides = () if line.fact.state is State.NOT_STATED else (said.sides or (said,))
    reading = said.reading.removeprefix(f"{State.NOT_STATED.label}: ")
    return FactView(
        line.path,
        _item(line.path, record),
        sentence(line.attr.label),
        line.fact.state.value,
        said.state,
        tuple(_side(side) for side in sides),
        reading,
    )


def _side(said: Wording) -> SideView:
    plain = said.state == State.STATED.label
    text = said.text or State.NOT_FITTED.label
    return SideView("" if plain else said.state, text, said.depends, tuple(map(source_words, said.src)))


def _item(path: str, record: Record) -> str:
    """ "Charge port 2": the item of a list a fact belongs to."""
    name, mark, rest = path.partition("[")
    if not mark:
        return ""
    listed, ids = list_at(name), record.items.get(name, ())
    return sentence(f"{listed.item} {ids.index(rest.partition(']')[0]) + 1}")


def _empty(key: str, record: Record) -> Iterator[str]:
    for path in list_paths():
        if _section(path) == key and not record.items.get(path):
            listed: ListOf = list_at(path)
            whole = record.complete.get(path)
            none = whole is not None and whole.state is State.STATED
            told = f"none, says {', '.join(map(source_words, whole.src))}" if whole and none else listed.empty
            yield sentence(f"{listed.label}: {told}")
