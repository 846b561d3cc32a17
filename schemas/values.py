"""Values of facts: per kind, what is wrong with one, and its JSON Schema.

`check_value` yields findings with paths relative to the value; nothing means it may stand.
"""

import re
from collections.abc import Iterator, Sequence
from difflib import get_close_matches
from typing import Any

from catalog.domain.places import END, LANDMARK, LEVEL, SIDE
from catalog.domain.spec.nodes import Equipment, Kind, Number, Terms, Text, Where, YesNo
from catalog.domain.terms import Vocabulary
from schemas.findings import Finding, show

Schema = dict[str, Any]

# No control characters, no line breaks, no characters that turn the direction of writing,
# no space at either end. Written so that Python and ECMAScript read it alike.
_BAD = r"\u0000-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069"
LINE = rf"^[^\s{_BAD}](?:[^{_BAD}]*[^\s{_BAD}])?(?![\s\S])"
_BAD_BUT_BREAKS = _BAD.replace(r"\u0000-\u001f", r"\u0000-\u0009\u000b-\u001f")
PARAGRAPHS = rf"^[^\s{_BAD}](?:[^{_BAD_BUT_BREAKS}]*[^\s{_BAD}])?(?![\s\S])"
# Words people write into a cell when they know nothing. They would read as a fact.
EMPTY_WORDS = (
    r"^(?:-+|\?+|[nN]/?[aA]|[nN]one|NONE|[uU]nknown|UNKNOWN|[tT][bB][cCdD]"
    r"|[nN]ot (?:stated|fitted|known|applicable)|NOT (?:STATED|FITTED|KNOWN|APPLICABLE))(?![\s\S])"
)
_LINE, _PARAGRAPHS, _EMPTY = re.compile(LINE), re.compile(PARAGRAPHS), re.compile(EMPTY_WORDS)

_PLACE_KEYS: dict[str, Vocabulary] = {"side": SIDE, "end": END, "level": LEVEL, "landmark": LANDMARK}


def check_value(kind: Kind, value: Any) -> Iterator[Finding]:
    """Findings about one value of a fact."""
    match kind:
        case Text(longest):
            yield from check_text(value, longest)
        case Terms(vocabulary, many):
            yield from check_set(vocabulary, value) if many else check_term(vocabulary, value)
        case Number():
            yield from check_number(kind, value)
        case YesNo():
            if not isinstance(value, bool):
                yield Finding("", show(value), "true or false", "Write true or false without quotes.")
        case Equipment():
            if value is not True:
                cure = 'Where it is not fitted write {"fitted": false, "src": [...]}.'
                yield Finding("", show(value), "true: it is fitted", cure)
        case Where():
            yield from check_place(value)


def value_schema(kind: Kind) -> Schema:
    """JSON Schema of a value; vocabularies and places are referred to by name."""
    match kind:
        case Text(longest):
            return text_schema(longest)
        case Terms(vocabulary, many):
            one: Schema = {"$ref": f"#/$defs/{vocabulary.key}"}
            return {"type": "array", "items": one, "minItems": 1, "uniqueItems": True} if many else one
        case Number(unit, low, high):
            made: Schema = {"type": "integer", "minimum": low, "maximum": high}
            return made | ({"description": f"in {unit}"} if unit else {})
        case YesNo():
            return {"type": "boolean"}
        case Equipment():
            return {"const": True}
        case Where():
            return {"$ref": "#/$defs/place"}


def check_text(value: Any, longest: int, *, paragraphs: bool = False) -> Iterator[Finding]:
    """Plain text of 1 to `longest` characters that says something."""
    allowed = f"text of 1 to {longest} characters{'' if paragraphs else ' on one line'}"
    if not isinstance(value, str):
        yield Finding("", show(value), allowed, "Write text in quotes.")
    elif _EMPTY.match(value):
        yield Finding(
            "",
            show(value),
            "text that states something",
            "Leave it out to say not stated; say in words what there is not.",
        )
    elif len(value) > longest:
        yield Finding("", f"{len(value)} characters", allowed, "Shorten it; keep what a crew needs.")
    elif not (_PARAGRAPHS if paragraphs else _LINE).match(value):
        cure = "Remove spaces at the ends, tabs, control characters" + ("." if paragraphs else " and line breaks.")
        yield Finding("", show(value), allowed, cure)


def text_schema(longest: int, *, paragraphs: bool = False) -> Schema:
    return {"$ref": f"#/$defs/{'paragraphs' if paragraphs else 'line'}", "maxLength": longest}


def text_definitions() -> Schema:
    """What `text_schema` refers to."""
    says_something: Schema = {"type": "string", "minLength": 1, "not": {"pattern": EMPTY_WORDS}}
    return {"line": says_something | {"pattern": LINE}, "paragraphs": says_something | {"pattern": PARAGRAPHS}}


