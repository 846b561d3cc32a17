"""An export that somebody edits and brings back: what is edited changes, and nothing else."""

import io
from dataclasses import replace
from typing import Any

import openpyxl
import pytest

from catalog.domain.delta import RecordDelta, difference
from catalog.domain.documents import record_from_document
from catalog.domain.facts import State
from catalog.domain.findings import Severity
from catalog.domain.spec import TREE, Attr, ListOf, Node, Struct
from catalog.domain.spec.nodes import Equipment, Kind, Number, Terms, Text, Where, YesNo
from catalog.intake.applying import apply, located
from catalog.intake.files import read_file
from catalog.intake.finding import Finding
from catalog.intake.groups import BY_KEY, GROUPS, Group, Holds
from catalog.intake.mapping import Given, given_of
from catalog.intake.marked import marked_copy
from catalog.intake.sourcing import sources_of
from catalog.intake.template import template
from catalog.intake.values import value_text
from schemas.record import structure_findings
from tests.sample import SRC, said, sample
from tests.workbook_rows import Table, column_of, sheets_of, table_of

CODE, OTHER = "QK7-M3M", "76R-MJZ"
Document = dict[str, Any]


def _value(kind: Kind, which: int) -> Any:
    """One of two different values."""
    match kind:
        case Text():
            return ("The first text", "Another text")[which]
        case Terms(vocabulary, many):
            return list(vocabulary.keys[which : which + 2]) if many else vocabulary.keys[which]
        case Number(_, low, high):
            return (low, high)[which]
        case YesNo():
            return bool(which)
        case Equipment():
            return True
        case Where():
            zones = (
                {"side": "left", "end": "middle", "level": "low"},
                {"side": "right", "end": "middle", "level": "low"},
            )
            return zones[which]


def _full(nodes: tuple[Node, ...]) -> Document:
    """Everything a part of the record can state."""
    made: Document = {}
    for node in nodes:
        match node:
            case Attr():
                made[node.key] = said(_value(node.kind, 0))
            case Struct():
                made[node.key] = _full(node.children)
            case ListOf():
                made[node.key] = [{"id": "a", **_full(node.children)}]
    return made


def full() -> Document:
    """A document that states every attribute of the specification."""
    made = sample()
    for section in TREE:
        inside = _full(section.children)
        made[section.key] = [{"id": "a", **inside}] if isinstance(section, ListOf) else inside
    return made


FACTS = [(group, column) for group in GROUPS for column in group.columns if column.attr and column.holds is Holds.FACT]


def edited(table: Table, group: Group, column: int, text: str, row: int = 1) -> Table:
    rows = [list(cells) for cells in table[group.key]]
    rows[row][column] = text
    return {**table, group.key: rows}


def brought(table: Table, base: Document | None) -> tuple[Document, tuple[Finding, ...]]:
    (one,), findings = given_of(sheets_of(table), "edited.xlsx")
    made, more = apply(base, one)
    return made, findings + more


def delta(base: Document, made: Document) -> RecordDelta:
    return difference(record_from_document(base), record_from_document(made))


@pytest.mark.parametrize("start", range(0, len(FACTS), 12))
def test_one_cell_is_one_change_for_every_attribute(start: int) -> None:
    base = full()
    table = table_of({CODE: base})
    for group, column in FACTS[start : start + 12]:
        assert column.attr is not None
        path = group.fact_path(column, "a")
        texts = ["NOT STATED"]
        if not isinstance(column.attr.kind, Equipment):
            texts.append(value_text(column.attr.kind, _value(column.attr.kind, 1)))
        if column.attr.fittable:
            texts += ["NOT FITTED", f"MAY BE FITTED: {value_text(column.attr.kind, _value(column.attr.kind, 0))}"]
        for text in texts:
            made, findings = brought(edited(table, group, column.at, text), base)
            assert [one for one in findings if one.severity is not Severity.NOTE] == [], (path, text)
            changes = delta(base, made)
            assert [change.path for change in changes.facts] == [path], text
            assert changes.plain == ()


