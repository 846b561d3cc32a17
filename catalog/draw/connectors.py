"""The face of each charging coupler on the vehicle, as one looks into the port.

Not to scale: a contact is large, middle or small, and stands where the published layout has it. Where no layout was
at hand no contact is drawn and the words say so. `tests/outside/test_connector_faces.py` holds the counts and rows,
with where each was read.
"""

from dataclasses import dataclass

from catalog.domain.connectors import BY_KEY
from catalog.draw.sketch import Label, Sketch, Stroke, box, dot

WIDTH = 1000
NOT_AT_HAND = "Layout not at hand: go by the name on the port or its flap."

# Radius of a contact, in units of the face.
LARGE, MIDDLE, SMALL = 110, 80, 48


@dataclass(frozen=True, slots=True)
class Contact:
    """A contact. kind: "dc", "power" (AC, or AC and DC), "earth" or "signal"."""

    x: int
    y: int
    r: int
    kind: str


@dataclass(frozen=True, slots=True)
class Face:
    """One coupler's face, 0..1000 across and 0..height down.

    outline: SVG paths, the upper one last; none where it was not at hand. contacts: those whose place is known.
    unplaced: how many more there are. holes: the vehicle's side has holes where others have pins. basis: "published"
    where the arrangement was read, "memory" where it was not, "" where none is drawn. words: the text twin.
    """

    key: str
    label: str
    height: int
    outline: tuple[str, ...]
    contacts: tuple[Contact, ...]
    unplaced: int
    holes: bool
    basis: str
    words: tuple[str, ...]


# A circle flattened above: the outline of type 2 and of the AC coupler of GB/T 20234.2.
_FLAT_TOP = "M 236 110 L 764 110 A 450 450 0 1 1 236 110 Z"
_ROUND = "M 50 500 A 450 450 0 1 1 950 500 A 450 450 0 1 1 50 500 Z"
# The lobe with the two DC contacts, under either.
_DC_LOBE = "M 280 880 L 720 880 A 210 210 0 0 1 720 1330 L 280 1330 A 210 210 0 0 1 280 880 Z"
_EGG = (
    "M 250 110 L 750 110 A 210 210 0 0 1 945 390 L 800 780 A 200 200 0 0 1 612 910 "
    "L 388 910 A 200 200 0 0 1 200 780 L 55 390 A 210 210 0 0 1 250 110 Z"
)

_TYPE1 = (
    Contact(345, 340, MIDDLE, "power"),
    Contact(655, 340, MIDDLE, "power"),
    Contact(235, 590, SMALL, "signal"),
    Contact(765, 590, SMALL, "signal"),
    Contact(500, 740, MIDDLE, "earth"),
)
_TYPE2 = (
    Contact(375, 270, SMALL, "signal"),
    Contact(625, 270, SMALL, "signal"),
    Contact(225, 520, MIDDLE, "power"),
    Contact(500, 520, MIDDLE, "earth"),
    Contact(775, 520, MIDDLE, "power"),
    Contact(360, 765, MIDDLE, "power"),
    Contact(640, 765, MIDDLE, "power"),
)
_DC_UNDER = (Contact(290, 1135, LARGE, "dc"), Contact(710, 1135, LARGE, "dc"))
_DC_ACROSS = (Contact(235, 480, LARGE, "dc"), Contact(765, 480, LARGE, "dc"))
_J3400 = (
    Contact(310, 350, LARGE, "power"),
    Contact(690, 350, LARGE, "power"),
    Contact(330, 660, SMALL, "signal"),
    Contact(500, 715, MIDDLE, "earth"),
    Contact(670, 660, SMALL, "signal"),
)

_ROWS_TYPE1 = "Three larger contacts: two above, one below in the middle. Two small ones, one at either side."
_ROWS_TYPE2 = "Two small contacts above, three larger in the middle row, two larger below."
_TWO_UNDER = "Below it, in a part of their own, two large DC contacts side by side."

