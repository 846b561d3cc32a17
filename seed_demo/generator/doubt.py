"""What a guide leaves out, and where a crew saw something else."""

from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from random import Random
from typing import Any

from catalog.domain.spec import TREE, Attr, ListOf, Node
from seed_demo.generator.draws import pick
from seed_demo.generator.marks import Document, Src, other_side, stated

# What a record is found by, or what its neighbours would contradict: always stated.
_KEPT = {
    "looks.body", "looks.size", "looks.badges", "looks.tailpipe", "ports.standard", "ports.place", "cutoff.order_note",
    "cutoff.methods.kind", "energy.packs.role", "energy.tanks.fuel", "energy.pyro_fuse.fitted", "restraints.wait",
    "energy.low_voltage.voltage", "structure.glazing.pane",
}  # fmt: skip
# A sparse record is known from a sister vehicle: these are what is left.
_SPARSE_KEPT = _KEPT - {"restraints.wait"} | {"looks.doors", "looks.front_lamps", "motion.selector"}

Gone = Mapping[str, Any]
Steps = tuple[str, ...]


def usual(draw: Random) -> Gone:
    """Silences of a full guide: 4 to 22 in a hundred of what it could say."""
    return pick(draw, _prepared(0.04, 0.22, frozenset(_KEPT)))


def sparse(draw: Random) -> Gone:
    """Silences of what is known by hearsay only."""
    return pick(draw, _prepared(0.7, 0.8, frozenset(_SPARSE_KEPT)))


@cache
def _prepared(low: float, high: float, kept: frozenset[str]) -> Sequence[Gone]:
    """Two hundred ways of saying less, the same in every catalogue."""
    draw = Random(f"silences/{low}")  # noqa: S311  repeatable on purpose
    sayable = _sayable(kept)
    return tuple(_silences(draw, draw.uniform(low, high), sayable) for _ in range(200))


def _silences(draw: Random, share: float, sayable: Sequence[Steps]) -> Gone:
    """Which keys of the specification a guide says nothing about, nested like a record."""
    made: dict[str, Any] = {}
    for steps in draw.sample(sayable, int(share * len(sayable))):
        node = made
        for step in steps[:-1]:
            node = node.setdefault(step, {})
            if node is None:
                break  # the whole list is gone already
        else:
            node[steps[-1]] = None
    return made


def _sayable(kept: frozenset[str]) -> Sequence[Steps]:
    """Every attribute, and every list that holds nothing of what is always stated."""
    return tuple(steps for section in TREE for steps in _paths((section.key,), section.children, kept))


def _paths(prefix: Steps, nodes: tuple[Node, ...], kept: frozenset[str]) -> Iterator[Steps]:
    for node in nodes:
        steps = (*prefix, node.key)
        path = ".".join(steps)
        if path in kept:
            continue
        if isinstance(node, Attr):
            yield steps
            continue
        if isinstance(node, ListOf) and not any(entry.startswith(f"{path}.") for entry in kept):
            yield steps
        yield from _paths(steps, node.children, kept)


def silence(node: Any, gone: Gone) -> None:
    """Take what is gone out of a section or an item, in place."""
    for key, inner in gone.items():
        found = node.get(key)
        if found is None:
            continue
        if inner is None:
            del node[key]
        elif isinstance(found, list):
            for item in found:
                silence(item, inner)
        else:
            silence(found, inner)
            if not found:
                del node[key]


def dispute(document: Document, draw: Random, seen: Src) -> bool:
    """Set what a crew saw beside what the guide states; False where nothing fits. seen: its reference.

    Sections that records share are not touched: the document gets one of its own.
    """
    choices = [found for found in (_port(document, seen), _wait(document, seen), _method(document, seen)) if found]
    if choices:
        document.update(draw.choice(choices))
    return bool(choices)


def _beside(fact: Document, other: Any, seen: Src) -> Document:
    return {"disputed": [fact, stated(other, seen)]}


def _port(document: Document, seen: Src) -> Document:
    """The port on the other flank."""
    made = _turned(document.get("ports", ()), seen)
    return {"ports": made} if made else {}


def _method(document: Document, seen: Src) -> Document:
    """The first way with a place, on the other flank."""
    section = document.get("cutoff", {})
    made = _turned(section.get("methods", ()), seen)
    return {"cutoff": {**section, "methods": made}} if made else {}


def _wait(document: Document, seen: Src) -> Document:
    """Armed for twice as long."""
    section = document.get("restraints", {})
    if "wait" not in section:
        return {}
    return {"restraints": {**section, "wait": _beside(section["wait"], section["wait"]["value"] * 2, seen)}}


def _turned(entries: Sequence[Document], seen: Src) -> list[Document]:
    for number, entry in enumerate(entries):
        fact = entry.get("place")
        if fact is not None and fact["value"]["side"] != "centre":
            made = {**entry, "place": _beside(fact, other_side(fact["value"]), seen)}
            return [*entries[:number], made, *entries[number + 1 :]]
    return []