def test_every_attribute_has_its_column_once() -> None:
    assert len(FACTS) == len({group.fact_path(column, "a") for group, column in FACTS})
    assert {group.fact_path(column, "a") for group, column in FACTS} == set(record_from_document(full()).facts)
    for group in GROUPS:
        headings = [column.heading for column in group.columns]
        assert len(set(headings)) == len(headings), group.key
        assert len(group.key) <= 31, "the longest name of a sheet"


def test_a_new_source_or_a_dispute_is_one_change_too() -> None:
    base = full()
    group = BY_KEY["restraints"]
    table = table_of({CODE: base})
    wait = column_of(group, "wait after the last source is off")
    made, findings = brought(edited(table, group, wait + 1, "ZK-77/3:9"), base)
    assert findings == ()
    (change,) = delta(base, made).facts
    assert change.new.src == ("ZK-77/3:9",)
    disputed = edited(
        edited(table, group, wait, "DISPUTED: 0 s\nAGAINST: 2 min"), group, wait + 1, "KEL-7/1:4\nAGAINST: ZK-77/3:9"
    )
    made, findings = brought(disputed, base)
    assert findings == ()
    (change,) = delta(base, made).facts
    assert (change.new.state, change.new.values()) == (State.DISPUTED, (0, 120))
    made, findings = brought(edited(table, group, wait, "DISPUTED: 0 s\nAGAINST: 2 min"), base)
    assert ["sides" in one.found for one in findings] == [True]
    assert made == base


def test_a_value_changed_under_its_old_source_is_said() -> None:
    base = full()
    group = BY_KEY["restraints"]
    _, (finding,) = brought(
        edited(table_of({CODE: base}), group, column_of(group, "wait after the last source is off"), "60 s"), base
    )
    assert finding.severity is Severity.NOTE
    assert SRC[0] in finding.allowed
    assert (finding.sheet, finding.row) == ("restraints", 2)


def test_a_blank_cell_and_a_missing_row_change_nothing() -> None:
    base = full()
    table = table_of({CODE: base})
    blank = {
        key: [rows[0], *([text if at < 5 else "" for at, text in enumerate(row)] for row in rows[1:])]
        for key, rows in table.items()
    }
    assert brought(blank, base) == (base, ())
    assert brought({"identity": table["identity"]}, base) == (base, ())


def test_remove_takes_an_item_out_and_nothing_else() -> None:
    base = sample()
    group = BY_KEY["cutoff methods"]
    table = edited(table_of({CODE: base}), group, column_of(group, "action"), "remove", 2)
    made, findings = brought(table, base)
    assert findings == ()
    assert [way["id"] for way in made["cutoff"]["methods"]] == ["a", "c"]
    changes = delta(base, made)
    assert {change.path.partition("]")[0] for change in changes.facts} == {"cutoff.methods[b"}
    assert [change.path for change in changes.plain] == ["order.cutoff.methods"]


def test_positions_put_the_ways_into_another_order() -> None:
    base = sample()
    group = BY_KEY["cutoff methods"]
    at = column_of(group, "position")
    table = edited(edited(table_of({CODE: base}), group, at, "2", 1), group, at, "1", 2)
    made, findings = brought(table, base)
    assert findings == ()
    assert [way["id"] for way in made["cutoff"]["methods"]] == ["b", "a", "c"]
    _, findings = brought(edited(table_of({CODE: base}), group, at, "1", 2), base)
    assert ["both at position 1" in one.found for one in findings] == [True]


def test_the_last_of_a_complete_list_gone_is_not_none() -> None:
    """Nobody said there is no port now."""
    base = sample({"complete": {"ports": said(True)}})
    group = BY_KEY["ports"]
    table = edited(table_of({CODE: base}), group, column_of(group, "action"), "remove")
    del table["lists"]
    made, (finding,) = brought(table, base)
    assert "ports" not in made
    assert "complete" not in made
    assert (finding.severity, "not stated" in finding.allowed) == (Severity.LOOK, True)


