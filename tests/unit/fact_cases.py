"""Records that state brief facts at random, made fast: a number gives the same record every time."""

from random import Random

from catalog.domain.facts import Fact, State, Value
from catalog.domain.places import Place
from catalog.domain.record import Record
from catalog.domain.spec.nodes import Attr, Equipment, Number, Terms, Where, YesNo
from catalog.resolve.brief_facts import FACTS
from tests.unit.resolve_cases import SRC, record

_PLACES = [Place(side, end, "low") for side in ("left", "right") for end in ("middle", "rear_quarter")]


def drawn_record(number: int) -> Record:
    """Few values of each kind, so that records often agree; every state, lists of none to two items."""
    draw = Random(number)
    facts: dict[str, Fact] = {}
    items: dict[str, tuple[str, ...]] = {}
    for fact in FACTS:
        if fact.inside and fact.inside not in items:
            items[fact.inside] = tuple("ab"[: draw.randrange(3)])
        paths = [f"{fact.inside}[{item}]." for item in items.get(fact.inside, ())] if fact.inside else [""]
        for path in paths:
            for key, attr in zip(fact.keys, fact.attrs, strict=True):
                if draw.random() < 0.75:
                    facts[f"{path}{key}"] = _fact(attr, draw)
    complete = {path: Fact(State.STATED, True, (SRC,)) for path in items if draw.random() < 0.3}
    made = record(propulsion=draw.choice(("battery", "combustion")))
    return Record(made.identity, facts, {path: ids for path, ids in items.items() if ids}, complete)


def _fact(attr: Attr, draw: Random) -> Fact:
    if draw.random() < 0.15:
        return Fact(State.DISPUTED, sides=(_claim(attr, draw), _claim(attr, draw)))
    return _claim(attr, draw)


def _claim(attr: Attr, draw: Random) -> Fact:
    state = draw.choice((State.STATED, State.NOT_FITTED, State.MAY_BE_FITTED)) if attr.fittable else State.STATED
    return Fact(state, None if state is State.NOT_FITTED else _value(attr, draw), (SRC,))


def _value(attr: Attr, draw: Random) -> Value:
    match attr.kind:
        case Terms(vocabulary, many):
            words = vocabulary.keys[:3]
            return tuple(draw.sample(words, draw.randint(1, 2))) if many else draw.choice(words)
        case Number(_, low, high):
            return draw.choice((low, (low + high) // 2, high))
        case YesNo():
            return draw.random() < 0.5
        case Equipment():
            return True
        case Where():
            return draw.choice(_PLACES)
    return draw.choice(("Pull the cord", "Turn the key"))
