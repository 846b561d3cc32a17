"""Doubts as they are read: beside the facts of a record, without the database for the newest edition."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Connection

from catalog.compiled import Compiled
from catalog.domain.doubt import Said, is_hazard
from catalog.domain.record import attribute_at, list_at
from catalog.domain.spec import Attr, ListOf, Struct
from catalog.domain.wording import fact_wording, protective_words
from catalog.resolve.tables import Tables
from catalog.services.clock import moment_of
from catalog.store.doubts import standing_doubts
from catalog.store.rows import StoredDoubt


@dataclass(frozen=True, slots=True)
class DoubtView:
    """A doubt that stands. path: see `catalog.domain.doubt`. since: UTC. edition: the one published with it.

    revision: hash of the one that said it. label: what is doubted, in words.
    """

    code: str
    path: str
    edition: int
    revision: str
    since: datetime
    author: str
    reason: str

    @property
    def label(self) -> str:
        return path_words(self.path)

    @property
    def of_list(self) -> str:
        """The list of which an item, or that these are all, was taken back; "" for a single fact or a note."""
        if self.path.startswith("complete."):
            return self.path.removeprefix("complete.")
        return self.path.partition("[")[0] if self.path.endswith("]") else ""

    @property
    def reading(self) -> str:
        """How crews read it now that it is not stated; "" for looks and notes."""
        return reading_at(self.path)

    @property
    def mark(self) -> str:
        """What stands beside the fact: "doubted 2026-03-02 02:14 UTC, read as: treat as live"."""
        read_as = f", read as: {self.reading.removeprefix('not stated: ')}" if self.reading else ""
        return f"doubted {self.since:%Y-%m-%d %H:%M} UTC{read_as}"

    @property
    def words(self) -> str:
        """In one run of words, for where there is no page to show it on."""
        return (
            f"DOUBTED since {self.since:%Y-%m-%d %H:%M} UTC, {self.code}: {self.label} ({self.path}). "
            f"Not stated now. {self.author}: {self.reason}"
        )


def doubts_in(compiled: Compiled, code: str) -> tuple[DoubtView, ...]:
    """The doubts that stand of a record in a compiled edition, newest first."""
    return tuple(_in_tables(row) for row in _rows(compiled.tables) if row[0] == code)


def all_in(compiled: Compiled) -> tuple[DoubtView, ...]:
    """Every doubt that stands in a compiled edition, newest first."""
    return all_in_tables(compiled.tables)


def all_in_tables(tables: Tables) -> tuple[DoubtView, ...]:
    """Every doubt that stands in the edition the tables were made of, newest first."""
    return tuple(map(_in_tables, _rows(tables)))


def _rows(tables: Tables) -> Sequence[Sequence[Any]]:
    rows: Sequence[Sequence[Any]] = tables.meta.get("doubted", ())
    return rows


def _in_tables(row: Sequence[Any]) -> DoubtView:
    code, path, edition, revision, time_us, author, reason = row
    return DoubtView(code, path, edition, revision, moment_of(time_us), author, reason)


def doubts_at(conn: Connection, code: str, number: int) -> tuple[DoubtView, ...]:
    """The doubts that stood of a record in an edition, newest first."""
    return tuple(map(doubt_view, standing_doubts(conn, number, code)))


def doubt_view(doubt: StoredDoubt) -> DoubtView:
    """A stored doubt as it is shown."""
    since = moment_of(doubt.time_us)
    return DoubtView(doubt.code, doubt.path, doubt.edition, doubt.revision, since, doubt.author, doubt.reason)


def doubter(doubts: Iterable[DoubtView]) -> Callable[[str], DoubtView | None]:
    """Which doubt concerns a fact: one of the fact itself, or of the item it belongs to."""
    known: Mapping[str, DoubtView] = {doubt.path: doubt for doubt in doubts}

    def of(path: str) -> DoubtView | None:
        item, inside, _ = path.rpartition("].")
        return known.get(path) or (known.get(f"{item}]") if inside else None)

    return of


def reading_at(path: str) -> str:
    """How what is doubted is read while it is not stated; "" where nothing is said of that."""
    if path.startswith("notes."):
        return ""
    if path.startswith("complete."):
        return "there may be more than are listed"
    name, bracket, rest = path.partition("[")
    if not bracket or rest.partition("]")[2]:
        return protective_words(attribute_at(path))
    node = list_at(name)
    # Of a hazard the bare item stays and is read as there; an aid is gone with its item.
    return "; ".join(dict.fromkeys(_readings(node))) if is_hazard(node) else f"this {node.item} is not there"


def _readings(node: ListOf | Struct) -> Iterator[str]:
    for child in node.children:
        if isinstance(child, Attr):
            if child.critical and (words := protective_words(child)):
                yield words
        else:
            yield from _readings(child)


def path_words(path: str) -> str:
    """ "ports[a].place" -> "charge port (a): where"."""
    if path.startswith("notes."):
        return f"note ({path.removeprefix('notes.')})"
    if path.startswith("complete."):
        return f"that these are all: {list_at(path.removeprefix('complete.')).label}"
    name, bracket, rest = path.partition("[")
    if not bracket:
        return attribute_at(path).label
    item, _, inside = rest.partition("]")
    words = f"{list_at(name).item} ({item})"
    return f"{words}: {attribute_at(path).label}" if inside else words


def noted_as(path: str) -> str:
    """How a brief notes what it read there: completeness with the list, a note with the whole record."""
    if path.startswith("notes."):
        return ""
    return f"{path.removeprefix('complete.')}[]" if path.startswith("complete.") else path


def said_words(said: Said) -> str:
    """What a record said there, in one run of words; "" where it said nothing."""
    if said.note is not None:
        return said.note.text
    made = []
    for path, fact in said.facts.items():
        if path.startswith("complete."):
            made.append("yes, these are all")
            continue
        attr = attribute_at(path)
        wording = fact_wording(attr, fact)
        text = " or ".join(side.text or side.state for side in wording.sides) or wording.text or wording.state
        made.append(f"{attr.label}: {text}" if len(said.facts) > 1 else text)
    return "; ".join(made)