@pytest.mark.parametrize(
    ("cell", "found"),
    [("NOT FITTED", "NOT FITTED, and 1 listed"), ("none", '"none"'), ("MAY BE FITTED", '"MAY BE FITTED"')],
)
def test_a_list_that_is_none_and_has_items_is_sent_back(cell: str, found: str) -> None:
    base = sample()
    group = BY_KEY["lists"]
    table = edited(table_of({CODE: base}), group, column_of(group, "charge ports"), cell)
    _, findings = brought(edited(table, group, column_of(group, "charge ports: source"), "KEL-7/1:4"), base)
    assert [one.found for one in findings] == [found]


def test_do_not_use_needs_its_reason() -> None:
    group = BY_KEY["identity"]
    table = edited(table_of({CODE: sample()}), group, column_of(group, "action"), "do not use")
    (one,), findings = given_of(sheets_of(table), "edited.xlsx")
    assert one.action == ""
    assert ["without a reason" in finding.found for finding in findings] == [True]
    (one,), findings = given_of(sheets_of(edited(table, group, column_of(group, "reason"), "Recalled.")), "edited.xlsx")
    assert (one.action, one.reason, findings) == ("do not use", "Recalled.", ())
    wrong = edited(table, group, column_of(group, "action"), "remove")
    _, (finding,) = given_of(sheets_of(wrong), "edited.xlsx")
    assert "do not use" in finding.allowed


def read_one(group: str, headings: list[str], *rows: list[str]) -> tuple[tuple[Given, ...], tuple[Finding, ...]]:
    return given_of(sheets_of({group: [headings, *rows]}), "maker.xlsx")


def test_headings_in_any_order_by_other_names_and_with_other_units() -> None:
    (one,), findings = read_one(
        "packs", ["Capacity (kWh)", "voltage [kV]", "Item ID", "Ref", "Record"], ["77", "0.4", "a", "KEL-7/1:4", CODE]
    )
    assert findings == ()
    made, _ = apply(sample(), one)
    assert made["energy"]["packs"][0]["voltage"] == said(400)
    assert made["energy"]["packs"][0]["capacity"] == said(77000)


def test_a_heading_nobody_knows_is_said_and_loses_nothing_else() -> None:
    (one,), (near, far) = read_one(
        "ports",
        ["code", "charge port id", "Coverd by", "price", "source", "current"],
        [CODE, "a", "flap", "9", "KEL-7/1:4", "DC"],
    )
    assert (near.row, near.column, near.severity) == (1, 3, Severity.LOOK)
    assert "Did you mean covered by?" in near.cure
    assert (far.column, "over 1 cells" in far.found) == (4, True)
    assert set(one.sets) == {"ports[a].current"}


def test_a_sheet_of_another_name_is_known_by_its_headings_or_said() -> None:
    _, (note,) = read_one(
        "Sheet1",
        ["code", "charge port id", "connector standard", "covered by", "coupler lock: manual release"],
        [CODE, "a", "CCS2", "flap", "cord"],
    )
    assert (note.severity, "ports" in note.allowed) == (Severity.NOTE, True)
    _, (look,) = read_one("Restraint airbags", ["a", "b"], ["1", "2"])
    assert (look.severity, "Did you mean restraints airbags?" in look.cure) == (Severity.LOOK, True)


