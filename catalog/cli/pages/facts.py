"""Facts as lines: state always in words, protective reading beside whatever is not plainly stated.

A group's heading names the source most of its facts rest on ("stated CMJ-52/1:5"); a fact that
rests on another, or is not plainly stated, says so itself.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace

from catalog.cli.paper import Paper, joined, minute
from catalog.domain.facts import State
from catalog.domain.record import Record
from catalog.domain.spec import Attr, ListOf, Node, Struct
from catalog.domain.wording import Wording, fact_wording
from catalog.services.doubts import DoubtView, doubter

# In the margin, so that a long page can be scanned; the word is always there as well.
MARGIN = {
    State.STATED.label: " ",
    State.NOT_FITTED.label: "-",
    State.MAY_BE_FITTED.label: "~",
    State.DISPUTED.label: "!",
    State.NOT_STATED.label: "?",
}
_SHORT_ITEM = 3  # attributes an item may have to be said in one run of words


@dataclass(frozen=True, slots=True)
class FactBlock:
    """Nodes of one record at a path prefix. refs: the sources that need not be repeated. doubts: that stand."""

    record: Record
    prefix: str
    nodes: tuple[Node, ...]
    refs: tuple[str, ...] = ()
    doubts: tuple[DoubtView, ...] = ()

    def inside(self, prefix: str, nodes: tuple[Node, ...]) -> "FactBlock":
        return FactBlock(self.record, prefix, nodes, self.refs, self.doubts)

    def path(self, key: str) -> str:
        return f"{self.prefix}.{key}" if self.prefix else key

    def wording(self, attr: Attr) -> Wording:
        path = self.path(attr.key)
        wording, doubt = fact_wording(attr, self.record.fact(path)), doubter(self.doubts)(path)
        if doubt is None or wording.state != State.NOT_STATED.label:
            return wording
        return replace(
            wording, reading=joined((f"doubted since {minute(doubt.since)}", wording.reading), ", read as: ")
        )

    def text(self, wording: Wording) -> str:
        return wording_text(wording, self.refs)


def common_refs(record: Record, prefixes: tuple[str, ...]) -> tuple[str, ...]:
    """The sources that most facts under the path prefixes rest on; () when nothing is stated there."""
    counted = Counter(
        fact.src
        for path, fact in record.facts.items()
        if fact.src and any(path.startswith((f"{prefix}.", f"{prefix}[")) for prefix in prefixes)
    )
    return counted.most_common(1)[0][0] if counted else ()


def wording_text(wording: Wording, refs: tuple[str, ...] = ()) -> str:
    """A fact in one run of words, its sources in brackets unless they are `refs`."""
    if wording.sides:
        sides = " or ".join(wording_text(side) for side in wording.sides)
        return joined((f"disputed: {sides}", wording.reading and f"Until settled: {wording.reading}"), ". ")
    shown = "" if wording.src == refs else joined(wording.src)
    if wording.state == State.STATED.label:
        return f"{wording.text} [stated {shown}]" if shown else wording.text
    bracket = f" [{shown}]" if shown else ""
    if wording.state == State.MAY_BE_FITTED.label:
        what = "" if wording.text == "fitted" else f": {wording.text}"
        depends = f", depends on {wording.depends}" if wording.depends else ""
        until = f". Until seen: {wording.reading}" if wording.reading else ""
        return f"may be fitted{what}{depends}{bracket}{until}"
    return joined((f"{wording.state}{bracket}", wording.reading), ": ")


def fact_lines(block: FactBlock, paper: Paper, indent: int = 2) -> Iterator[str]:
    """Every fact of the block; looks and notes that nobody states share one line at its end."""
    silent: list[str] = []
    for node in block.nodes:
        match node:
            case Attr():
                wording = block.wording(node)
                if wording.state == State.NOT_STATED.label and not wording.reading:
                    silent.append(node.label)
                else:
                    entry = paper.entry(node.label, block.text(wording), indent=indent)
                    yield from _marked(MARGIN[wording.state], entry)
            case Struct():
                yield from paper.wrap(node.label, indent)
                yield from fact_lines(block.inside(block.path(node.key), node.children), paper, indent + 2)
            case ListOf():
                yield from _list_lines(node, block, paper, indent)
    if silent:
        yield from _marked(MARGIN[State.NOT_STATED.label], paper.entry("not stated", joined(silent), indent=indent))


def _list_lines(node: ListOf, block: FactBlock, paper: Paper, indent: int) -> Iterator[str]:
    path = block.path(node.key)
    for doubt in block.doubts:
        if doubt.of_list == path:
            said = f"doubted since {minute(doubt.since)}: {doubt.label}, read as: {doubt.reading}"
            yield from _marked(MARGIN[State.NOT_STATED.label], paper.wrap(said, indent, hang=2))
    items = block.record.items.get(path, ())
    whole = block.record.complete.get(path)
    if not items:
        empty = f"there are none [stated {joined(whole.sources())}]" if whole else node.empty
        margin = MARGIN[State.NOT_FITTED.label if whole else State.NOT_STATED.label]
        yield from _marked(margin, paper.entry(node.label, empty, indent=indent))
        return
    extent = "all of them, as stated" if whole else "there may be more"
    yield from paper.wrap(f"{node.label} ({extent})", indent)
    short = len(node.children) <= _SHORT_ITEM
    for number, item in enumerate(items, 1):
        inner = block.inside(f"{path}[{item}]", node.children)
        if short:
            yield from _short_item(inner, paper, indent + 2)
        else:
            yield from paper.wrap(f"{node.item} {number}" if len(items) > 1 else node.item, indent + 2)
            yield from fact_lines(inner, paper, indent + 4)


def _short_item(block: FactBlock, paper: Paper, indent: int) -> Iterator[str]:
    """ "driver: right middle, high; stages 2"."""
    wordings = [(node, block.wording(node)) for node in block.nodes if isinstance(node, Attr)]
    plain = State.STATED.label
    said = [(node, wording) for node, wording in wordings if wording.state == plain or wording.reading]
    parts = [
        block.text(wording) if place < 2 and wording.state == plain else f"{node.label} {block.text(wording)}"
        for place, (node, wording) in enumerate(said)
    ]
    states = [wording.state for _, wording in said]
    margin = next((MARGIN[state] for state in states if state != plain), " ")
    text = joined((joined(parts[:2], ": "), *parts[2:]), "; ")
    yield from _marked(margin, paper.wrap(text, indent, hang=2))


def _marked(margin: str, lines: list[str]) -> Iterator[str]:
    first, *rest = lines
    yield f"{margin}{first[1:]}".rstrip()
    yield from rest
