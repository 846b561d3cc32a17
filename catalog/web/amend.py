"""What may be done with a cue on a page: choices in words, each posted as the amendment it stands for.

A posted choice is JSON: {"struck": key} or {"cue": {..., "instead_of": key}}; "" leaves the cue as it was
read. The page's whole state is what its selects hold, so it works without a script as well.
"""

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from catalog.domain.attributes import PLACES, closed_terms
from catalog.errors import BadInput
from catalog.resolve.amending import Amendments, Key
from catalog.resolve.answering.cue_view import CueView
from catalog.resolve.cue import ANOTHER, ASKED, Cue
from catalog.resolve.labels import fragment_words, value_words
from catalog.services.amending import amendments_of
from catalog.web import wording
from schemas.requests import load_amendments

_ENDS = ("", "front_quarter", "middle", "rear_quarter")
_FACES = ("front_face", "rear_face")
_YEARS_AROUND = 2


@dataclass(frozen=True, slots=True)
class Choice:
    """One line of a cue's list. value: what is posted. chosen: as it stands now."""

    value: str
    label: str
    chosen: bool


def choices(view: CueView, *, struck: bool = False) -> tuple[Choice, ...]:
    """What may be done with a cue; the first is to leave it as it was read."""
    key = view.instead_of or view.cue.key
    now = "" if view.instead_of is None else _changed(view.cue, key)
    lines = [
        ("", f"{_words(view, key[1], key[2])}{wording.AS_READ}"),
        (_posted({"struck": _key(key)}), wording.STRIKE_OUT),
    ]
    offered = [(_changed(cue, key), label) for cue, label in _offers(view, key)]
    if now and now not in dict(offered):
        offered.insert(0, (now, _words(view, view.cue.values, view.cue.denied)))
    chosen = lines[1][0] if struck else now
    return tuple(Choice(value, label, value == chosen) for value, label in (*lines, *offered))


def amendments(posted: Sequence[str]) -> Amendments:
    """What the posted choices ask for. Raises BadInput."""
    struck: list[Any] = []
    cues: list[Any] = []
    for text in posted:
        if not text:
            continue
        match _loaded(text):
            case {"struck": key}:
                struck.append(key)
            case {"cue": cue}:
                cues.append(cue)
            case _:
                raise BadInput("A change of what was understood cannot be read.", cure="Make it again on the page.")
    return amendments_of(load_amendments(cues, struck))


def _loaded(text: str) -> Any:
    try:
        return json.loads(text)
    except (ValueError, RecursionError):
        return None


def _posted(what: Mapping[str, Any]) -> str:
    return json.dumps(what, ensure_ascii=False, separators=(",", ":"), sort_keys=True)


def _key(key: Key) -> dict[str, Any]:
    attribute, values, denied, vehicle = key
    return {"attribute": attribute, "values": list(values), "denied": denied, "vehicle": vehicle}


def _changed(cue: Cue, key: Key) -> str:
    return _posted({"cue": {**_key(cue.key), "doubt": str(cue.doubt), "instead_of": _key(key)}})


def _offers(view: CueView, key: Key) -> Iterator[tuple[Cue, str]]:
    """What the cue may be changed to: another value, the opposite, the other vehicle's."""
    attribute, values, denied, vehicle = key
    for value in _values(view, key):
        if (value,) != values or denied:
            yield Cue(attribute, (value,), (), "", vehicle=vehicle), _words(view, (value,), False)
    if not denied:
        yield Cue(attribute, values, (), "", True, vehicle=vehicle), _words(view, values, True)
    other = ASKED if vehicle == ANOTHER else ANOTHER
    yield Cue(attribute, values, (), "", denied, view.cue.doubt, vehicle=other), wording.WHOSE[other]


def _values(view: CueView, key: Key) -> Iterator[str]:
    attribute, values, denied, _ = key
    if attribute in PLACES:
        yield from _places(values[0])
    elif attribute == "years":
        first = int(values[0][:4])
        yield from (str(year) for year in range(first - _YEARS_AROUND, first + _YEARS_AROUND + 1))
    elif attribute == "name":
        yield from (folded for folded, _ in view.near)
    elif closed_terms(attribute):
        yield from closed_terms(attribute)
    elif denied:
        yield from values


def _places(value: str) -> Iterator[str]:
    """The places of a flank by side, then the two faces; the level stays as it was."""
    level = value.split("|")[2]
    yield from (f"{side}|{end}|{level}" for side in ("left", "right", "driver", "passenger") for end in _ENDS)
    yield from (f"{side}|{end}|{level}" for end in _FACES for side in ("", "left", "right"))


def _words(view: CueView, values: Sequence[str], denied: bool) -> str:
    said = " or ".join(_value_words(view, value) for value in values)
    return f"not {said}" if denied else said


def _value_words(view: CueView, value: str) -> str:
    if view.cue.attribute != "name":
        return value_words(view.cue.attribute, value)
    return fragment_words(value) if "*" in value else dict(view.near).get(value, value)
