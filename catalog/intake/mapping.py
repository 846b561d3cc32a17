"""Rows of a file -> what they say of which record, every statement with the cell it stands in.

A blank cell says nothing. A missing row says nothing. Nothing is guessed: what cannot be read is a finding, and the
rest of the row is read all the same.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from catalog.domain import codes
from catalog.domain.findings import Severity
from catalog.domain.folding import fold
from catalog.intake.finding import Finding
from catalog.intake.given import EXAMPLE, Given, GivenFact, GivenItem, Where
from catalog.intake.groups import Holds, Rows
from catalog.intake.headings import Plan, plan_of
from catalog.intake.row import RowReader
from catalog.intake.rows import rows_of
from catalog.intake.sheets import Row, Sheet
from catalog.intake.synonyms import nearest

__all__ = ["EXAMPLE", "Given", "GivenFact", "GivenItem", "RecordRows", "Records", "Where", "given_of"]

NEW = "NEW"  # begins the name of a record that has no code yet, such as NEW 1
_TITLE = ("make", "model", "variant", "years.from", "years.to")
_NOT_RECORDS = (Rows.SOURCES, Rows.TEXTS)


@dataclass(frozen=True, slots=True)
class RecordRows:
    """Every row of a file about one record, not read yet."""

    code: str
    name: str
    file: str
    rows: Sequence[tuple[Plan, Sheet, Row]]

    @property
    def where(self) -> Where:
        """The first of them."""
        _, sheet, row = self.rows[0]
        return Where(sheet.file or self.file, sheet.name, row[0].row, 0)

    def read(self) -> Given:
        """What they say."""
        reader = RowReader(self.code, self.name)
        for plan, sheet, row in self.rows:
            reader.take(plan, sheet, sheet.file or self.file, row)
        return reader.done()

    def same_as(self, document: Mapping[str, Any]) -> bool:
        """Whether the rows are, cell by cell, those that an export of this document has: then nothing changes.

        Several times faster than reading and applying them; False says nothing.
        """
        groups = list(dict.fromkeys(plan.group.key for plan, _, _ in self.rows))
        ours = [(group.key, row) for group, row in rows_of(self.code, document) if group.key in groups]
        return len(ours) == len(self.rows) and all(
            plan.group.key == key and plan.says(row, texts)
            for (plan, _, row), (key, texts) in zip(self.rows, ours, strict=True)
        )


class Records:
    """The records of a file, read one after the other when asked for, in the order in which they first appear.

    sheets: their rows are gone over once now, for the codes alone, and once more as the records are read, so that a
    large file is never held whole. findings: what is wrong with sheets, headings and codes; the rest lies with each
    record (`Given.findings`).
    """

    def __init__(self, sheets: Sequence[Sheet], file: str) -> None:
        self.file = file
        self._plans: list[tuple[Plan, Sheet]] = []
        # Code or folded name -> (code, name, which sheet and row, flat).
        self._rows: dict[str, tuple[str, str, list[int]]] = {}
        self._codes: dict[str, str] = {}
        findings: list[Finding] = []
        for sheet in sheets:
            plan, found = plan_of(sheet, sheet.file or file)
            findings += found
            if plan is not None and plan.group.rows not in _NOT_RECORDS:
                self._plans.append((plan, sheet))
                findings += self._index(len(self._plans) - 1)
        self.findings = tuple(findings)

    def __len__(self) -> int:
        return len(self._rows)

    @property
    def codes(self) -> frozenset[str]:
        """Every code the file gives."""
        return frozenset(code for code, _, _ in self._rows.values() if code)

    def __iter__(self) -> Iterator[Given]:
        return (record.read() for record in self.raw())

    def raw(self) -> Iterator["RecordRows"]:
        """The records before they are read, for those who may not need to: see `RecordRows.same_as`."""
        for code, name, places in self._rows.values():
            rows = [(*self._plans[places[at]], places[at + 1]) for at in range(0, len(places), 2)]
            yield RecordRows(code, name, self.file, [(plan, sheet, sheet.rows[row]) for plan, sheet, row in rows])

    def _index(self, which: int) -> Iterator[Finding]:
        plan, sheet = self._plans[which]
        file = sheet.file or self.file
        at = {placed.column.holds: placed.at for placed in plan.columns.values() if not placed.names}
        titled = [
            placed.at
            for key in _TITLE
            for placed in plan.columns.values()
            if placed.column.key == key and (placed.names or plan.group.rows is Rows.IDENTITY)
        ]
        coded, called = at.get(Holds.CODE, 0), at.get(Holds.VEHICLE, 0)
        wanted = {coded, called, *titled}
        for number, row in enumerate(sheet.rows):
            texts = {column: text for text, _, column in row if column in wanted}
            said = texts.get(coded, "")
            name = texts.get(called, "") or " ".join(texts[c] for c in titled if c in texts)
            # What is a code is no example and needs no folding, which over a large file costs more than all else here.
            code = self._parsed(said)
            if not code and fold(said).upper() == EXAMPLE:
                found, allowed = f"an example in row {row[0].row}", "not taken in: the code EXAMPLE marks it"
                yield Finding(file, sheet.name, row[0].row, 0, found, allowed, "", Severity.NOTE)
                continue
            if said and not code and not said.upper().startswith(NEW):
                yield self._no_code(file, sheet, row, at[Holds.CODE], said)
                continue
            named = said if said and not code else name
            if not code and not fold(named):
                cure = f"Write its code, or {NEW} and a name of your own, the same in every sheet."
                allowed = "the record it is about"
                yield Finding(file, sheet.name, row[0].row, 0, "a row without a code or a vehicle", allowed, cure)
                continue
            entry = self._rows.setdefault(code or f"{NEW} {fold(named)}", (code, name or named, []))
            entry[2].extend((which, number))
            if code and name and name != entry[1] and Holds.VEHICLE in at and fold(name) != fold(entry[1]):
                cure = "Look whether the code or the name is wrong."
                told = Finding(
                    file, sheet.name, row[0].row, at[Holds.VEHICLE], f'"{name}"', f"{code}, elsewhere {entry[1]}"
                )
                yield replace(told, cure=cure, severity=Severity.LOOK, path="vehicle", record=code)

    def _parsed(self, said: str) -> str:
        """The code that is said; "" where it is none."""
        code = self._codes.get(said)
        if code is None:
            code = self._codes[said] = codes.parse(said) or ""
        return code

    def _no_code(self, file: str, sheet: Sheet, row: Row, column: int, said: str) -> Finding:
        known = [code for code, _, _ in self._rows.values() if code]
        near = nearest(said, known) if known else ()
        cure = f"Did you mean {near[0]}?" if near else "Copy it again; its last character checks the others."
        cure = f"{cure} For a new record write {NEW} and a name of your own."
        return Finding(file, sheet.name, row[0].row, column, f'"{said}"', "a record code", cure, path="code")


def given_of(sheets: Sequence[Sheet], file: str) -> tuple[tuple[Given, ...], tuple[Finding, ...]]:
    """What the sheets of a file say, record by record, and everything wrong in them. Of large files use `Records`."""
    records = Records(sheets, file)
    given = tuple(records)
    return given, records.findings + tuple(finding for one in given for finding in one.findings)
