"""What can be tapped in the responder's search, from the vocabularies a cue takes. A tap is a cue like a word."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from markupsafe import Markup

from catalog.domain.attributes import vocabulary_of
from catalog.domain.vocabulary import BY_KEY
from catalog.draw.connectors import face_sketch, faces
from catalog.draw.icons import door_sketches, selector_sketches
from catalog.draw.outline import body_sketches
from catalog.draw.port_place import NOSE, TAIL, port_cells, port_outline
from catalog.draw.sketch import Sketch, sketch_svg
from catalog.resolve.questions.table import expert_questions
from catalog.web import phone_wording as say

# Of the outline only the vehicle: the cells round it are the page's own.
_VEHICLE = "104 50 132 270"


@dataclass(frozen=True, slots=True)
class Tap:
    """One cell. value: as a cue holds it. label: its lines. drawn: a picture of what they say, or None."""

    attribute: str
    value: str
    label: tuple[str, ...]
    drawn: Markup | None = None
    key: str = ""


@dataclass(frozen=True, slots=True)
class Taps:
    """Every cell, by what is asked. outlines: the vehicle from above by where one stands. more: (attribute, its
    question, cells)."""

    body: Sequence[Tap]
    port: Sequence[Tap]
    outlines: Mapping[str, Markup]
    cover: Sequence[Tap]
    more: Sequence[tuple[str, str, Sequence[Tap]]]


@cache
def taps() -> Taps:
    """They follow from the vocabularies, so a new term has its cell at once."""
    drawn = {
        "body": body_sketches(),
        "connector": tuple(face_sketch(face.key) for face in faces()),
        "door_mechanism": door_sketches(),
        "selector": selector_sketches(),
    }
    return Taps(
        body=_terms("body", drawn["body"]),
        port=tuple(Tap("port_place", cell.value, cell.label, key=cell.key) for cell in port_cells()),
        outlines={stand: _outline(stand) for stand in (TAIL, NOSE)},
        cover=_terms("port_cover"),
        more=tuple((name, question, _terms(name, drawn.get(name, ()))) for name, question in say.MORE),
    )


def asks() -> Mapping[str, str]:
    """Question -> the attribute its answers are about: what cannot be told by a tap is not asked again."""
    return {question.id: question.attribute for question in expert_questions().questions}


def _terms(attribute: str, sketches: Sequence[Sketch] = ()) -> tuple[Tap, ...]:
    found = vocabulary_of(attribute) or BY_KEY[attribute]
    drawn = {sketch.key: Markup(sketch_svg(sketch, named=False)) for sketch in sketches}  # noqa: S704 - our own
    return tuple(Tap(attribute, term.key, (term.label,), drawn.get(term.key)) for term in found.terms)


def _outline(stand: str) -> Markup:
    whole = port_outline(stand)
    svg = sketch_svg(whole, named=False).replace(f"0 0 {whole.width} {whole.height}", _VEHICLE)
    return Markup(svg)  # noqa: S704 - our own
