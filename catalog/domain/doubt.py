"""Taking one fact back to "not stated", and putting it in again.

A doubt names what it takes as the differences do: a fact ("ports[a].door.mechanism"), a whole item of a list
("restraints.airbags[b]"), that a list names all there is ("complete.restraints.airbags"), or a note ("notes.a").

Of an item that is a hazard the bare item stays, so that its protective reading ("keep out of every airbag's path")
takes over; an item that is an aid goes, since an aid not stated is absent, and its list is complete no longer.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TypeVar

from catalog.domain.facts import Fact
from catalog.domain.record import Note, Record, attribute_at, list_at, list_paths
from catalog.domain.spec import Attr, ListOf, Struct
from catalog.domain.spec.nodes import Role

_COMPLETE, _NOTES = "complete.", "notes."
_T = TypeVar("_T")


@dataclass(frozen=True, slots=True)
class Said:
    """What a record says at a path that may be doubted. facts: by path; the fact itself, or those of an item.

    item: whether the path names a list item that is there, bare ones included.
    """

    facts: Mapping[str, Fact]
    note: Note | None = None
    item: bool = False

    def __bool__(self) -> bool:
        return bool(self.facts) or self.note is not None


def may_be_doubted(path: str) -> bool:
    """Whether the path names something that a record can say and a doubt can take back."""
    if path.startswith(_NOTES):
        return len(path) > len(_NOTES)
    if path.startswith(_COMPLETE):
        return path.removeprefix(_COMPLETE) in list_paths()
    if _item_of(path) is not None:
        return True
    try:
        attribute_at(path)
    except KeyError:
        return False
    return True


def said_at(record: Record, path: str) -> Said:
    """What the record says there; falsy where it says nothing."""
    if path.startswith(_NOTES):
        return Said({}, next((note for note in record.notes if f"{_NOTES}{note.id}" == path), None))
    if path.startswith(_COMPLETE):
        fact = record.complete.get(path.removeprefix(_COMPLETE))
        return Said({} if fact is None else {path: fact})
    item = _item_of(path)
    if item is None:
        return Said({path: record.facts[path]} if path in record.facts else {})
    there = item[1] in record.items.get(item[0], ())
    return Said({own: fact for own, fact in record.facts.items() if own.startswith(f"{path}.")}, item=there)


def without(record: Record, path: str) -> Record:
    """The record with what it says there not stated. Raises KeyError where it says nothing."""
    said = said_at(record, path)
    if not said:
        raise KeyError(path)
    if said.note is not None:
        return replace(record, notes=tuple(note for note in record.notes if note is not said.note))
    if path.startswith(_COMPLETE):
        name = path.removeprefix(_COMPLETE)
        items = {key: ids for key, ids in record.items.items() if key != name or ids}
        return replace(record, complete=_dropped(record.complete, name), items=items)
    facts = {own: fact for own, fact in record.facts.items() if own not in said.facts}
    item = _item_of(path)
    if item is None or is_hazard(list_at(item[0])):
        return replace(record, facts=facts)
    rest = tuple(each for each in record.items[item[0]] if each != item[1])
    left = {**record.items, item[0]: rest} if rest else _dropped(record.items, item[0])
    return replace(record, facts=facts, items=left, complete=_dropped(record.complete, item[0]))


def put_back(record: Record, path: str, before: Record) -> Record:
    """The record saying there again what it said before, all else as it is. Raises KeyError where that said nothing."""
    said = said_at(before, path)
    if not said:
        raise KeyError(path)
    if said.note is not None:
        kept = {note.id: note for note in record.notes} | {said.note.id: said.note}
        return replace(record, notes=tuple(kept[name] for name in _ordered(kept, [n.id for n in before.notes])))
    if path.startswith(_COMPLETE):
        name = path.removeprefix(_COMPLETE)
        items = record.items if name in record.items else {**record.items, name: ()}
        return replace(record, complete={**record.complete, name: said.facts[path]}, items=items)
    facts = {**record.facts, **said.facts}
    item = _item_of(path)
    if item is None:
        return replace(record, facts=facts)
    ids = dict.fromkeys([*record.items.get(item[0], ()), item[1]])
    items = {**record.items, item[0]: _ordered(ids, before.items[item[0]])}
    complete = dict(record.complete)
    if item[0] in before.complete and item[0] not in complete and set(items[item[0]]) == set(before.items[item[0]]):
        complete[item[0]] = before.complete[item[0]]
    return replace(record, facts=facts, items=items, complete=complete)


def is_hazard(node: ListOf) -> bool:
    """Whether a list's items are hazards: the first of their attributes that matters to a crew is one."""
    return next((attr.role for attr in _attributes(node) if attr.critical), None) is Role.HAZARD


def _attributes(node: ListOf | Struct) -> list[Attr]:
    made: list[Attr] = []
    for child in node.children:
        made += [child] if isinstance(child, Attr) else _attributes(child)
    return made


def _item_of(path: str) -> tuple[str, str] | None:
    """ "ports[a]" -> ("ports", "a"); None for every other path."""
    name, bracket, rest = path.partition("[")
    if not bracket or not rest.endswith("]") or "[" in rest or len(rest) < 2 or name not in list_paths():
        return None
    return name, rest[:-1]


def _dropped(mapping: Mapping[str, _T], key: str) -> dict[str, _T]:
    return {each: value for each, value in mapping.items() if each != key}


def _ordered(ids: Mapping[str, object], before: tuple[str, ...] | list[str]) -> tuple[str, ...]:
    """The ids in the order they had before; what came since keeps its place after those before it."""
    made: list[str] = []
    for name in ids:
        earlier = [
            each for each in made if each in before and name in before and before.index(each) > before.index(name)
        ]
        made.insert(made.index(earlier[0]) if earlier else len(made), name)
    return tuple(made)
