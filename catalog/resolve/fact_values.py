"""What each record says of each brief fact.

A value is what one record says of one fact: None where it says nothing, otherwise its elements
(a place, a way with its place, a word of a set). An element is one of

  a tuple with one entry per attribute: its claims, or None where the item does not state it
  NONE      stated that there is none
  DISPUTED  the guides disagree about a set of words, all of which are elements

Where guides disagree about one attribute, an entry has several claims.
"""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from sys import intern
from typing import Any

from catalog.domain.facts import Fact, State, Value, value_to_document
from catalog.domain.places import Place
from catalog.domain.record import Record
from catalog.domain.spec.nodes import Order
from catalog.resolve.brief_facts import FACTS, BriefFact
from catalog.resolve.truth import UNPLUGGED

Claim = tuple[State, Value | None]
Element = tuple[tuple[Claim, ...] | None, ...] | str
NONE, DISPUTED = "none", "disputed"
encoded = json.JSONEncoder(sort_keys=True).encode  # how every table keeps values apart


def facts_of(record: Record) -> tuple[str, ...]:
    """The value of every brief fact as canonical JSON, null where nothing is stated."""
    return tuple(_text(fact.key, elements_of(fact, record)) for fact in FACTS)


@lru_cache(maxsize=2**16)
def _text(key: str, value: tuple[Element, ...] | None) -> str:
    """Kept by fact (a wait of 0 and a plain no are equal to Python), because most records say what others
    say; interned, so that they share one text."""
    return intern(encoded(None if value is None else [_element_to_json(element) for element in value]))


def stored(values: Sequence[Sequence[Any] | None]) -> dict[str, Any]:
    """{"elements", "values"} of the distinct values, as JSON: each value as numbers of elements, or None."""
    seen: dict[str, int] = {}
    kept = [None if value is None else [seen.setdefault(encoded(e), len(seen)) for e in value] for value in values]
    return {"elements": [json.loads(text) for text in seen], "values": kept}


def elements_of(fact: BriefFact, record: Record) -> tuple[Element, ...] | None:
    """What a record says of a fact; None where it says nothing."""
    if not fact.inside:
        return _of_claims(fact, [record.fact(fact.keys[0])])
    items = record.items.get(fact.inside, ())
    if not items:
        return (NONE,) if _is_without(fact, record) else None
    if len(fact.keys) == 1:
        return _of_claims(fact, [record.fact(f"{fact.inside}[{item}].{fact.keys[0]}") for item in items])
    made = [tuple(_claims(record.fact(f"{fact.inside}[{item}].{key}")) for key in fact.keys) for item in items]
    telling = 1 if fact.named else 0  # of a name alone nothing is said
    if all(entry is None for element in made for entry in element[telling:]):
        return None
    return _distinct(fact, made)


def _by(element: Element) -> tuple[tuple[str, int, str], ...]:
    """An order of elements that depends on nothing but them."""
    entries = () if isinstance(element, str) else element
    return tuple(_rank(claim) for claims in entries for claim in claims or ())


def _is_without(fact: BriefFact, record: Record) -> bool:
    """Stated to have none of the list; a vehicle that is never plugged in has no port by definition."""
    plugless = fact.inside == "ports" and record.identity.propulsion in UNPLUGGED
    return plugless or fact.inside in record.complete


def _of_claims(fact: BriefFact, facts: Iterable[Fact]) -> tuple[Element, ...] | None:
    entries = [_claims(fact_) for fact_ in facts]
    said = [entry for entry in entries if entry is not None]
    if not said:
        return None
    silent: tuple[Element, ...] = ((None,),) if len(said) < len(entries) else ()
    if fact.words_apart:
        return (*_words(said), *silent)
    if fact.extreme is not None:
        return (*_extreme(fact.extreme, said), *silent)
    return (*_distinct(fact, [(entry,) for entry in said]), *silent)


def _distinct(fact: BriefFact, made: Sequence[Element]) -> tuple[Element, ...]:
    """Each once, in the guide's order where that means something."""
    if len(made) == 1:
        return (made[0],)
    return tuple(dict.fromkeys(made)) if fact.in_order else tuple(sorted(set(made), key=_by))


def _words(said: Sequence[tuple[Claim, ...]]) -> Iterator[Element]:
    """Each word once; a word that only one of disagreeing guides gives counts too, and the dispute is said."""
    words = {word for claims in said for _, value in claims if isinstance(value, tuple) for word in value}
    for word in sorted(words):
        yield (((State.STATED, (word,)),),)
    if any(len(claims) > 1 for claims in said):
        yield DISPUTED


def _extreme(order: Order, said: Sequence[tuple[Claim, ...]]) -> Iterator[Element]:
    numbers = [value for claims in said for _, value in claims if isinstance(value, int)]
    yield (((State.STATED, max(numbers) if order is Order.MOST else min(numbers)),),)


def _claims(fact: Fact) -> tuple[Claim, ...] | None:
    if fact.state is State.NOT_STATED:
        return None
    if fact.state is not State.DISPUTED:
        return ((fact.state, _plain(fact.value)),)
    made = {(claim.state, _plain(claim.value)) for claim in fact.claims()}
    return tuple(made) if len(made) == 1 else tuple(sorted(made, key=_rank))


def _rank(claim: Claim) -> tuple[str, int, str]:
    """An order of claims that does not depend on which guide came first."""
    state, value = claim
    return (state, value if isinstance(value, int) else 0, repr(value))


def _plain(value: Value | None) -> Value | None:
    """A value without what is only drawn by."""
    if isinstance(value, Place) and value.at is not None:
        return Place(value.side, value.end, value.level, value.landmark)
    return tuple(sorted(value)) if isinstance(value, tuple) else value


def _element_to_json(element: Element) -> Any:
    if isinstance(element, str):
        return element
    return [None if claims is None else [_claim_to_json(claim) for claim in claims] for claims in element]


def _claim_to_json(claim: Claim) -> Mapping[str, object]:
    """As facts are stored, without sources."""
    state, value = claim
    if state is State.NOT_FITTED:
        return {"fitted": False}
    made: dict[str, object] = {"value": value_to_document(value)}
    return made | {"fit": "some"} if state is State.MAY_BE_FITTED else made


def element_from_json(stored: Any) -> Element:
    """An element as `stored` keeps it."""
    if isinstance(stored, str):
        return stored
    return tuple(None if claims is None else tuple(_claim_from_json(claim) for claim in claims) for claims in stored)


def _claim_from_json(stored: Mapping[str, Any]) -> Claim:
    if "fitted" in stored:
        return State.NOT_FITTED, None
    value = stored["value"]
    if isinstance(value, Mapping):
        value = Place(value["side"], value["end"], value["level"], value.get("landmark"))
    elif isinstance(value, list):
        value = tuple(value)
    return (State.MAY_BE_FITTED if "fit" in stored else State.STATED), value


def is_disputed(element: Element) -> bool:
    """Whether guides disagree about it."""
    if isinstance(element, str):
        return element == DISPUTED
    return any(claims is not None and len(claims) > 1 for claims in element)
