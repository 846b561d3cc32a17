"""The walk-round strip: what a crew meets walking to their right from the front face, unrolled.

Numbers in the order things are reached; zones by fill; what lies on the ground in words. Every place is drawn on the
side the record states, inside the outline; what is known only as a zone gets the zone's centre and a wider mark.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from catalog.domain.wording import sentence
from catalog.draw import areas, compass, discs
from catalog.draw.bodies import body_of
from catalog.draw.faces import STANCES, VIEW_WORDS, Stance, on_view, permille_of, view_of, views_held
from catalog.draw.frame import Frame, inwards, outlines, settled, shapes_of
from catalog.draw.geometry import towards
from catalog.draw.layout import WIDTHS, Cell, cells_for, label_of
from catalog.draw.model import Circle, Disc, Drawn, Line, Numbered, Panel, Point, Shape, Strip, Words
from catalog.draw.twin import twin_of
from catalog.draw.wording import LEGEND, body_words, size_words, wrapped

_HEADER = 460
_LABEL = 210
_LOW = 350  # permille of a panel's height: marks below it hang their discs below the ground line
_ARROW = 170  # the way on, below the ground line
_ROW_OF_DISCS = 264


@dataclass(frozen=True, slots=True)
class _Hanging:
    """A disc and its place, the ground line at 0."""

    hung: discs.Hung
    place: Point


@dataclass(frozen=True, slots=True)
class _Hung:
    """What hangs at one panel, the ground line at 0. above, below: rows of discs. wedges: x of what is held."""

    outline: tuple[tuple[Point, ...], ...]
    discs: tuple[_Hanging, ...]
    above: int
    below: int
    wedges: tuple[int, ...]


def strip(drawn: Drawn, posture: str = "", rows: int = 2, header: bool = True) -> Strip:
    """The picture. posture: of model.POSTURES. rows: 2 for a phone, 1 for a sheet of paper. header: how it lies, its
    size and the large compass above it; without, whoever shows it says how it lies.
    """
    stance = STANCES[posture]
    body = body_of(drawn.body)
    size = proportions((drawn.length, drawn.width, drawn.height), body.size)
    wide = WIDTHS[rows]
    shapes: list[Shape] = list(_header(drawn, stance, wide)) if header else []
    panels: list[Panel] = []
    top = _HEADER if header else 0
    for row in cells_for(body, size, stance, rows):
        made, placed, top = _row(row, drawn, stance, top)
        shapes += made
        panels += [Panel(cell.frame.view, cell.frame.turn, cell.frame.box, cell.on_top) for cell in placed]
    lost = tuple(each for each in drawn.numbered if not each.wheel and view_of(each.place, stance) == stance.ground)
    ground, top = _on_ground(lost, stance, wide, top)
    shapes += ground
    fills = {areas.FILL[zone.kind] or zone.kind for zone in drawn.zones}
    return Strip(
        width=wide,
        height=top,
        title=f"Walk round: {body_words(drawn)}. {stance.words}",
        shapes=tuple(shapes),
        panels=tuple(panels),
        legend=tuple((key, said) for key, said in LEGEND.items() if key in fills or key == "blank"),
        on_ground=VIEW_WORDS[stance.ground] if stance.ground else "",
        out_of_reach=lost,
        twin=twin_of(drawn, stance),
    )


def proportions(told: tuple[int, int, int], typical: tuple[int, int, int]) -> tuple[int, int, int]:
    """Length, width, height in mm; 0 for what is not stated.

    What is not stated is the body's typical measure, moved half as far as what is stated differs from it: a short bus
    is lower too, though not in proportion. Our own rule, no source.
    """
    stated = [at for at in (0, 1, 2) if told[at] > 0]
    if not stated:
        return typical
    first = stated[0]
    length, width, height = (
        told[at] if told[at] > 0 else typical[at] * (typical[first] + told[first]) // (2 * typical[first])
        for at in (0, 1, 2)
    )
    return (length, width, height)


def _header(drawn: Drawn, stance: Stance, wide: int) -> Iterator[Shape]:
    yield Words("strip-posture", (0, 150), stance.words)
    yield Words("strip-note", (0, 320), size_words(drawn))
    yield from compass.large(wide - 330, 20, stance.ground != "")


def _row(row: Sequence[Cell], drawn: Drawn, stance: Stance, top: int) -> tuple[list[Shape], list[Cell], int]:
    """Shapes of a row, its cells set on the ground line, and where the row ends."""
    tall = max(cell.frame.size[1] for cell in row)
    hung = [_hung(cell, drawn, stance, tall) for cell in row]
    above, below = max(each.above for each in hung), max(each.below for each in hung)
    ground = top + _LABEL + (above * _ROW_OF_DISCS + 70 if above else 30) + tall
    on_top = row[0].on_top
    end = ground + (60 if on_top and below == 0 else _ARROW + 160 + max(0, below - 1) * _ROW_OF_DISCS)
    cells = [replace(cell, frame=replace(cell.frame, bottom=ground)) for cell in row]
    shapes: list[Shape] = []
    over: list[Shape] = []
    for each, cell in zip(hung, cells, strict=True):
        if cell.at in (1, 2, 3) and cell.left > 0:
            shapes.append(Line("fold", (("M", (cell.left, top)), ("L", (cell.left, end - 60)))))
        shapes += _label(cell, top)
        shapes += shapes_of(cell.frame)
        outline = [[(x, y + ground) for x, y in area] for area in each.outline]
        shapes += _zones(cell.frame, outline, drawn, stance)
        if not on_top:
            shapes += _arrow(cell, ground + _ARROW)
        for x in each.wedges:
            shapes += _wedge(x, ground)
        made = [_disc(hanging, cell.frame.view, ground) for hanging in each.discs]
        for disc in made:
            shapes += _leaders(disc)
        over += made
    if not on_top:
        shapes.append(Line("ground", (("M", (0, ground)), ("L", (WIDTHS[1] if len(row) > 2 else WIDTHS[2], ground)))))
    elif row[0].left > 0:
        shapes += [Words("strip-label", (50, top + 150), "On top,"), Words("strip-text", (50, top + 330), "from above")]
    return [*shapes, *over], cells, end


def _hung(cell: Cell, drawn: Drawn, stance: Stance, tall: int) -> _Hung:
    """Discs of one panel on as few rows as keep their leaders apart."""
    frame = replace(cell.frame, bottom=0)
    outline = outlines(frame)
    found = _found(frame, outline, drawn, stance)
    over, above = _placed(found[0], cell, (-tall - 70 - discs.RADIUS, -_ROW_OF_DISCS))
    under, below = _placed(found[1], cell, (_ARROW, _ROW_OF_DISCS))
    return _Hung(outline, (*over, *under), above, below, found[2])


def _placed(hung: Sequence[discs.Hung], cell: Cell, rows: tuple[int, int]) -> tuple[list[_Hanging], int]:
    """Places, and how many rows. rows: y of the first and from each to the next.

    Where leaders still cross, a number of several places gets a disc for each.
    """
    if not hung:
        return [], 0
    together = _tried(hung, cell, rows)
    if together[0] == 0:
        return together[1], together[2]
    apart = _tried([replace(each, marks=(mark,)) for each in hung for mark in each.marks], cell, rows)
    best = apart if apart[0] < together[0] else together
    return best[1], best[2]


def _tried(hung: Sequence[discs.Hung], cell: Cell, rows: tuple[int, int]) -> tuple[int, list[_Hanging], int]:
    """How many leaders cross at best, places, and how many rows."""
    left, right = cell.left + 25, cell.right - 25
    least = discs.levels_for(len(hung), right - left)
    best: tuple[int, list[_Hanging], int] = (-1, [], 0)
    for count in (least, least + 1, least + 2):
        places = discs.places_for(hung, left, right, [rows[0] + level * rows[1] for level in range(count)])
        crossed = discs.crossings(hung, places)
        if best[0] < 0 or crossed < best[0]:
            best = (crossed, [_Hanging(each, place) for each, place in zip(hung, places, strict=True)], count)
        if crossed == 0:
            break
    return best


def _disc(hanging: _Hanging, view: str, ground: int) -> Disc:
    x, y = hanging.place
    marks = tuple((a, b + ground) for a, b in hanging.hung.marks)
    return Disc(hanging.hung.numbered, (x, y + ground), marks, view)


def _label(cell: Cell, top: int) -> Iterator[Shape]:
    yield from compass.small(cell.left + 50, top + 10, cell.at)
    yield Words("strip-label", (cell.left + 195, top + 150), label_of(cell.frame.view, cell.on_top))


def _arrow(cell: Cell, y: int) -> Iterator[Shape]:
    left, right = cell.left + 40, cell.right - 60
    yield Line("arrow", (("M", (left, y)), ("L", (right - 70, y))))
    yield Line("arrow-tip", (("M", (right, y)), ("L", (right - 75, y - 34)), ("L", (right - 75, y + 34)), ("Z", ())))


def _wedge(x: int, ground: int) -> Iterator[Shape]:
    """Chocks: a wedge on each side."""
    for far in (1, -1):
        near, away = x + far * 60, x + far * 230
        yield Line("wedge", (("M", (near, ground)), ("L", (away, ground)), ("L", (near, ground - 95)), ("Z", ())))


def _zones(frame: Frame, outline: Sequence[Sequence[Point]], drawn: Drawn, stance: Stance) -> Iterator[Shape]:
    for zone in drawn.zones:
        if frame.view in areas.views_of(zone, stance):
            yield from areas.lines_of(zone, frame, outline)


def _leaders(disc: Disc) -> Iterator[Shape]:
    """From the disc to its marks; the wedges of what is held speak for themselves."""
    if disc.numbered.wheel:
        return
    for mark in disc.marks:
        path = (("M", towards(disc.centre, mark, discs.RADIUS - 10)), ("L", mark))
        yield Line("leader-halo", path)
        yield Line("leader", path)
    for mark in disc.marks:
        yield Circle("mark-zone", mark, 48) if disc.numbered.zone else Circle("mark", mark, 36)


def _found(
    frame: Frame, outline: Sequence[Sequence[Point]], drawn: Drawn, stance: Stance
) -> tuple[tuple[discs.Hung, ...], tuple[discs.Hung, ...], tuple[int, ...]]:
    """Above, below and where it is held: a mark in the lower part of a panel hangs below the ground line."""
    above: list[tuple[Numbered, Point]] = []
    below: list[tuple[Numbered, Point]] = []
    wedges: list[int] = []
    box = frame.box
    low = box[3] - (box[3] - box[1]) * _LOW // 1000
    for each in drawn.numbered:
        if each.wheel:
            if frame.view in views_held(each.place, stance):
                point = _held(frame, outline, each, stance)
                wedges.append(point[0])
                below.append((each, point))
            continue
        if view_of(each.place, stance) != frame.view:
            continue
        point = settled(frame, outline, on_view(permille_of(each.place), frame.view))
        side = below if point[1] > low else above
        side.append((each, point))
    return discs.gathered(above), discs.gathered(below), tuple(wedges)


def _held(frame: Frame, outline: Sequence[Sequence[Point]], each: Numbered, stance: Stance) -> Point:
    """Where a vehicle is held: at the foot of the wheel nearest its place, or where it lies, in the middle below."""
    if stance.ground:
        box = frame.box
        return inwards(frame, outline, ((box[0] + box[2]) // 2, box[3] - 30))
    x = permille_of(each.place)[0]
    nearest = sorted(frame.body.axles, key=lambda axle: abs(axle - x))[0]
    foot = frame.of_table((nearest, 0))
    return (foot[0], foot[1] - 30)


def _on_ground(lost: Sequence[Numbered], stance: Stance, wide: int, top: int) -> tuple[list[Shape], int]:
    """What lies on the ground, in words with struck discs."""
    if not stance.ground:
        return [], top
    shapes: list[Shape] = [Line("rule", (("M", (0, top)), ("L", (wide, top))))]
    reach = "Out of reach:" if lost else "No numbered place there."
    shapes.append(Words("strip-label", (0, top + 190), f"On the ground: {VIEW_WORDS[stance.ground]}. {reach}"))
    y = top + 250
    for each in lost:
        lines = wrapped(sentence(each.label), (wide - 340) // 70)
        shapes.append(Disc(replace(each, shape="struck"), (130, y + 120), (), stance.ground))
        for at, text in enumerate(lines):
            shapes.append(Words("strip-text", (320, y + 165 + at * 180), text))
        y += max(270, len(lines) * 180 + 90)
    return shapes, y + 40
