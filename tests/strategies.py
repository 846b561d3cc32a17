"""Hypothesis strategies for record documents, made from the specification itself.

`documents()` are well formed but need not make sense together; `plausible_documents()` pass the
whole gate; `records()` are objects of well-formed documents. An attribute added to the
specification is drawn at once.
"""

import unicodedata
from collections.abc import Iterable
from dataclasses import replace
from functools import cache
from typing import Any

from hypothesis import strategies as st

from catalog.domain import codes
from catalog.domain.documents import document_from_record, record_from_document
from catalog.domain.findings import Severity
from catalog.domain.markets import MARKETS
from catalog.domain.places import END, LANDMARK, LEVEL, SIDE, Place, zone_box
from catalog.domain.plausibility import implausible
from catalog.domain.record import FORMAT, Record, list_paths
from catalog.domain.spec import TREE, Attr, ListOf, Node, Struct
from catalog.domain.spec.nodes import Equipment, Kind, Number, Terms, Text, Where, YesNo
from catalog.domain.vocabulary import CATEGORY, PROPULSION, STEERING
from schemas.values import check_text

Document = dict[str, Any]

REFERENCES = ("AB-1/1:1", "AB-1/1:27", "AB-1/2:9", "ZK-77/3:104", "SEEN-4/1", "9X/1234:9999")
# Letters with accents, digits, marks, another script, one beyond the basic plane.
_LETTERS = "aelnortzAKZ09.,;:()+-/'°éßøŽ–λ車🚒 "


@cache
def texts(longest: int) -> st.SearchStrategy[str]:
    """Text that states something, on one line."""
    return (
        st.text(_LETTERS, min_size=1, max_size=min(longest, 24))
        .map(lambda text: unicodedata.normalize("NFC", text.strip()))
        .filter(lambda text: not list(check_text(text, longest)))
    )


@st.composite
def places(draw: st.DrawFn) -> Document:
    """Any zone, with or without a landmark and a point inside the zone."""
    made: Document = {
        key: draw(st.sampled_from(vocabulary.keys))
        for key, vocabulary in (("side", SIDE), ("end", END), ("level", LEVEL))
    }
    if draw(st.booleans()):
        made["landmark"] = draw(st.sampled_from(LANDMARK.keys))
    if draw(st.booleans()):
        box = zone_box(Place(made["side"], made["end"], made["level"]))
        made["at"] = [draw(st.integers(low, high)) for low, high in box]
    return made


def values(kind: Kind) -> st.SearchStrategy[Any]:
    """Stored values of one kind."""
    match kind:
        case Text(longest):
            return texts(longest)
        case Terms(vocabulary, True):
            return st.lists(st.sampled_from(vocabulary.keys), min_size=1, max_size=4, unique=True)
        case Terms(vocabulary):
            return st.sampled_from(vocabulary.keys)
        case Number(_, low, high):
            return st.integers(low, high)
        case YesNo():
            return st.booleans()
        case Equipment():
            return st.just(True)
        case Where():
            return places()


@cache
def sources() -> st.SearchStrategy[list[str]]:
    return st.lists(st.sampled_from(REFERENCES), min_size=1, max_size=2, unique=True)


@cache
def claims(attr: Attr) -> st.SearchStrategy[Document]:
    """Stored forms of stated, and where it can be fitted of not fitted and may be fitted."""
    stated = st.fixed_dictionaries({"value": values(attr.kind), "src": sources()})
    if not attr.fittable:
        return stated
    absent = st.fixed_dictionaries({"fitted": st.just(False), "src": sources()})
    some = st.fixed_dictionaries(
        {"value": values(attr.kind), "fit": st.just("some"), "src": sources()}, optional={"depends": texts(60)}
    )
    return st.one_of(stated, absent, some)


@cache
def facts(attr: Attr) -> st.SearchStrategy[Document]:
    """Stored forms of every state but "not stated", which is absence."""
    disputes = st.lists(claims(attr), min_size=2, max_size=3, unique_by=_said).map(lambda sides: {"disputed": sides})
    single = claims(attr)
    # Equipment that is always fitted could only be disputed by not being fitted.
    return single if isinstance(attr.kind, Equipment) and not attr.fittable else st.one_of(single, single, disputes)


@st.composite
def _items(draw: st.DrawFn, node: ListOf) -> list[Document]:
    ids = draw(st.lists(st.from_regex(r"[a-z][a-z0-9]{0,7}", fullmatch=True), min_size=1, max_size=3, unique=True))
    return [{"id": item, **draw(nodes(node.children))} for item in ids]


@st.composite
def nodes(draw: st.DrawFn, children: tuple[Node, ...]) -> Document:
    """A sparse choice of a part's attributes, structs and lists; never an empty struct."""
    made: Document = {}
    chosen = draw(st.sets(st.sampled_from(range(len(children))), max_size=4))
    for node in (children[index] for index in sorted(chosen)):
        match node:
            case Attr():
                made[node.key] = draw(facts(node))
            case Struct():
                inner = draw(nodes(node.children))
                made |= {node.key: inner} if inner else {}
            case ListOf():
                made[node.key] = draw(_items(node))
    return made