def test_rows_of_new_vehicles_are_joined_by_name_and_get_their_ids() -> None:
    identity = [
        ["code", "make", "model", "from", "to"],
        ["", "Ondru", "Kella", "2021", "2024"],
        ["NEW 2", "Ondru", "Morrow", "2022", "still built"],
    ]
    airbags = [
        ["code", "make", "model", "from", "to", "airbag", "source"],
        ["", "Ondru", "Kella", "2021", "2024", "driver", "KEL-7/1:4"],
        ["", "Ondru", "Kella", "2021", "2024", "knee", "KEL-7/1:4"],
        ["new 2", "", "", "", "", "curtain", "KEL-7/1:5"],
    ]
    (kella, morrow), findings = given_of(sheets_of({"identity": identity, "airbags": airbags}), "maker.xlsx")
    assert findings == ()
    assert (kella.code, morrow.code, kella.name) == ("", "", "Ondru Kella 2021 2024")
    made, findings = apply(None, kella)
    assert findings == ()
    assert made["identity"] == {"make": "Ondru", "model": "Kella", "years": {"from": 2021, "to": 2024}}
    assert made["restraints"]["airbags"] == [{"id": "a", "kind": said("driver")}, {"id": "b", "kind": said("knee")}]


def test_a_row_without_an_id_of_a_known_record_is_never_guessed() -> None:
    (one,), _ = read_one("ports", ["code", "current", "source"], [CODE, "DC", "KEL-7/1:4"])
    made, (finding,) = apply(sample(), one)
    assert made == sample()
    assert (finding.sheet, finding.row, "Write its id (a)" in finding.cure) == ("ports", 2, True)


@pytest.mark.parametrize(
    ("row", "found"),
    [
        (["QK7-M3X", "a", "DC"], '"QK7-M3X"'),
        (["", "a", "DC"], "a row without a code or a vehicle"),
        ([CODE, "The first", "DC"], '"The first"'),
        ([CODE, "a", "D"], '"D"'),
    ],
)
def test_what_stops_a_row_names_its_cell(row: list[str], found: str) -> None:
    _, findings = read_one("ports", ["code", "charge port id", "current"], row)
    assert [one.found for one in findings] == [found]
    assert findings[0].severity is Severity.BLOCKS
    assert findings[0].row == 2


def test_two_rows_for_one_thing_are_sent_back() -> None:
    _, (finding,) = read_one("ports", ["code", "charge port id", "current"], [CODE, "a", "DC"], [CODE, "a", "AC"])
    assert (finding.row, "row 2" in finding.allowed) == (3, True)
    _, (finding,) = read_one(
        "motion", ["code", "selector", "source"], [CODE, "dial", "KEL-7/1:4"], [CODE, "buttons", "KEL-7/1:4"]
    )
    assert (finding.row, finding.column, "row 2" in finding.allowed) == (3, 2, True)


def test_a_fact_without_a_source_is_sent_back_and_the_record_left() -> None:
    (one,), _ = read_one("motion", ["code", "selector"], [CODE, "dial"])
    made, (finding,) = apply(sample(), one)
    assert made == sample()
    assert (finding.severity, finding.column, finding.path) == (Severity.BLOCKS, 2, "motion.selector")


def test_what_the_gate_finds_is_led_back_to_its_cell() -> None:
    group = BY_KEY["motion"]
    table = edited(table_of({CODE: full()}), group, column_of(group, "switch off"), "Two\nlines")
    (one,), _ = given_of(sheets_of(table), "edited.xlsx")
    made, _ = apply(None, one)
    (wrong,) = structure_findings(made)
    at = located(wrong, one)
    assert (at.sheet, at.row, at.column) == ("motion", 2, column_of(group, "switch off") + 1)


