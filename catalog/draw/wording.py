"""The words of the strip: what fills and shapes mean, and what is said where a drawing must not be trusted."""

from catalog.domain.places import FRAME_NOTE, Place, words
from catalog.domain.vocabulary import BODY
from catalog.domain.wording import sentence
from catalog.draw.bodies import UNSAID
from catalog.draw.model import RING, SOLID, STRUCK, Drawn

BLANK = "Blank is no fact, never permission: strip trim and look."
SIDES = FRAME_NOTE
LEGEND = {
    "cut": "do not cut",
    "lattice": "do not cut, push, pierce or lever",
    "dots": "not stated: strip trim and look",
    "strong": "reinforced, hard to cut",
    "battery12": "low-voltage source",
    "blank": "blank: no fact, never permission",
}
KINDS = {
    "no_cut": "do not cut", "inflator": "inflator, do not cut", "pretensioner": "pretensioner, do not cut",
    "gas_strut": "gas strut, do not cut", "cable": "high-voltage cable, do not cut",
    "no_push": "do not cut, push, pierce or lever", "pack": "high-voltage pack, do not cut, push, pierce or lever",
    "tank": "tank, do not cut, push, pierce or lever", "not_stated": "not stated",
    "battery12": "low-voltage source", "strong": "reinforced, hard to cut",
}  # fmt: skip
SHAPES = {SOLID: "", RING: ", only if its condition holds", STRUCK: ", ruled out or out of reach"}


def body_words(drawn: Drawn) -> str:
    """What the outline stands for: the body style, or that none is stated."""
    if drawn.body in BODY.keys:
        return BODY.label_of(drawn.body)
    return f"body style not stated, drawn as a {BODY.label_of(UNSAID)}"


def size_words(drawn: Drawn) -> str:
    """What the proportions rest on."""
    told = {"length": drawn.length, "width": drawn.width, "height": drawn.height}
    missing = [name for name, value in told.items() if value <= 0]
    if not missing:
        return f"{metres(drawn.length)} m long, {metres(drawn.width)} m wide, {metres(drawn.height)} m high"
    named = ", ".join(missing) if len(missing) < len(told) else "size"
    return f"{sentence(named)} not stated: drawn as typical"


def metres(millimetres: int) -> str:
    """Metres with two places, cut off: 1854 -> 1.85."""
    rest = millimetres % 1000 // 10
    return f"{millimetres // 1000}.{'0' if rest < 10 else ''}{rest}"


def place_words(place: Place) -> str:
    """A place, and whether it is known only as far as its zone."""
    return words(place) if place.at is not None else f"{words(place)}, no exact point"


def wrapped(text: str, letters: int) -> tuple[str, ...]:
    """Lines of at most so many letters, broken at spaces; a longer word has a line of its own."""
    lines: list[str] = []
    line = ""
    for word in text.split(" "):
        if line and len(line) + 1 + len(word) > letters:
            lines.append(line)
            line = word
        else:
            line = f"{line} {word}" if line else word
    return (*lines, line)
