"""Places in words: "left front quarter, mid, behind badge" <-> a stored place.

Side, end and level come in any order. A side that depends on who looks or drives is refused: the catalogue's left and
right are the vehicle's, seated facing forward.
"""

import re
from collections.abc import Mapping
from functools import cache
from typing import Any

from catalog.domain.documents import place_from_document
from catalog.domain.folding import fold
from catalog.domain.places import END, LANDMARK, LEVEL, SIDE, words
from catalog.intake.readings import Read, refused
from catalog.intake.synonyms import nearest, table
from catalog.intake.synonyms import words as listed

_POINT = re.compile(r"(?:,|^)\s*point\s+([0-9]{1,4})/([0-9]{1,4})/([0-9]{1,4})\s*$")
_FILLERS = frozenset(("the", "of", "a", "at", "on", "side"))
_PARTS = {"side": SIDE, "end": END, "level": LEVEL, "landmark": LANDMARK}
_ALLOWED = (
    f"a place: side ({', '.join(SIDE.keys)}), end ({', '.join(t.label for t in END.terms)}), "
    f"level ({', '.join(LEVEL.keys)}), and a landmark where known"
)
_EXAMPLE = "Write it such as: left front quarter, mid, behind the badge."


def place_text(stored: Mapping[str, Any]) -> str:
    """A stored place as it is written out: "left rear quarter, mid height, point 880/85/450"."""
    text = words(place_from_document(stored))
    at = stored.get("at")
    return text if at is None else f"{text}, point {at[0]}/{at[1]}/{at[2]}"


def read_place(text: str) -> Read:
    """The stored place of words. Everything written must be understood, and each part be said once."""
    bare = text.lower()
    point = _POINT.search(bare)
    tokens = fold(bare[: point.start()] if point else bare).split()
    relative = _relative(" ".join(tokens))
    if relative:
        cure = "Write left or right: the vehicle's own, seated facing forward."
        return refused(text, f"the vehicle's own side; {relative} depends on who looks or drives", cure)
    said, left = _understood(tuple(token for token in tokens if token not in _FILLERS))
    twice = next((part for part, keys in said.items() if len(keys) > 1), None)
    if twice:
        both = " and ".join(_PARTS[twice].label_of(key) for key in sorted(said[twice]))
        return refused(text, f"one {twice} in a place, not {both}", "Write one place; two are two rows, or disputed.")
    if left:
        return refused(text, _ALLOWED, _meant(left))
    missing = [part for part in ("side", "end", "level") if part not in said]
    if missing:
        return refused(text, _ALLOWED, f"Say its {' and '.join(missing)} too. {_EXAMPLE}")
    made: dict[str, Any] = {part: next(iter(said[part])) for part in _PARTS if part in said}
    if point:
        made["at"] = [int(number) for number in point.groups()]
    return Read(made)


def _relative(folded: str) -> str:
    return next((phrase for phrase in listed("relative sides") if f" {phrase} " in f" {folded} "), "")


def _understood(tokens: tuple[str, ...]) -> tuple[dict[str, set[str]], list[str]]:
    """part -> keys said of it, and the words nobody knows; the longest phrase first."""
    said: dict[str, set[str]] = {}
    left: list[str] = []
    at = 0
    while at < len(tokens):
        for length in range(min(_longest(), len(tokens) - at), 0, -1):
            found = _phrases().get(" ".join(tokens[at : at + length]))
            if found is not None:
                for part, key in found:
                    said.setdefault(part, set()).add(key)
                at += length
                break
        else:
            left.append(tokens[at])
            at += 1
    return said, left


def _meant(left: list[str]) -> str:
    asked = " ".join(left)
    if asked in ("front", "rear", "back"):
        end = "front" if asked == "front" else "rear"
        return f"{asked} is not enough: write {end} face or {end} quarter."
    near = nearest(asked, _phrases())
    return f"Did you mean {near[0]}?" if near else f'"{asked}" is not understood. {_EXAMPLE}'


@cache
def _longest() -> int:
    return max(len(phrase.split()) for phrase in _phrases())


@cache
def _phrases() -> Mapping[str, tuple[tuple[str, str], ...]]:
    """Words without fillers -> what they say."""
    made: dict[str, tuple[tuple[str, str], ...]] = {}
    for part, vocabulary in _PARTS.items():
        synonyms: Mapping[str, str] = table("places")[part]
        for term in vocabulary.terms:
            for spelling in (term.label, term.key):
                made[_bare(spelling)] = ((part, term.key),)
        made |= {_bare(spelling): ((part, key),) for spelling, key in synonyms.items()}
    # "centre of the vehicle" is both; "front left quarter" is said as often as "left front quarter".
    made["centre vehicle"] = (("side", "centre"), ("end", "middle"))
    made["vehicle s"] = ()
    for side in SIDE.terms:
        for end in END.terms:
            first, _, last = end.label.partition(" ")
            if last:
                made[f"{first} {side.label} {last}"] = (("side", side.key), ("end", end.key))
    return made


def _bare(text: str) -> str:
    return " ".join(token for token in fold(text).split() if token not in _FILLERS)
