"""A list of the record as few lines: what is alike on both sides, or said of several, stands once."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from catalog.domain.facts import State
from catalog.domain.places import Place, mirrored, words
from catalog.domain.record import list_at
from catalog.domain.spec.nodes import Attr, ListOf, Role
from catalog.domain.wording import fact_wording, sentence
from catalog.plan.subject import Subject, attribute

# These need saying what they are; names, kinds and places speak for themselves.
_LABELLED = {"outside": "from outside", "inside": "from inside", "shut_off": "shut-off"}
_BOTH_SIDES = "left and right "

Made = tuple[str, State, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class _Item:
    """words: of each key, "" where there is nothing to say. mirror: the same on the other side, or None."""

    words: tuple[str, ...]
    mirror: tuple[str, ...] | None
    state: State
    src: tuple[str, ...]


def listed_lines(
    path: str, keys: Sequence[str], subject: Subject, where: Callable[[Place], str] = words
) -> Iterator[Made]:
    """(text, state, sources) of a list's items; how an empty list is read where there are none.

    where: how a place is said that is plainly stated.
    """
    listed = list_at(path)
    items = [_item(item, keys, subject, where) for item in subject.items(path)]
    if not items:
        yield sentence(f"{listed.label}: {listed.empty}"), State.NOT_STATED, ()
    sides = _both_sides(items)
    for item in sides if keys[0] == "place" else _together(sides):
        yield sentence(_text(listed, keys, item, attribute(f"{path}[a].{keys[0]}"))), item.state, item.src


def _item(path: str, keys: Sequence[str], subject: Subject, where: Callable[[Place], str]) -> _Item:
    said, other, states, src = [], [], [State.STATED], list[str]()
    for key in keys:
        attr, fact = attribute(f"{path}.{key}"), subject.fact(f"{path}.{key}")
        place = fact.value if fact.state is State.STATED else None
        text = where(place) if isinstance(place, Place) else _words(attr, subject, f"{path}.{key}")
        said.append(text)
        other.append(where(mirrored(place)) if isinstance(place, Place) else text)
        states += [fact.state] if text else []
        src += fact.sources()
    doubtful = [state for state in states if state is not State.STATED]
    return _Item(tuple(said), tuple(other), doubtful[0] if doubtful else State.STATED, tuple(dict.fromkeys(src)))


def _words(attr: Attr, subject: Subject, path: str) -> str:
    fact = subject.fact(path)
    if fact.state is State.NOT_STATED and attr.role in (Role.NOTE, Role.LOOK):
        return ""
    label = _LABELLED.get(attr.key, "")
    wording = fact_wording(attr, fact)
    if fact.state is State.STATED:
        return f"{label} {wording.text}" if label else wording.text
    if fact.state is State.DISPUTED:
        sides = " or ".join(side.text or side.state for side in wording.sides)
        return f"{label or attr.label} guides disagree, {sides}, {wording.reading}"
    said = (wording.state, wording.depends, wording.text, wording.reading)
    return f"{label or attr.label} {', '.join(part for part in said if part and part != 'fitted')}"


def _both_sides(items: Sequence[_Item]) -> Iterator[_Item]:
    """An item and its like on the other side as one."""
    left = list(items)
    while left:
        item = left.pop(0)
        other = next((each for each in left if each.words == item.mirror != item.words), None)
        if other is None:
            yield item
            continue
        left.remove(other)
        said = tuple(
            _BOTH_SIDES + mine.split(" ", 1)[1] if mine != its else mine
            for mine, its in zip(item.words, other.words, strict=True)
        )
        yield _Item(said, None, item.state, tuple(dict.fromkeys((*item.src, *other.src))))


def _together(items: Iterator[_Item]) -> Sequence[_Item]:
    """Items that differ in their first words only, as one."""
    made: dict[tuple[tuple[str, ...], State], _Item] = {}
    for item in items:
        key = (item.words[1:] or item.words, item.state)
        before = made.get(key)
        if before is None:
            made[key] = item
        elif item.words[1:]:
            first = before.words[0] if item.words[0] == before.words[0] else f"{before.words[0]}; {item.words[0]}"
            made[key] = _Item(
                (first, *item.words[1:]), None, item.state, tuple(dict.fromkeys((*before.src, *item.src)))
            )
    return tuple(made.values())


def _text(listed: ListOf, keys: Sequence[str], item: _Item, first: Attr) -> str:
    head, *rest = item.words
    named = first.role in (Role.NOTE, Role.LOOK) and bool(head)
    parts = [part for part in rest if part]
    if named or head.startswith(f"{first.label} "):
        return ": ".join(filter(None, [head, "; ".join(parts)]))
    lead = f"{listed.item}: " if keys[0] == "place" else f"{listed.item}, "
    return lead + ": ".join(filter(None, [head, "; ".join(parts)]))
