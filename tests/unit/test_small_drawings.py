"""The small drawings: inside their boxes, nothing over anything else, silence marked, the twin with the same facts."""

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest

from catalog.domain.connectors import BY_KEY
from catalog.domain.documents import record_from_document
from catalog.domain.facts import Fact, State
from catalog.domain.places import END, SIDE, Place
from catalog.domain.record import Record
from catalog.domain.vocabulary import DOOR_MECHANISM, METHOD, SELECTOR
from catalog.draw.close_up import close_up, close_ups
from catalog.draw.connectors import face, face_sketch, faces
from catalog.draw.icons import door_sketches, selector_sketches
from catalog.draw.port_place import HEIGHT, NOSE, TAIL, WIDTH, PortCell, port_cells, port_outline
from catalog.draw.sketch import PAINTS, Label, Sketch, sketch_svg
from seed_demo.files import read_families

PART = re.compile(r"([MLHVQCAZ])([^MLHVQCAZ]*)")
SMALLEST = 12  # the smallest letters of the form


def points(path: str) -> Iterator[tuple[int, int]]:
    """The points a path is drawn through; whole numbers only, or int() fails."""
    x = y = 0
    for letter, numbers in PART.findall(path):
        told = [int(number) for number in numbers.split()]
        match letter:
            case "H":
                x = told[-1]
            case "V":
                y = told[-1]
            case "A":
                x, y = told[5], told[6]
            case "Z":
                continue
            case _:
                for at in range(0, len(told), 2):
                    yield told[at], told[at + 1]
                x, y = told[-2], told[-1]
                continue
        yield x, y


