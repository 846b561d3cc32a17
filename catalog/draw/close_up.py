"""The cut point close up: what is cut or pulled, what its label reads, how many cuts, and where on the vehicle.

One drawing for each way to cut high voltage off. What a guide does not state is dotted and carries a query, and the
words beside it say how to go by it; nothing is drawn as if it were known.
"""

from catalog.domain.facts import Fact, State
from catalog.domain.places import Place, zone_centre
from catalog.domain.record import Record, attribute_at
from catalog.domain.vocabulary import METHOD
from catalog.domain.wording import claim_words, sentence
from catalog.draw.sketch import Label, Sketch, Stroke, arrow, box, dot, run
from catalog.draw.wording import wrapped

WIDTH, HEIGHT = 340, 132

# Facts of a way in the order a hand needs them, each with the word before it.
TOLD = (
    ("kind", "Way"),
    ("place", "Where"),
    ("opening", "First"),
    ("label", "Label reads"),
    ("cuts", "Cuts"),
    ("tool", "Tool"),
)
# Ways that are cut; the others are pulled or pressed, and have neither cuts nor always a label.
_CUT = ("lv_cut_loop", "lv_negative")
_PULLED = ("service_disconnect", "fuse")
_PRESSED = ("switch", "power_off")
_LETTERS, _LINES = 16, 4  # of a label: to a line, and lines
_CABLE = {"lv_cut_loop": 66, "lv_negative": 88}
# Where the jaws stand, by the number of cuts: on both sides of the label's sleeve, or along the battery's cable.
_JAWS = {
    "lv_cut_loop": {1: (308,), 2: (128, 308), 3: (128, 306, 324), 4: (112, 130, 306, 324)},
    "lv_negative": {1: (258,), 2: (226, 290), 3: (206, 258, 310), 4: (196, 236, 276, 316)},
}

Part = Stroke | Label


def close_ups(record: Record) -> tuple[Sketch, ...]:
    """One for each way the record gives, in its order; none where it gives none."""
    return tuple(close_up(record, item) for item in record.items.get("cutoff.methods", ()))


def close_up(record: Record, item: str) -> Sketch:
    """The close-up of one way. item: its id in cutoff.methods."""
    path = f"cutoff.methods[{item}]"
    kind = record.fact(f"{path}.kind")
    way = str(kind.value) if kind.state is State.STATED else ""
    title = METHOD.label_of(way) if way else f"way to cut high voltage off: {kind.state.label}"
    parts = [*_outline(record.fact(f"{path}.place")), *_thing(way), *_label(record.fact(f"{path}.label"), way)]
    if way in _CUT:
        parts += _jaws(record.fact(f"{path}.cuts"), way)
    strokes = tuple(part for part in parts if isinstance(part, Stroke))
    labels = tuple(part for part in parts if isinstance(part, Label))
    return Sketch(item, sentence(title), WIDTH, HEIGHT, strokes, labels, _twin(record, path, way))


def _twin(record: Record, path: str, way: str) -> tuple[str, ...]:
    made: list[str] = []
    for key, lead in TOLD:
        fact = record.fact(f"{path}.{key}")
        # Nobody counts the cuts of what is pulled or pressed; not every way has something to open first.
        idle = key == "opening" or (key == "cuts" and way not in ("", *_CUT))
        # The title says the way where it is plainly stated.
        said = key == "kind" and way != ""
        if not said and (fact.state is not State.NOT_STATED or not idle):
            made.append(f"{lead}: {claim_words(attribute_at(f'{path}.{key}'), fact)}")
    return tuple(made)


def _outline(fact: Fact) -> list[Part]:
    """The vehicle from above, nose up, and the place on it; a query where it is not plainly stated."""
    made: list[Part] = [
        Stroke("body", "M 22 34 A 22 18 0 0 1 66 34 L 68 104 A 8 8 0 0 1 60 112 L 28 112 A 8 8 0 0 1 20 104 Z"),
        Stroke("glass", "M 28 48 L 60 48 L 56 58 L 32 58 Z"),
        Stroke("glass", "M 32 92 L 56 92 L 58 99 L 30 99 Z"),
        Label(44, 11, "nose", 13, "middle"),
        Label(44, 127, "tail", 13, "middle"),
    ]
    if fact.state is State.STATED and isinstance(fact.value, Place):
        x, y, _ = fact.value.at or zone_centre(fact.value)
        across, down = 22 + y * 44 // 1000, 20 + x * 88 // 1000
        made += [Stroke("halo", dot(across, down, 8)), Stroke("spot", dot(across, down, 5))]
        made.append(Stroke("thin", run((across + 5, down), (84, down), (90, 66))))
    else:
        made += [Stroke("unsaid", box(31, 61, 26, 28)), Label(44, 80, "?", 16, "middle")]
    return made


