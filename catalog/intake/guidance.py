"""What a workbook says about itself: a note on each heading, the words of each drop-down list, and the first sheet."""

from collections.abc import Sequence

from catalog.domain.places import END, LANDMARK, LEVEL, SIDE
from catalog.domain.spec.nodes import Equipment, Number, Role, Terms, Text, Where, YesNo
from catalog.intake.claims import NOT_FITTED, NOT_STATED
from catalog.intake.groups import Column, Group, Holds, Rows
from catalog.intake.kinds import CellKind, Codes, Day, LastYear, ListState, Names, Paragraphs, References, Vins
from catalog.intake.terms import BETWEEN, term_text
from catalog.intake.values import ALL_LISTED, FITTED, STILL_BUILT

MAY_WORDS = "MAY BE FITTED"

READ_ME = (
    "How to fill this workbook",
    "One sheet for each part of a record. A row belongs to the record whose code stands in it; a new record has "
    "NEW 1, NEW 2 ... there, the same in every sheet. The column vehicle is for finding one's way.",
    "A blank cell changes nothing; in a new row it means not stated. A row left out removes nothing.",
    "NOT STATED: the guide says nothing of it. NOT FITTED: the guide says the vehicle has none. These two are never "
    "the same to a crew. A dash, n/a, none and 0 are sent back: they could mean either.",
    "MAY BE FITTED: value, where only some have it; a second line DEPENDS ON: trim or market, where the guide says so.",
    "DISPUTED: value, then a line AGAINST: value, where guides contradict each other. Their sources stand in the "
    "source cell in the same order, the second after AGAINST: too.",
    "STATED: value, where a text would otherwise read as one of these.",
    "Every fact has a source, NUMBER/ISSUE:PAGE, several with semicolons between. The column source is for all facts "
    "of the row that name none in the column beside them.",
    "Numbers with their unit: 400 V, 0.4 kV, 58 kWh, 12 ft 6 in, 2 min. No commas. What is no whole number in the "
    "heading's unit is rounded, and that is said.",
    "Places: side, end, level and a landmark, such as left rear quarter, mid, behind the badge. Left and right are "
    "the vehicle's, seated facing forward; never driver's side, nearside or offside.",
    "Items (ports, ways, airbags ...) have a short id of their own within the record, never used again for another.",
    "Action: remove takes an item out. On sheet identity, do not use, with a reason, withdraws the whole record.",
    "Sheet lists says which lists name all there is: ALL LISTED; NOT FITTED where there is none; otherwise NOT STATED.",
    "Rows with the code EXAMPLE are never taken in.",
)  # fmt: skip


def choices(column: Column) -> tuple[str, ...]:
    """What a column's drop-down list offers; empty where anything is typed."""
    if column.holds is Holds.ACTION:
        return ()
    if column.holds not in (Holds.FACT, Holds.PLAIN) or column.kind is None:
        return ()
    words = tuple(_words(column.kind))
    if column.holds is Holds.FACT:
        states = (NOT_STATED, *_fitted(column))
        return (*words, *states) if words or len(states) > 1 else ()
    return words


def actions(group: Group) -> tuple[str, ...]:
    """What may stand in a group's action column."""
    return ("do not use",) if group.rows is Rows.IDENTITY else ("remove",)


def note_of(group: Group, column: Column) -> str:
    """The note on a heading: what may stand there, and what a crew is told when nothing does."""
    parts = [_said(group, column)]
    if column.attr is not None and column.holds is Holds.FACT:
        if column.attr.role in (Role.HAZARD, Role.AID):
            readings = "; ".join(dict.fromkeys(reading.words for reading in column.attr.readings))
            parts.append(f"Not stated is read as: {readings}.")
        if column.attr.fittable:
            parts.append("May be NOT FITTED or MAY BE FITTED.")
    return "\n".join(parts)


def allowed(kind: CellKind) -> str:
    """What may stand in a cell of a kind, in one sentence."""
    match kind:
        case Text(longest):
            return f"Text on one line, up to {longest} characters."
        case Terms(vocabulary, many):
            words = BETWEEN.join(term_text(vocabulary, key) for key in vocabulary.keys)
            return f"{'Any of these, with semicolons between' if many else 'One of these'}: {words}."
        case Number(unit, low, high):
            beside = f", in {unit} or another unit written beside it" if unit else ""
            return f"A whole number from {low} to {high}{beside}."
        case YesNo():
            return "yes or no."
        case Equipment():
            return "FITTED or NOT FITTED."
        case Where():
            ends, levels = ", ".join(t.label for t in END.terms), ", ".join(t.label for t in LEVEL.terms)
            marks = ", ".join(term.label for term in LANDMARK.terms)
            return (
                f"A place. Side: {', '.join(SIDE.keys)}; end: {ends}; level: {levels}; landmark: {marks}. "
                "Left and right are the vehicle's, seated facing forward."
            )
        case Names():
            return 'Names with semicolons between; "in quotes" where one holds a semicolon.'
        case Codes():
            return "Record codes with semicolons between."
        case Vins():
            return 'VIN patterns of 17 characters, "?" for each that varies.'
        case References():
            return "NUMBER/ISSUE:PAGE, with semicolons between."
        case Paragraphs():
            return "Text; line breaks are kept."
        case Day():
            return "A date such as 2026-03-02."
        case LastYear():
            return "The last model year, or STILL BUILT."
        case ListState(item):
            return f"ALL LISTED: no {item} beyond those listed. NOT FITTED: there is none. NOT STATED otherwise."


def _said(group: Group, column: Column) -> str:
    match column.holds:
        case Holds.CODE:
            return "The record's code; NEW 1, NEW 2 ... for new ones, the same in every sheet."
        case Holds.VEHICLE:
            return "For finding one's way; changes nothing."
        case Holds.ACTION:
            return f"Blank to add or change; {' or '.join(actions(group))}."
        case Holds.REASON:
            return "Why it must not be used; crews who had it are told."
        case Holds.ITEM:
            return "Its short id within the record: a small letter, then letters or digits, up to 8."
        case Holds.POSITION:
            return "Its place in the list, from 1."
        case Holds.ROW_SOURCE:
            return "NUMBER/ISSUE:PAGE, for every fact of the row that names no source of its own."
        case Holds.FACT_SOURCE:
            return "NUMBER/ISSUE:PAGE; blank where it is the row's."
    return allowed(column.kind) if column.kind is not None else ""


def _words(kind: CellKind) -> Sequence[str]:
    match kind:
        case Terms(vocabulary):
            return [term_text(vocabulary, key) for key in vocabulary.keys]
        case YesNo():
            return ("yes", "no")
        case Equipment():
            return (FITTED,)
        case ListState():
            return (ALL_LISTED,)
        case LastYear():
            return (STILL_BUILT,)
    return ()


def _fitted(column: Column) -> tuple[str, ...]:
    if isinstance(column.kind, ListState):
        return (NOT_FITTED,)
    if column.attr is None or not column.attr.fittable:
        return ()
    return (NOT_FITTED, MAY_WORDS) if isinstance(column.kind, Equipment) else (NOT_FITTED,)