def extent(label: Label) -> tuple[int, int, int, int]:
    """Left, top, right, bottom of a line of words, a letter taken as wide as 0.62 of its size (B612, measured)."""
    wide = len(label.text) * label.size * 62 // 100
    left = {"start": label.x, "middle": label.x - wide // 2, "end": label.x - wide}[label.anchor]
    return left, label.y - label.size * 3 // 4, left + wide, label.y + label.size // 4


def over(a: tuple[int, int, int, int], b: tuple[int, int, int, int]) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


@cache
def records() -> dict[str, Record]:
    return {code: record_from_document(document) for code, document in read_families().items()}


@cache
def all_close_ups() -> list[tuple[str, Sketch]]:
    return [(code, sketch) for code, record in records().items() for sketch in close_ups(record)]


def sketches() -> list[Sketch]:
    return [
        *(face_sketch(key) for key in BY_KEY),
        *door_sketches(),
        *selector_sketches(),
        port_outline(TAIL),
        port_outline(NOSE),
        *(sketch for _, sketch in all_close_ups()),
    ]


def test_every_sketch_is_whole_and_inside_its_box() -> None:
    assert len(sketches()) > 250
    for sketch in sketches():
        assert sketch.strokes, sketch.key
        assert sketch.title
        for stroke in sketch.strokes:
            assert stroke.paint in PAINTS
            found = list(points(stroke.d))
            assert found, stroke
            assert all(0 <= x <= sketch.width and 0 <= y <= sketch.height for x, y in found), (sketch.key, stroke)
        for label in sketch.labels:
            left, top, right, bottom = extent(label)
            assert label.size >= SMALLEST
            assert min(left, top) >= 0, (sketch.key, label)
            assert right <= sketch.width, (sketch.key, label)
            assert bottom <= sketch.height, (sketch.key, label)


def test_no_words_stand_over_other_words_or_jaws() -> None:
    for code, sketch in all_close_ups():
        words = [(label.text, extent(label)) for label in sketch.labels]
        for at, (text, one) in enumerate(words):
            assert [other for other, box in words[at + 1 :] if over(one, box)] == [], (code, sketch.key, text)
            for jaw in jaws(sketch):
                assert not over(one, jaw), (code, sketch.key, text)


def jaws(sketch: Sketch) -> list[tuple[int, int, int, int]]:
    """The boxes of the triangles that mark a cut."""
    made = []
    for stroke in sketch.strokes:
        found = list(points(stroke.d))
        if len(found) == 3 and stroke.d.endswith("Z") and found[1][0] - found[0][0] == 14:
            across, down = [x for x, _ in found], [y for _, y in found]
            made.append((min(across), min(down), max(across), max(down)))
    return made


# --- faces ----------------------------------------------------------------------------------------


def test_every_contact_is_drawn_or_counted() -> None:
    for one in faces():
        contacts = BY_KEY[one.key].contacts
        assert len(one.contacts) + one.unplaced == (contacts or 0), one.key
        if one.unplaced and one.contacts:
            assert any("not at hand" in line for line in one.words), one.key
            assert any(label.text == f"+{one.unplaced}?" for label in face_sketch(one.key).labels)
        if contacts is not None:
            assert f"{contacts} contacts." in one.words


def test_contacts_do_not_touch_and_a_face_is_the_same_from_left_and_right() -> None:
    for one in faces():
        spots = [(contact.x, contact.y, contact.r) for contact in one.contacts]
        for at, (x, y, r) in enumerate(spots):
            for x2, y2, r2 in spots[at + 1 :]:
                assert (x - x2) ** 2 + (y - y2) ** 2 > (r + r2) ** 2, one.key
        assert {(1000 - x, y, r) for x, y, r in spots} == set(spots), one.key


def test_a_face_without_a_layout_has_a_query_and_no_contacts() -> None:
    for key in ("mcs", "own"):
        sketch = face_sketch(key)
        assert {stroke.paint for stroke in sketch.strokes} == {"unsaid"}
        assert [label.text for label in sketch.labels] == ["?"]
        assert "Layout not at hand" in " ".join(sketch.twin)


def test_no_two_faces_look_alike() -> None:
    drawn = {key: (face(key).outline, face(key).contacts, face(key).unplaced, face(key).holes) for key in BY_KEY}
    alike = [(a, b) for a in drawn for b in drawn if a < b and drawn[a] == drawn[b] and face(a).outline]
    assert alike == []


# --- to tap ---------------------------------------------------------------------------------------


def test_there_is_a_sketch_for_every_word() -> None:
    assert [sketch.key for sketch in door_sketches()] == list(DOOR_MECHANISM.keys)
    assert [sketch.key for sketch in selector_sketches()] == list(SELECTOR.keys)
    for made in (door_sketches(), selector_sketches()):
        assert len({sketch.strokes for sketch in made}) == len(made)


@pytest.mark.parametrize("stand", [TAIL, NOSE])
def test_ten_cells_that_do_not_overlap(stand: str) -> None:
    cells = port_cells(stand)
    assert len(cells) == len({cell.value for cell in cells}) == 10
    for cell in cells:
        side, end, level = cell.value.split("|")
        assert side in SIDE.keys or side == ""
        assert end in END.keys
        assert level == ""
        assert cell.x >= 0
        assert cell.x + cell.width <= WIDTH
        assert cell.y >= 0
        assert cell.y + cell.height <= HEIGHT
        assert min(cell.width, cell.height) >= 48
    boxes = [(cell.x, cell.y, cell.x + cell.width, cell.y + cell.height) for cell in cells]
    assert not any(over(one, other) for at, one in enumerate(boxes) for other in boxes[at + 1 :])
    # In the order a screen reader meets them: down, then across.
    order = [(round((cell.y + cell.height / 2) / 90), cell.x) for cell in cells]
    assert order == sorted(order)


def test_left_is_to_the_left_at_the_tail_and_to_the_right_at_the_nose() -> None:
    """A person who faces a vehicle's nose has its left flank to their right."""

    def middle(cells: tuple[PortCell, ...], value: str) -> tuple[int, int]:
        (cell,) = (cell for cell in cells if cell.value == value)
        return cell.x + cell.width // 2, cell.y + cell.height // 2

    tail, nose = port_cells(TAIL), port_cells(NOSE)
    assert middle(tail, "left|middle|")[0] < WIDTH // 2 < middle(nose, "left|middle|")[0]
    assert middle(tail, "|front_face|")[1] < HEIGHT // 2 < middle(nose, "|front_face|")[1]
    for cell in tail:
        x, y = middle(tail, cell.value)
        assert middle(nose, cell.value) == (WIDTH - x, HEIGHT - y)
    words = {label.text: label.y for label in port_outline(NOSE).labels}
    assert words["tail"] < words["nose"]
    with pytest.raises(KeyError):
        port_cells("roof")


# --- the cut point --------------------------------------------------------------------------------


def test_every_way_of_the_demo_has_its_close_up() -> None:
    ways = sum(len(record.items.get("cutoff.methods", ())) for record in records().values())
    assert len(all_close_ups()) == ways > 150
    seen = {str(fact.value) for record in records().values() for fact in kinds(record)}
    assert seen >= set(METHOD.keys)


def kinds(record: Record) -> list[Fact]:
    return [record.fact(f"cutoff.methods[{item}].kind") for item in record.items.get("cutoff.methods", ())]


def test_as_many_cuts_are_drawn_as_are_stated() -> None:
    counted = set()
    for code, record in records().items():
        for item in record.items.get("cutoff.methods", ()):
            kind, cuts = (record.fact(f"cutoff.methods[{item}].{key}") for key in ("kind", "cuts"))
            sketch = close_up(record, item)
            drawn = len(jaws(sketch))
            if kind.value not in ("lv_cut_loop", "lv_negative"):
                assert drawn == 0, code
            elif cuts.state is State.STATED:
                assert drawn == 2 * int(str(cuts.value)), code
                counted.add(cuts.value)
            else:
                # The reading of silence: cut twice. Dotted, and said.
                assert drawn == 4, code
                assert any(label.text == f"cuts {cuts.state.label}" for label in sketch.labels)
                assert sum(stroke.paint == "unsaid" for stroke in sketch.strokes) >= 4
    assert counted >= {1, 2}


def sample() -> tuple[Record, str]:
    """A record with a loop whose place, label and cuts are plainly stated."""
    for record in records().values():
        for item in record.items.get("cutoff.methods", ()):
            facts = {key: record.fact(f"cutoff.methods[{item}].{key}") for key in ("kind", "place", "label", "cuts")}
            if facts["kind"].value == "lv_cut_loop" and all(f.state is State.STATED for f in facts.values()):
                return record, item
    raise AssertionError("no such record in the demo")


@pytest.mark.parametrize("key", ["kind", "place", "label", "cuts"])
def test_what_is_not_stated_is_dotted_and_said(key: str) -> None:
    record, item = sample()
    path = f"cutoff.methods[{item}].{key}"
    before = close_up(record, item)
    silent = replace(record, facts={at: fact for at, fact in record.facts.items() if at != path})
    after = close_up(silent, item)
    assert not any(stroke.paint == "unsaid" for stroke in before.strokes)
    assert any(stroke.paint == "unsaid" for stroke in after.strokes)
    lead = {"kind": "Way", "place": "Where", "label": "Label reads", "cuts": "Cuts"}[key]
    (said,) = (line for line in after.twin if line.startswith(f"{lead}: "))
    assert said.startswith(f"{lead}: not stated")
    assert len(said) > len(f"{lead}: not stated") or key == "kind", "how silence is read stands beside it"


def test_a_disputed_place_is_not_pointed_at() -> None:
    record, item = sample()
    path = f"cutoff.methods[{item}].place"
    sides = (
        Fact(State.STATED, Place("left", "front_quarter", "mid"), ("A-1/1:2",)),
        Fact(State.STATED, Place("right", "front_quarter", "mid"), ("B-1/1:2",)),
    )
    disputed = replace(record, facts={**record.facts, path: Fact(State.DISPUTED, sides=sides)})
    sketch = close_up(disputed, item)
    assert not any(stroke.paint == "spot" for stroke in sketch.strokes)
    (where,) = (line for line in sketch.twin if line.startswith("Where: "))
    assert "left front quarter" in where
    assert "right front quarter" in where


def test_the_spot_lies_on_the_side_the_record_states() -> None:
    for code, record in records().items():
        for item in record.items.get("cutoff.methods", ()):
            fact = record.fact(f"cutoff.methods[{item}].place")
            if fact.state is not State.STATED or not isinstance(fact.value, Place):
                continue
            (spot,) = (stroke for stroke in close_up(record, item).strokes if stroke.paint == "spot")
            across = [x for x, _ in points(spot.d)]
            middle = (min(across) + max(across)) // 2
            if fact.value.side == "left":
                assert middle < 44, code
            elif fact.value.side == "right":
                assert middle > 44, code


def test_a_label_with_mark_up_stays_words() -> None:
    record, item = sample()
    path = f"cutoff.methods[{item}].label"
    odd = replace(record, facts={**record.facts, path: Fact(State.STATED, '<b>"&', ("A-1/1:2",))})
    written = sketch_svg(close_up(odd, item))
    assert "&lt;b&gt;&quot;&amp;" in written
    assert "<b>" not in written
    assert "style=" not in written