def _thing(way: str) -> list[Part]:
    """What is cut, pulled or pressed."""
    if way == "lv_cut_loop":
        return [Stroke("cable", f"M 92 {_CABLE[way]} H 338")]
    if way == "lv_negative":
        made: list[Part] = [Stroke("body", box(92, 52, 60, 54))]
        made += [Stroke("solid", box(98, 44, 12, 8)), Stroke("solid", box(134, 44, 12, 8))]
        made += [Stroke("line", path) for path in (run((99, 66), (109, 66)), run((104, 61), (104, 71)))]
        return [
            *made,
            Stroke("line", run((135, 66), (145, 66))),
            Stroke("cable", f"M 140 46 V 30 H 170 V {_CABLE[way]} H 338"),
        ]
    if way in _PULLED:
        shaft, head = arrow((142, 28), (142, 6))
        block: list[Part] = [Stroke("body", box(92, 70, 100, 40)), Stroke("line", shaft), Stroke("solid", head)]
        if way == "fuse":
            blades = [Stroke("solid", box(at, 60, 8, 18)) for at in (122, 154)]
            return [*block, *blades, Stroke("panel", box(114, 34, 56, 26))]
        return [*block, Stroke("line", "M 118 56 V 36 H 166 V 56"), Stroke("panel", box(108, 54, 68, 24))]
    if way in _PRESSED:
        # Whether it is pressed, turned or lifted no fact says.
        return [Stroke("body", box(102, 70, 80, 36)), Stroke("panel", "M 116 70 V 56 A 26 14 0 0 1 168 56 V 70 Z")]
    return [Stroke("unsaid", box(94, 36, 94, 60)), Label(141, 74, "?", 24, "middle")]


def _label(fact: Fact, way: str) -> list[Part]:
    """The label as it reads, round the cable or beside; dotted where it is not plainly stated."""
    if fact.state is State.NOT_STATED and way not in ("", *_CUT):
        return []
    stated = fact.state is State.STATED
    room = _LINES - 1 if way == "lv_negative" else _LINES
    lines = _broken(str(fact.value), room) if stated else ["label", fact.state.label]
    across = max(64, max(len(line) for line in lines) * 8 + 12)
    down = 16 * len(lines) + 10
    middle, top = 270, 66 - down // 2
    if way == "lv_cut_loop":
        middle = 218
    elif way == "lv_negative":
        middle, top = 258, 2
    words = [Label(middle, top + 18 + 16 * at, lines[at], 14, "middle") for at in range(len(lines))]
    return [Stroke("panel" if stated else "unsaid", box(middle - across // 2, top, across, down)), *words]


def _broken(text: str, room: int) -> list[str]:
    """A label in lines; one that is too long for the drawing ends in dots, and the words beside have it whole."""
    made = wrapped(text, _LETTERS)
    kept = [line[:_LETTERS] for line in made[:room]]
    if len(made) > room or any(len(line) > _LETTERS for line in made):
        kept[-1] = f"{kept[-1][: _LETTERS - 3]}..."
    return kept


def _jaws(fact: Fact, way: str) -> list[Part]:
    """Where it is cut; dotted, and two, where the number is not plainly stated: the reading is to cut twice."""
    count = fact.value if fact.state is State.STATED and isinstance(fact.value, int) else 0
    paint = "solid" if count else "unsaid"
    made: list[Part] = []
    down = _CABLE[way]
    for x in _JAWS[way][count or 2]:
        made.append(Stroke(paint, f"M {x - 7} {down - 26} L {x + 7} {down - 26} L {x} {down - 6} Z"))
        made.append(Stroke(paint, f"M {x - 7} {down + 26} L {x + 7} {down + 26} L {x} {down + 6} Z"))
    word = "1 cut" if count == 1 else f"{count} cuts" if count else f"cuts {fact.state.label}"
    at = (218, 128) if way == "lv_cut_loop" else (258, 129)
    return [*made, Label(at[0], at[1], word, 14, "middle")]
