"""How a fact reads: the same words in the terminal and on the page.

The state is always a word of its own; "not stated" always brings its protective reading, so it
can never be taken for "none". Metric first, US customary beside it where a crew reads it, the
customary figure rounded up so that a distance is never cut short.
"""

import math
from dataclasses import dataclass

from catalog.domain.facts import Fact, State, Value
from catalog.domain.places import Place, words
from catalog.domain.spec.nodes import Attr, Equipment, Number, Order, Role, Terms

_MM_PER_INCH = 25.4  # exact (NIST SP 811, appendix B.6)
_KPA_PER_PSI = 6.894757  # NIST SP 811, appendix B.8

_SILENT = f"{State.NOT_STATED.label}: "
_HIGHER = "go by the higher"


@dataclass(frozen=True, slots=True)
class Wording:
    """A fact in words.

    state: such as "not stated". text: the value, "" where there is none. reading: what to assume,
    for everything that is not plainly stated. depends: what "may be fitted" hangs on. sides: of a
    dispute, the most protective first where that can be told.
    """

    state: str
    text: str = ""
    reading: str = ""
    depends: str = ""
    src: tuple[str, ...] = ()
    sides: tuple["Wording", ...] = ()


def fact_wording(attr: Attr, fact: Fact) -> Wording:
    """Any fact of an attribute, in words."""
    if fact.state is State.DISPUTED:
        sides = tuple(_claim(attr, side) for side in _protective_first(attr, fact.sides))
        return Wording(fact.state.label, "", protective_words(attr), src=fact.sources(), sides=sides)
    return _claim(attr, fact)


def claim_words(attr: Attr, fact: Fact) -> str:
    """A fact in words; with its state, and how that is read, unless it is plainly stated."""
    wording = fact_wording(attr, fact)
    match fact.state:
        case State.STATED:
            return wording.text
        case State.DISPUTED:
            sides = "; or ".join(side.text or side.state for side in wording.sides)
            # The longest wait comes first; of a place, a label or a tool no side protects better.
            reading = _HIGHER if attr.order is Order.MOST else wording.reading.removeprefix(_SILENT)
            return "; ".join(part for part in (f"guides disagree: {sides}", reading) if part)
        case State.MAY_BE_FITTED:
            said = ["may be fitted", wording.depends, wording.text, wording.reading]
        case _:
            # Some readings say "not stated" themselves.
            said = [wording.state, wording.reading.removeprefix(_SILENT)]
    return ": ".join(part for part in said if part and part != "fitted")


def protective_words(attr: Attr) -> str:
    """What to assume when nothing is stated: "treat as live". "" for looks and notes."""
    return "; ".join(dict.fromkeys(reading.words for reading in attr.readings))


def value_words(attr: Attr, value: Value) -> str:
    """A value: a vocabulary's label, a place in words, a number with its unit."""
    if isinstance(value, Place):
        return words(value)
    match attr.kind:
        case Terms(vocabulary=vocabulary):
            keys = value if isinstance(value, tuple) else (str(value),)
            return ", ".join(vocabulary.label_of(key) for key in keys)
        case Number(unit=unit):
            return measure(int(str(value)), unit)
        case Equipment():
            return "fitted"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value)


def sentence(text: str) -> str:
    """The same text with its first letter as a capital."""
    return text[:1].upper() + text[1:]


def measure(value: int, unit: str) -> str:
    """A whole number in a document's unit (V, Wh, mm, s, kPa, "" for a count), as a crew reads it."""
    match unit:
        case "Wh" if value >= 1000:
            return f"{value / 1000:.1f} kWh".replace(".0 ", " ")
        case "mm":
            return _length(value)
        case "kPa":
            return f"{value:,} kPa ({_up(value / 100):,} bar, {_up(value / _KPA_PER_PSI):,} psi)"
        case "s":
            return duration(value)
    return f"{value:,} {unit}".strip()


def duration(seconds: int) -> str:
    """The two largest units that matter: "90 s", "2 min 30 s", "24 h", "1 h 30 min", "3 days"."""
    if seconds == 0:
        return "0 s, the guide asks for no wait"
    if seconds < 120:
        return f"{seconds} s"
    made = []
    for length, name in ((86400, "days"), (3600, "h"), (60, "min"), (1, "s")):
        # A day and a bit reads better in hours; so do two days less one.
        if seconds >= length * (3 if name == "days" else 1):
            count, seconds = divmod(seconds, length)
            made.append(f"{count} {name}")
    return " ".join(made[:2])


def _claim(attr: Attr, fact: Fact) -> Wording:
    text = "" if fact.value is None else value_words(attr, fact.value)
    plain = fact.state in (State.STATED, State.NOT_FITTED)
    return Wording(
        fact.state.label,
        text,
        "" if plain else protective_words(attr),
        fact.depends or "",
        fact.src,
    )


def _protective_first(attr: Attr, sides: tuple[Fact, ...]) -> tuple[Fact, ...]:
    """Stable: sides that cannot be compared keep the order the document gives them."""
    return tuple(sorted(sides, key=lambda side: _rank(attr, side)))


def _rank(attr: Attr, side: Fact) -> float:
    if side.state is State.NOT_FITTED:
        # An aid that is not there protects best, a hazard that is not there least.
        return float("-inf") if attr.role is Role.AID else float("inf")
    if attr.order in (Order.MOST, Order.LEAST) and isinstance(side.value, int):
        return -side.value if attr.order is Order.MOST else side.value
    if attr.order is Order.ONE:
        return 0.0 if side.value == attr.best else 1.0
    return 0.0


def _length(millimetres: int) -> str:
    """Metres and feet from 10 m up and for whole metres; millimetres, feet and inches below."""
    inches = _up(millimetres / _MM_PER_INCH)
    if millimetres >= 10000 or (millimetres >= 1000 and millimetres % 1000 == 0):
        return f"{millimetres / 1000:.1f} m ({_up(inches / 12)} ft)".replace(".0 ", " ")
    feet, left = divmod(inches, 12)
    return f"{millimetres:,} mm ({feet} ft {left} in)" if feet else f"{millimetres} mm ({left} in)"


def _up(value: float) -> int:
    # A hair's breadth of tolerance: 254 mm is 10 in, not 11.
    return math.ceil(value - 1e-9)
