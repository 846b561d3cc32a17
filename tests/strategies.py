"""Hypothesis strategies for record documents, made from the specification itself.

`documents()` are well formed but need not make sense together; `plausible_documents()` pass the
whole gate; `records()` are objects of well-formed documents. An attribute added to the
specification is drawn at once.
"""

import random
from collections.abc import Iterable
from dataclasses import replace
from functools import cache
from itertools import product
from typing import Any

from hypothesis import strategies as st

from catalog.domain import codes, vin
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
# Drawn whole, because building text character by character takes most of the time. Accents, marks,
# other scripts, one character beyond the basic plane, things CSV and JSON trip over.
_TEXTS = (
    "a", "Z9", "Kella", "left of the seat", "éßøŽ", "λ车ہ", "🚒 first", '"quoted"', "back\\slash", "a,b;c", "=1+1",
    "-3", "+4", "@x", "'tick", "non\u00a0breaking", "0", "e.g. pull, then lift (twice)", "/", "{}", "[]", "null",
)  # fmt: skip
_IDS = ("a", "b", "c", "z", "loop", "x9", "m2345678")


@cache
def texts(longest: int) -> st.SearchStrategy[str]:
    """Text that states something, on one line."""
    return st.sampled_from([text for text in _TEXTS if not list(check_text(text, longest))])


_ZONES = [Place(*zone) for zone in product(SIDE.keys, END.keys, LEVEL.keys)]
_LANDMARKS = st.none() | st.sampled_from(LANDMARK.keys)
# Where in its zone a drawn point lies, permille of the zone's box; often nowhere.
_INSIDE = st.none() | st.tuples(*[st.integers(0, 1000)] * 3)


def _place(zone: Place, landmark: str | None, inside: tuple[int, int, int] | None) -> Document:
    made: Document = {"side": zone.side, "end": zone.end, "level": zone.level}
    if landmark is not None:
        made["landmark"] = landmark
    if inside is not None:
        sides = zip(zone_box(zone), inside, strict=True)
        made["at"] = [low + (high - low) * part // 1000 for (low, high), part in sides]
    return made


@cache
def places() -> st.SearchStrategy[Document]:
    """Any zone, with or without a landmark and a point inside the zone."""
    return st.builds(_place, st.sampled_from(_ZONES), _LANDMARKS, _INSIDE)


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


def items(node: ListOf) -> st.SearchStrategy[list[Document]]:
    """One to three items of a list."""
    ids = st.lists(st.sampled_from(_IDS), min_size=1, max_size=3, unique=True)
    inside = nodes(node.children)

    @st.composite
    def drawn(draw: st.DrawFn) -> list[Document]:
        return [{"id": item, **draw(inside)} for item in draw(ids)]

    return drawn()


def nodes(children: tuple[Node, ...]) -> st.SearchStrategy[Document]:
    """About a quarter of a part's attributes, structs and lists; never an empty struct."""
    parts = {node.key: _node(node) for node in children}
    some = st.integers(0, 2 ** len(parts) - 1)

    @st.composite
    def drawn(draw: st.DrawFn) -> Document:
        chosen = draw(some) & draw(some)
        made = {key: draw(part) for at, (key, part) in enumerate(parts.items()) if chosen >> at & 1}
        return {key: value for key, value in made.items() if value}

    return drawn()


def _node(node: Node) -> st.SearchStrategy[Any]:
    match node:
        case Attr():
            return facts(node)
        case Struct():
            return nodes(node.children)
        case ListOf():
            return items(node)


def _minted() -> tuple[str, ...]:
    choose = random.Random(2).choice
    return tuple(sorted({codes.mint(choose) for _ in range(40)}))


@cache
def record_codes() -> st.SearchStrategy[str]:
    """Codes as minted: the check character right and in the alphabet."""
    return st.sampled_from(_minted())


@cache
def vin_patterns() -> st.SearchStrategy[str]:
    """Makers' parts nobody has, years coded or open, serial numbers open."""
    parts = st.tuples(
        st.sampled_from(("FA1", "GZ1", "DEM", "EX1")),
        st.text(f"{vin.ALPHABET}?", min_size=5, max_size=5),
        st.sampled_from(f"{vin.CHECK_CHARACTERS}?"),
        st.sampled_from("ABCDEFGHJKLMNPRSTVWXY123456789?"),
        st.sampled_from(f"{vin.ALPHABET}?"),
    )
    return parts.map(lambda drawn: "".join(drawn) + "??????")


def _years(first: int, last: int, *, ended: bool) -> Document:
    since, until = sorted((first, last))
    return {"from": since, "to": until} if ended else {"from": since}


def _some(of: st.SearchStrategy[Any], most: int = 2) -> st.SearchStrategy[list[Any]]:
    return st.lists(of, min_size=1, max_size=most, unique=True)


@cache
def identities() -> st.SearchStrategy[Document]:
    """Any identity of the right form, its years in order."""
    year = st.integers(1990, 2030)
    needed: dict[str, st.SearchStrategy[Any]] = {
        "make": texts(40),
        "model": texts(40),
        "years": st.builds(_years, year, year, ended=st.booleans()),
        "propulsion": st.sampled_from(PROPULSION.keys),
        "category": st.sampled_from(CATEGORY.keys),
        "steering": _some(st.sampled_from(STEERING.keys)),
        "markets": _some(st.sampled_from([market.key for market in MARKETS]), 3),
        "src": sources(),
    }
    optional: dict[str, st.SearchStrategy[Any]] = {
        "variant": texts(60),
        "platform": texts(40),
        "names": _some(texts(60)),
        "twin_of": _some(record_codes()),
        "replaces": _some(record_codes()),
        "replaced_by": _some(record_codes()),
        "vins": _some(vin_patterns()),
    }
    return st.fixed_dictionaries(needed, optional=optional)


@cache
def documents() -> st.SearchStrategy[Document]:
    """Well-formed record documents of the current format, a few sections each."""
    sections = {s.key: items(s) if isinstance(s, ListOf) else nodes(s.children) for s in TREE}
    some = st.integers(0, 2 ** len(sections) - 1)
    said = st.fixed_dictionaries({"value": st.just(True), "src": sources()})
    note = st.fixed_dictionaries(
        {
            "id": st.sampled_from(_IDS),
            "lang": st.sampled_from(("en", "de-AT")),
            "text": st.tuples(texts(400), texts(400)).map("\n".join),
            "src": sources(),
        }
    )

    @st.composite
    def drawn(draw: st.DrawFn) -> Document:
        made: Document = {"format": FORMAT, "identity": draw(identities())}
        chosen = draw(some) & draw(some)
        drawn_ = {key: draw(part) for at, (key, part) in enumerate(sections.items()) if chosen >> at & 1}
        made |= {key: value for key, value in drawn_.items() if value}
        complete = {path: draw(said) for path in list_paths() if _list_in(made, path) and draw(_YES_OR_NO)}
        if "ports" not in made and draw(_YES_OR_NO):
            made["ports"], complete["ports"] = [], draw(said)
        if complete:
            made["complete"] = complete
        if draw(_YES_OR_NO):
            made["notes"] = [draw(note)]
        return made

    return drawn()


_YES_OR_NO = st.booleans()


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
