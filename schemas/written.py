"""The record written out for readers: every attribute with its state, "not stated" included.

The shape mirrors the document. A fact that is not plainly stated brings how it is read, and a
list brings whether it names all there is, so that silence never reads as "none".
"""

from collections.abc import Iterator, Mapping
from typing import Any

from catalog.domain.facts import Fact, State, value_to_document
from catalog.domain.markets import MARKET
from catalog.domain.protective import DOUBTFUL
from catalog.domain.record import FORMAT, Identity, Record, list_at, list_paths
from catalog.domain.sources import Source, parse_reference
from catalog.domain.spec import TREE, Attr, ListOf, Node, Struct
from catalog.domain.vocabulary import CATEGORY, PROPULSION, STEERING
from catalog.domain.wording import value_words

Written = dict[str, Any]
Sources = Mapping[str, Source]

_LABELS = {"propulsion": PROPULSION, "category": CATEGORY, "steering": STEERING, "markets": MARKET}
_OTHERS = ("names", "twin_of", "replaces", "replaced_by", "vins")


def written_record(record: Record, sources: Sources, doubted: Mapping[str, Written] | None = None) -> Written:
    """The whole record. sources: those it may refer to, by "NUMBER/ISSUE". doubted: the mark of what is, by path.

    Keys: format, identity, one per section, lists, notes. A fact is {state, value?, label?,
    depends?, sides?, readings?, src, doubted?}; state is one of stated, not_fitted, may_be_fitted,
    disputed, not_stated, and the last three always bring readings (empty for looks and notes).
    """
    made: Written = {"format": FORMAT, "identity": _identity(record.identity, sources)}
    for section in TREE:
        if isinstance(section, ListOf):
            made[section.key] = _list(section.key, section, record, sources)
        else:
            made[section.key] = _nodes(section.key, section.children, record, sources)
    made["lists"] = {path: _list_state(path, record, sources) for path in list_paths()}
    made["notes"] = [
        {"id": note.id, "lang": note.lang, "text": note.text, "src": _sources(note.src, sources)}
        for note in record.notes
    ]
    for path, mark in (doubted or {}).items():
        _mark(made, path, mark)
    return made


def _mark(made: Written, path: str, mark: Written) -> None:
    """Put a doubt beside what it took: a fact, or a list of which an item or its completeness was taken."""
    if path.startswith("notes."):
        return
    name, bracket, rest = path.removeprefix("complete.").partition("[")
    item, _, inside = rest.partition("]")
    at: Any = made
    for key in name.split("."):
        at = at[key]
    if bracket:
        at = next((each for each in at if each["id"] == item), None)
    if inside and at is not None:
        for key in inside.removeprefix(".").split("."):
            at = at[key]
    if isinstance(at, dict) and "state" in at:
        at["doubted"] = mark
    elif name in made["lists"]:
        made["lists"][name].setdefault("doubted", []).append({"path": path, **mark})
    for fact in _facts_in(at) if bracket and not inside and at is not None else ():
        fact["doubted"] = mark


def _facts_in(at: Written) -> Iterator[Written]:
    for each in at.values():
        if isinstance(each, dict):
            yield from (each,) if "state" in each else _facts_in(each)


def written_fact(attr: Attr, fact: Fact, sources: Sources) -> Written:
    """One fact in any of its five states."""
    made: Written = {"state": str(fact.state)}
    if fact.value is not None:
        made["value"] = value_to_document(fact.value)
        made["label"] = value_words(attr, fact.value)
    if fact.depends is not None:
        made["depends"] = fact.depends
    if fact.state is State.DISPUTED:
        made["sides"] = [_claim(attr, side, sources) for side in fact.sides]
    if fact.state in DOUBTFUL:
        made["readings"] = [
            {"use": str(reading.use), "assume": reading.as_, "words": reading.words} for reading in attr.readings
        ]
    made["src"] = _sources(fact.sources(), sources)
    return made


def written_source(ref: str, sources: Sources) -> Written:
    """A reference with what a reader needs to find the page. title is "" for an unknown source."""
    reference = parse_reference(ref)
    source = sources.get(reference.key)
    made: Written = {"ref": ref, "key": reference.key, "title": "" if source is None else source.title}
    if source is not None:
        made |= {"kind": source.kind, "short": source.short, "issued": source.issued}
    return made if reference.page is None else made | {"page": reference.page}


def _identity(identity: Identity, sources: Sources) -> Written:
    made: Written = {"title": identity.title, "make": identity.make, "model": identity.model}
    for key in ("variant", "platform"):
        if getattr(identity, key) is not None:
            made[key] = getattr(identity, key)
    until = identity.years.until
    made["years"] = {"from": identity.years.since, "label": str(identity.years)} | ({"to": until} if until else {})
    for key, vocabulary in _LABELS.items():
        value = getattr(identity, key)
        said = (value,) if isinstance(value, str) else value
        made[key] = value if isinstance(value, str) else list(value)
        made[f"{key}_label"] = ", ".join(vocabulary.label_of(word) for word in said)
    for key in _OTHERS:
        made[key] = list(getattr(identity, key))
    made["src"] = _sources(identity.src, sources)
    return made


def _nodes(prefix: str, nodes: tuple[Node, ...], record: Record, sources: Sources) -> Written:
    made: Written = {}
    for node in nodes:
        path = f"{prefix}.{node.key}"
        match node:
            case Attr():
                made[node.key] = written_fact(node, record.fact(path), sources)
            case Struct():
                made[node.key] = _nodes(path, node.children, record, sources)
            case ListOf():
                made[node.key] = _list(path, node, record, sources)
    return made


def _list(path: str, node: ListOf, record: Record, sources: Sources) -> list[Written]:
    return [
        {"id": item, **_nodes(f"{path}[{item}]", node.children, record, sources)} for item in record.items.get(path, ())
    ]


def _list_state(path: str, record: Record, sources: Sources) -> Written:
    """Whether a list names all there is, and how to read it."""
    node, held = list_at(path), len(record.items.get(path, ()))
    complete = record.complete.get(path)
    if complete is not None:
        words = "all there are, as stated" if held else f"stated: no {node.item}"
    else:
        words = "there may be more than are listed" if held else node.empty
    return {
        "label": node.label,
        "state": "not_stated" if complete is None and not held else "stated",
        "complete": complete is not None,
        "words": words,
        "src": _sources(complete.sources() if complete else (), sources),
    }


def _claim(attr: Attr, side: Fact, sources: Sources) -> Written:
    """A side of a dispute; how to read it stands once, beside the dispute."""
    made = written_fact(attr, side, sources)
    made.pop("readings", None)
    return made


def _sources(refs: tuple[str, ...], sources: Sources) -> list[Written]:
    return [written_source(ref, sources) for ref in refs]