def check_term(vocabulary: Vocabulary, value: Any) -> Iterator[Finding]:
    """One word of a vocabulary; a near miss is named."""
    if isinstance(value, str) and value in vocabulary.keys:
        return
    yield Finding("", show(value), f"one of {', '.join(vocabulary.keys)}", _term_cure(vocabulary, value))


def check_set(vocabulary: Vocabulary, value: Any) -> Iterator[Finding]:
    """A set of words, in any order."""
    if not isinstance(value, list) or not value:
        cure = "Leave the fact out to say not stated." if value == [] else f"Write it as a list: [{show(value)}]."
        yield Finding("", show(value), f"a list of {vocabulary.label} words", cure)
        return
    for position, entry in enumerate(value):
        for finding in check_term(vocabulary, entry):
            yield Finding(f"[#{position + 1}]", finding.found, finding.allowed, finding.cure)
    yield from check_repeats(value)


def check_repeats(values: Sequence[Any]) -> Iterator[Finding]:
    """A set holds nothing twice."""
    for position, entry in enumerate(values):
        if entry in values[:position]:
            yield Finding(f"[#{position + 1}]", f"{show(entry)} again", "each word once", "Remove the repeat.")


def check_number(kind: Number, value: Any) -> Iterator[Finding]:
    unit = f" {kind.unit}" if kind.unit else ""
    allowed = f"a whole number from {kind.low} to {kind.high}{unit}"
    if not isinstance(value, int) or isinstance(value, bool):
        yield Finding("", show(value), allowed, "Write a whole number without quotes, in the declared unit.")
    elif not kind.low <= value <= kind.high:
        yield Finding("", f"{value}{unit}", allowed, "Check the number and its unit against the source.")


def check_place(value: Any) -> Iterator[Finding]:
    """A place: side, end and level always; landmark and a point where known."""
    if not isinstance(value, dict):
        yield Finding(
            "",
            show(value),
            'a place such as {"side": "left", "end": "rear_quarter", "level": "mid"}',
            "Left and right are the vehicle's, seated facing forward.",
        )
        return
    for key, vocabulary in _PLACE_KEYS.items():
        if key in value:
            for finding in check_term(vocabulary, value[key]):
                yield Finding(key, finding.found, finding.allowed, finding.cure)
        elif key != "landmark":
            yield Finding(key, "nothing", f"one of {', '.join(vocabulary.keys)}", "A place needs all three parts.")
    if "at" in value and not _is_point(value["at"]):
        cure = "x rearward, y to the vehicle's right, z up, permille of length, width, height."
        yield Finding("at", show(value["at"]), "three whole numbers from 0 to 1000", cure)
    yield from check_keys(value, (*_PLACE_KEYS, "at"))


def place_schema() -> Schema:
    parts: Schema = {key: {"$ref": f"#/$defs/{vocabulary.key}"} for key, vocabulary in _PLACE_KEYS.items()}
    coordinate = {"type": "integer", "minimum": 0, "maximum": 1000}
    parts["at"] = {
        "description": "x rearward, y to the vehicle's right, z up; permille of length, width, height",
        "type": "array",
        "items": coordinate,
        "minItems": 3,
        "maxItems": 3,
    }
    return {
        "description": "Left and right are the vehicle's, seated facing forward.",
        "type": "object",
        "properties": parts,
        "required": ["side", "end", "level"],
        "additionalProperties": False,
    }


def vocabulary_schema(vocabulary: Vocabulary) -> Schema:
    return {
        "title": vocabulary.label,
        "oneOf": [{"const": term.key, "title": term.label} for term in vocabulary.terms],
    }


def check_keys(stored: dict[str, Any], known: Sequence[str], elsewhere: str = "") -> Iterator[Finding]:
    """Keys nobody asked for, with the nearest known one. elsewhere: said when nothing is near."""
    for key in stored:
        if key not in known:
            near = get_close_matches(str(key), known, 1, 0.6)
            cure = f"Did you mean {near[0]}?" if near else elsewhere or "Remove it."
            yield Finding(str(key), f"unknown key {show(key)}", f"keys here are {', '.join(known)}", cure)


def _is_point(value: Any) -> bool:
    return (
        isinstance(value, list)
        and len(value) == 3
        and all(isinstance(n, int) and not isinstance(n, bool) and 0 <= n <= 1000 for n in value)
    )


def _term_cure(vocabulary: Vocabulary, value: Any) -> str:
    if isinstance(value, list) and len(value) == 1:
        return f"Write one word, not a list: {show(value[0])}."
    if not isinstance(value, str):
        return "Write one of these words in quotes."
    said = {key.lower(): key for key in vocabulary.keys} | {t.label.lower(): t.key for t in vocabulary.terms}
    asked = value.strip().lower()
    near = get_close_matches(asked, said, 1, 0.6) or get_close_matches(asked.replace(" ", "_"), said, 1, 0.6)
    return f"Did you mean {said[near[0]]}?" if near else "Pick one of these words, or leave the fact out."