@cache
def record_codes() -> st.SearchStrategy[str]:
    """Codes as minted: the check character right and in the alphabet."""
    bodies = st.text(codes.ALPHABET, min_size=5, max_size=5)
    return bodies.filter(lambda body: codes.check_character(body) in codes.ALPHABET).map(
        lambda body: f"{body[:3]}-{body[3:]}{codes.check_character(body)}"
    )


@cache
def vin_patterns() -> st.SearchStrategy[str]:
    return st.from_regex(
        r"[A-HJ-NPR-Z0-9]{3}[A-HJ-NPR-Z0-9?]{5}[0-9X?][A-HJ-NPR-Y1-9?][A-HJ-NPR-Z0-9?]\?{6}", fullmatch=True
    )


@st.composite
def identities(draw: st.DrawFn) -> Document:
    """Any identity of the right form, its years in order."""
    since, until = sorted(draw(st.tuples(st.integers(1990, 2030), st.integers(1990, 2030))))
    made: Document = {
        "make": draw(texts(40)),
        "model": draw(texts(40)),
        "years": {"from": since} | ({"to": until} if draw(st.booleans()) else {}),
        "propulsion": draw(st.sampled_from(PROPULSION.keys)),
        "category": draw(st.sampled_from(CATEGORY.keys)),
        "steering": draw(_sets(STEERING.keys)),
        "markets": draw(_sets([market.key for market in MARKETS])),
        "src": draw(sources()),
    }
    optional: dict[str, st.SearchStrategy[Any]] = {
        "variant": texts(60),
        "platform": texts(40),
        "names": st.lists(texts(60), min_size=1, max_size=2, unique=True),
        "twin_of": st.lists(record_codes(), min_size=1, max_size=2, unique=True),
        "replaces": st.lists(record_codes(), min_size=1, max_size=1),
        "replaced_by": st.lists(record_codes(), min_size=1, max_size=1),
        "vins": st.lists(vin_patterns(), min_size=1, max_size=2, unique=True),
    }
    for key in draw(st.sets(st.sampled_from(sorted(optional)), max_size=3)):
        made[key] = draw(optional[key])
    return made


@st.composite
def documents(draw: st.DrawFn) -> Document:
    """Well-formed record documents of the current format."""
    made: Document = {"format": FORMAT, "identity": draw(identities())}
    for section in draw(st.lists(st.sampled_from(TREE), max_size=4, unique_by=lambda section: section.key)):
        if isinstance(section, ListOf):
            made[section.key] = draw(_items(section))
        else:
            made |= {section.key: inner} if (inner := draw(nodes(section.children))) else {}
    said = {"value": True, "src": draw(sources())}
    complete = {path: said for path in list_paths() if _list_in(made, path) and draw(st.booleans())}
    if "ports" not in made and draw(st.booleans()):
        made["ports"], complete["ports"] = [], said
    if complete:
        made["complete"] = complete
    if draw(st.booleans()):
        text = st.tuples(texts(40), texts(40)).map("\n".join)
        made["notes"] = [
            {"id": "a", "lang": draw(st.sampled_from(["en", "de-AT"])), "text": draw(text), "src": draw(sources())}
        ]
    return made


def records() -> st.SearchStrategy[Record]:
    """Objects of well-formed documents."""
    return documents().map(record_from_document)


def plausible_documents() -> st.SearchStrategy[Document]:
    """Documents the whole gate lets in."""
    return records().map(lambda record: document_from_record(_mended(record)))


def _mended(record: Record) -> Record:
    """The record without what blocks it."""
    while paths := [f.path for f in implausible(record) if f.severity is Severity.BLOCKS]:
        record = _without(record, paths)
    return record


def _without(record: Record, paths: Iterable[str]) -> Record:
    who, gone = record.identity, set(paths)
    if "identity.steering" in gone:
        who = replace(who, steering=("none",) if who.category.startswith("L") else ("left",))
    if "identity.category" in gone:
        gone.add("looks.body")
    lists = {path for path in list_paths() if path in gone}
    return replace(
        record,
        identity=who,
        facts={
            path: fact
            for path, fact in record.facts.items()
            if not any(path == other.removesuffix(".at") or path.startswith(f"{other}[") for other in gone)
        },
        items={path: ids for path, ids in record.items.items() if path not in lists},
        complete={path: fact for path, fact in record.complete.items() if path not in lists},
    )


def _list_in(document: Document, path: str) -> bool:
    node: Any = document
    for key in path.split("."):
        node = node.get(key, {}) if isinstance(node, dict) else {}
    return bool(node)


def _sets(words: Iterable[str]) -> st.SearchStrategy[list[str]]:
    return st.lists(st.sampled_from(tuple(words)), min_size=1, max_size=3, unique=True)


def _said(claim: Document) -> str:
    """What a claim says, whoever says it; the order of a set does not matter."""
    value = claim.get("value")
    return str(
        (
            sorted(value) if isinstance(value, list) else value,
            claim.get("fitted"),
            claim.get("fit"),
            claim.get("depends"),
        )
    )