_FACES: dict[str, tuple[int, tuple[str, ...], tuple[Contact, ...], str, tuple[str, ...]]] = {
    "type1": (1000, (_ROUND,), _TYPE1, "memory", ("Round.", _ROWS_TYPE1)),
    "type2": (1000, (_FLAT_TOP,), _TYPE2, "published", ("Round, flat on top.", _ROWS_TYPE2)),
    "ccs1": (1360, (_DC_LOBE, _ROUND), (*_TYPE1, *_DC_UNDER), "memory", (
        "Above, the round face of type 1.", _ROWS_TYPE1, _TWO_UNDER)),
    "ccs2": (1360, (_DC_LOBE, _FLAT_TOP), (*_TYPE2, *_DC_UNDER), "published", (
        "Above, the face of type 2, flat on top.", _ROWS_TYPE2, _TWO_UNDER)),
    "chademo": (1000, (_ROUND,), _DC_ACROSS, "memory", ("Round and large.", "Two large DC contacts, left and right.")),
    "gbt_dc": (1000, (_ROUND,), _DC_ACROSS, "memory", ("Round and large.", "Two large DC contacts, left and right.")),
    "gbt_ac": (1000, (_FLAT_TOP,), _TYPE2, "published", (
        "Round, flat on top: as type 2, but with holes where type 2 has pins.", _ROWS_TYPE2)),
    "j3400": (1000, (_EGG,), _J3400, "memory", (
        "Wide above, narrow below.", "Two large contacts above, for AC and DC. Three smaller below.")),
    "mcs": (1000, (), (), "", ("Triangular.", "Two large DC contacts, an earth, four small ones.")),
    "own": (1000, (), (), "", ("Each maker's own.",)),
}  # fmt: skip

_HOLES = frozenset({"gbt_ac"})


def face(key: str) -> Face:
    """The face of a coupler of `catalog.domain.connectors`. Raises KeyError."""
    coupler = BY_KEY[key]
    height, outline, contacts, basis, words = _FACES[key]
    unplaced = 0 if coupler.contacts is None else coupler.contacts - len(contacts)
    return Face(
        key,
        coupler.label,
        height,
        outline,
        contacts,
        unplaced,
        key in _HOLES,
        basis,
        (*_counted(coupler.contacts), *words, *_open(contacts, unplaced)),
    )


def faces() -> tuple[Face, ...]:
    """Every coupler's, in the order of the vocabulary."""
    return tuple(face(key) for key in BY_KEY)


def _counted(contacts: int | None) -> tuple[str, ...]:
    return () if contacts is None else (f"{contacts} contacts.",)


def _open(contacts: tuple[Contact, ...], unplaced: int) -> tuple[str, ...]:
    """What is not drawn, said."""
    if not contacts:
        return (NOT_AT_HAND,)
    return (f"{unplaced} more contacts; where they stand was not at hand.",) if unplaced else ()


def face_sketch(key: str) -> Sketch:
    """The face as a drawing; dotted with a query where its layout was not at hand. Raises KeyError."""
    one = face(key)
    strokes = [Stroke("body", path) for path in one.outline]
    labels: list[Label] = []
    for contact in one.contacts:
        strokes.append(Stroke("panel" if one.holes else "solid", dot(contact.x, contact.y, contact.r)))
        if contact.kind == "earth" and not one.holes:
            # The earth is ringed, so that the one in the middle can be told.
            strokes.append(Stroke("ringed", dot(contact.x, contact.y, contact.r + 26)))
    if not one.outline:
        strokes.append(Stroke("unsaid", box(100, 200, 800, 600)))
        labels.append(Label(WIDTH // 2, 590, "?", 300, "middle"))
    elif one.unplaced:
        strokes.append(Stroke("unsaid", box(300, 640, 400, 200)))
        labels.append(Label(WIDTH // 2, 795, f"+{one.unplaced}?", 150, "middle"))
    return Sketch(key, one.label, WIDTH, one.height, tuple(strokes), tuple(labels), one.words)
