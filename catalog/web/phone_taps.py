"""What can be tapped in the responder's search, from the vocabularies a cue takes. A tap is a cue like a word."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from catalog.domain.attributes import vocabulary_of
from catalog.domain.vocabulary import BY_KEY
from catalog.web import phone_wording as say


@dataclass(frozen=True, slots=True)
class Tap:
    """One cell. value: as a cue holds it. above: a word over the label, often "". note: what the term covers."""

    attribute: str
    value: str
    label: str
    above: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Taps:
    """Every cell, by what is asked. more: (attribute, its question, cells)."""

    body: Sequence[Tap]
    port: Sequence[Tap]
    cover: Sequence[Tap]
    more: Sequence[tuple[str, str, Sequence[Tap]]]


@cache
def taps() -> Taps:
    """They follow from the vocabularies, so a new term has its cell at once."""
    return Taps(
        body=_terms("body"),
        port=tuple(Tap("port_place", value, label, above) for value, above, label in say.PORT_CELLS),
        cover=_terms("port_cover"),
        more=tuple((attribute, question, _terms(attribute)) for attribute, question in say.MORE),
    )


def labels() -> Mapping[str, str]:
    """Label of every cell, by attribute and value ("body pickup")."""
    all_ = taps()
    cells = [*all_.body, *all_.port, *all_.cover, *(tap for _, _, group in all_.more for tap in group)]
    return {f"{tap.attribute} {tap.value}": f"{tap.above} {tap.label}".strip() for tap in cells}


def _terms(attribute: str) -> tuple[Tap, ...]:
    found = vocabulary_of(attribute) or BY_KEY[attribute]
    return tuple(Tap(attribute, term.key, term.label, note=term.note) for term in found.terms)
