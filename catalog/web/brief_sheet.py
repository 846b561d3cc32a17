"""A brief as its page and its one printed sheet show it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from markupsafe import Markup

from catalog.plan.brief.model import Line, Section
from catalog.services.brief_views import BriefView
from catalog.services.drawings import StripView, shape_told
from catalog.services.qr import qr_svg

# Sections that stand across the sheet; the others share its two columns.
_ACROSS = ("changed", "danger", "scene", "confirm", "hand_over")
# How much one sheet holds (the shorter of A4 and Letter) at each size of tokens.css, in letters: measured on the demo
# catalogue, and held by a test that prints it.
_SIZES = (("", 4900), ("small", 5500), ("smallest", 6250))
_TINY = "tiny"
# The walk-round strip: how wide it is printed at each size (brief.css), in parts of a hundred, and letters the page
# loses for each pixel of its height; heading and legend beside it. A sheet that says too much for it goes without: the
# smallest print of all is not used for its sake, it can hardly be read by a torch.
_DRAWN = {"": 70, "small": 66, "smallest": 62}
_PIXEL, _HEADING, _LINE = 12, 36, 20
# What a step, a row of a slip and a change of a correction take beside their letters.
_STEP, _ROW, _CHANGE = 20, 40, 120
MOST_NEWER = 12  # facts of a newer edition that are shown
_LONG = 80  # letters
_ONLY_IF = "ONLY IF"
_BESIDE = 4  # what a line takes beside its text


@dataclass(frozen=True, slots=True)
class SheetStep:
    """A step, or a statement without a number, with the lines that belong to it."""

    head: Line
    lines: tuple[Line, ...]

    @property
    def shape(self) -> str:
        """Of its disc, the one the strip has."""
        return shape_told(self.head.key, conditional=bool(self.lines) and self.lines[0].lead == _ONLY_IF)


@dataclass(frozen=True, slots=True)
class SheetPart:
    """A part of the sheet."""

    key: str
    title: str
    steps: tuple[SheetStep, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """across: by key. parts: in the two columns. size: how small it is printed, so that it is one sheet.

    drawn: there is room for the walk-round strip.
    """

    across: dict[str, SheetPart]
    parts: tuple[SheetPart, ...]
    size: str
    drawn: bool = False


def sheet_of(view: BriefView, strip: StripView | None = None) -> Sheet:
    """The sheet of a brief: of lines under one lead the lead is said once. strip: for it, where there is room."""
    if view.kind == "slip":
        whole = grouped(view.brief.full)
        return Sheet({}, whole, _size(_needed(whole, each=_ROW)))
    parts = [_part(section) for section in view.brief.sheet]
    columns = tuple(part for part in parts if part.key not in _ACROSS)
    across = {part.key: part for part in parts if part.key in _ACROSS}
    said = [part for part in across.values() if part.key != "hand_over"]
    needed = _needed(columns, (*said, *_beside(view)))
    if strip is not None:
        for name, room in _SIZES:
            if needed + _PIXEL * (strip.height * _DRAWN[name] // 100 + _HEADING) <= room:
                return Sheet(across, columns, name, drawn=True)
        # That it is elsewhere takes a line.
        needed += _PIXEL * _LINE
    return Sheet(across, columns, _size(needed))


def grouped(sections: tuple[Section, ...]) -> tuple[SheetPart, ...]:
    """The full text with what belongs to a step below it."""
    return tuple(SheetPart(section.key, section.title, tuple(_steps(section))) for section in sections)


def qr_code(address: str) -> Markup:
    """The address as a QR code, to stand in the page."""
    return Markup(qr_svg(address, "Link to this brief"))  # noqa: S704 - drawn from an address of our own


def merged(lines: Sequence[Line]) -> tuple[Line, ...]:
    """Lines that follow each other under one lead as one; what is not plainly stated keeps a line of its own."""
    made: list[Line] = []
    for line in lines:
        last = made[-1] if made else None
        if last and line.lead and last.lead == line.lead and last.state == line.state == "stated":
            made[-1] = replace(last, text=f"{last.text.removesuffix('.')}; {line.text}")
        else:
            made.append(line)
    return tuple(made)


def _part(section: Section) -> SheetPart:
    steps = [SheetStep(step.head, merged(step.lines)) for step in _steps(section)]
    return SheetPart(section.key, section.title, tuple(_said_once(steps)))


def _steps(section: Section) -> Iterator[SheetStep]:
    head: Line | None = None
    lines: list[Line] = []
    for line in section.lines:
        if line.level and head is not None:
            lines.append(line)
            continue
        if head is not None:
            yield SheetStep(head, tuple(lines))
        head, lines = line, []
    if head is not None:
        yield SheetStep(head, tuple(lines))


def _beside(view: BriefView) -> Iterator[SheetPart]:
    """What has come to stand beside the brief since, as far as it takes room on the sheet."""
    changes = [change for one in view.followed_by for change in one.changes]
    said = [f"{change.label} {change.was} {change.now}" for change in changes]
    if view.newer:
        said += [f"{fact.label} {fact.was} {fact.now}" for fact in view.newer.facts[:MOST_NEWER]]
        said += [f"{gone.code} {gone.reason}" for gone in view.newer.gone]
    if said:
        yield SheetPart("changed", "", tuple(SheetStep(Line(text), ()) for text in ("", *said)))


def _size(needed: int) -> str:
    """The largest print that holds so many letters on one sheet."""
    return next((name for name, room in _SIZES if needed <= room), _TINY)


def _needed(parts: Sequence[SheetPart], across: Sequence[SheetPart] = (), each: int = _STEP) -> int:
    """How much there is to print, in letters."""
    needed = sum(each * len(part.steps) for part in parts)
    needed += sum(_CHANGE * len(part.steps) for part in across if part.key == "changed")
    for part in (*parts, *across):
        lines = [line for step in part.steps for line in (step.head, *step.lines)]
        needed += sum(len(line.text) + len(line.lead) + _BESIDE for line in lines)
    return needed


def _said_once(steps: Sequence[SheetStep]) -> Iterator[SheetStep]:
    """A long list of conditions that a step has in common with the one before it is said there; a short one stays."""
    before: SheetStep | None = None
    for step in steps:
        asked = [line for line in step.lines if line.lead == _ONLY_IF]
        if (
            before
            and asked
            and len(asked[0].text) > _LONG
            and [line.text for line in before.lines if line.lead == _ONLY_IF] == [asked[0].text]
        ):
            same = replace(asked[0], text=f"the same holds as for step {before.head.number}.")
            yield replace(step, lines=tuple(same if line is asked[0] else line for line in step.lines))
        else:
            before = step
            yield step