def test_a_marked_copy_says_everything_twice_and_never_in_colour_alone() -> None:
    base = full()
    group = BY_KEY["restraints"]
    at = column_of(group, "wait after the last source is off")
    table = edited(table_of({CODE: base}), group, at, "-")
    table = edited(table, BY_KEY["motion"], column_of(BY_KEY["motion"], "switch off"), "=1+1 _x0041_")
    sheets = sheets_of(table)
    (before,), findings = given_of(sheets, "edited.xlsx")
    copy = marked_copy(
        sheets, [*findings, Finding("edited.xlsx", "ports", 2, 0, "a row", "no such row", "Look.", Severity.LOOK)]
    )
    book = openpyxl.load_workbook(io.BytesIO(copy))
    marked = book["restraints"].cell(2, at + 1)
    assert (marked.value, marked.fill.start_color.rgb[2:]) == ("-", "F4B6A6")
    assert marked.comment.text.startswith('BLOCKS: "-"')
    assert "NOT STATED" in marked.comment.text
    assert book["ports"]["A2"].comment.text.startswith("NEEDS A LOOK")
    listed = [[cell.value for cell in row] for row in book["findings"].iter_rows(min_row=2, max_row=3)]
    assert [row[0] for row in listed] == ["blocks", "needs a look"]
    assert "cell" in listed[0][1]
    # Read again, it says what the file said, and its list of findings is no sheet of records.
    again = read_file(copy, "marked.xlsx")
    assert again.findings == ()
    (one,), said_again = given_of(again.sheets, "edited.xlsx")
    assert (one.sets, one.items) == (before.sets, before.items)
    assert [(f.sheet, f.row, f.column, f.found) for f in said_again] == [
        (f.sheet, f.row, f.column, f.found) for f in findings
    ]


def test_the_template_offers_words_and_takes_its_example_in_never() -> None:
    made = template()
    book = openpyxl.load_workbook(io.BytesIO(made))
    assert book.sheetnames[0] == "read me"
    rules = book["ports"].data_validations.dataValidation
    standard = next(rule for rule in rules if str(rule.sqref).startswith("G2"))
    sheet, _, cells = standard.formula1.partition("!")
    offered = [row[0].value for row in book[sheet][cells.replace("$", "")]]
    assert offered[:2] == ["Type 1", "Type 2"]
    assert offered[-1] == "NOT STATED"
    heading = book["energy packs"].cell(1, column_of(BY_KEY["energy packs"], "nominal voltage") + 1)
    assert heading.value == "nominal voltage [V]"
    assert "Not stated is read as: treat as high voltage." in heading.comment.text
    assert book["ports"]["A2"].value == "EXAMPLE"
    contents = read_file(made, "template.xlsx")
    given, findings = given_of(contents.sheets, "template.xlsx")
    assert given == ()
    assert {one.severity for one in findings} == {Severity.NOTE}
    assert sources_of(contents.sheets, "template.xlsx")[0] == {}
    # With a code of its own the example is a record that may stand.
    named = [
        replace(
            sheet,
            rows=[
                tuple(cell._replace(text=CODE) if cell.text == "EXAMPLE" else cell for cell in row)
                for row in sheet.rows
            ],
        )
        for sheet in contents.sheets
    ]
    (one,), findings = given_of(named, "template.xlsx")
    document, more = apply(None, one)
    assert (findings, more, structure_findings(document)) == ((), (), [])


def test_a_code_under_another_vehicle_s_name_is_looked_at() -> None:
    base = full()
    group = BY_KEY["motion"]
    table = {"motion": edited(table_of({CODE: base}), group, column_of(group, "vehicle"), "Ansgrove Wrenlow")["motion"]}
    made, (finding,) = brought(table, base)
    assert made == base
    assert (finding.severity, "Ondru Kella" in finding.allowed) == (Severity.LOOK, True)
    whole = edited(table_of({CODE: base}), group, column_of(group, "vehicle"), "Ansgrove Wrenlow")
    _, (finding,) = brought(whole, base)
    assert (finding.sheet, finding.row, finding.severity) == ("motion", 2, Severity.LOOK)


def test_another_model_year_s_name_may_come_with_its_identity() -> None:
    base = full()
    group = BY_KEY["identity"]
    table = edited(table_of({CODE: base}), group, column_of(group, "model"), "Kella Two")
    for key, rows in table.items():
        if rows[0][1] == "vehicle":
            table[key] = [rows[0], *[[row[0], "Ondru Kella Two", *row[2:]] for row in rows[1:]]]
    made, findings = brought(table, base)
    assert findings == ()
    assert made["identity"]["model"] == "Kella Two"
