"""Rows of one record -> what they say of it."""

from collections.abc import Callable
from dataclasses import dataclass, field

from catalog.domain.folding import fold
from catalog.intake.claims import Shape, read_fact, read_plain, read_sources
from catalog.intake.finding import Finding
from catalog.intake.given import NEW_ITEM, Given, GivenFact, GivenItem, Where
from catalog.intake.groups import Column, Holds, Rows
from catalog.intake.headings import Placed, Plan
from catalog.intake.kinds import LastYear
from catalog.intake.readings import Problem, Read, refused
from catalog.intake.sheets import Cell, Row, Sheet
from catalog.intake.synonyms import nearest
from catalog.intake.values import tidy
from schemas.findings import ITEM_ID

REMOVE, WITHDRAW = "remove", "do not use"
_ACTIONS = {Rows.IDENTITY: WITHDRAW, Rows.ITEMS: REMOVE, Rows.NOTES: REMOVE}
_REMEMBERED = 20_000  # cells whose reading is kept for the next one that says the same


@dataclass(slots=True)
class _Cells:
    """The cells of one row by what they hold."""

    file: str
    sheet: str
    row: int
    by_holds: dict[Holds, Cell] = field(default_factory=dict)
    facts: dict[str, tuple[Placed, Cell]] = field(default_factory=dict)
    sources: dict[str, Cell] = field(default_factory=dict)
    plain: dict[str, tuple[Placed, Cell]] = field(default_factory=dict)


class RowReader:
    """Takes the rows of one record, then gives what they say."""

    def __init__(self, code: str, name: str) -> None:
        self._code, self._name = code, name
        self._action = self._reason = ""
        self._sets: dict[str, GivenFact] = {}
        self._items: dict[str, GivenItem] = {}
        self._cells: dict[str, Where] = {}
        self._findings: list[Finding] = []

    def take(self, plan: Plan, sheet: Sheet, file: str, row: Row) -> None:
        """One row of a sheet."""
        cells = _sorted(plan, sheet.name, file, row)
        removed = self._acted(plan, cells)
        base = plan.group.path
        if plan.group.rows in (Rows.ITEMS, Rows.NOTES):
            named = self._item(plan, cells, removed=removed)
            if named is None or removed:
                return
            base = named
        source = self._row_source(cells)
        for key, (placed, cell) in cells.facts.items():
            read = self._read(f"{base}.{key}", cells, cell, _reading(plan, placed, cell.text, _fact))
            own = self._own_sources(f"{base}.{key}", cells, key)
            if read is not None:
                given = own if own is not None or not read or len(read) > 1 else source
                self._set(f"{base}.{key}", GivenFact(read, given), cells, cell)
        for key, cell in cells.sources.items():
            if key not in cells.facts:
                own = self._own_sources(f"{base}.{key}", cells, key)
                if own is not None:
                    self._set(f"{base}.{key}", GivenFact(None, own), cells, cell)
        for key, (placed, cell) in cells.plain.items():
            read = self._read(f"{base}.{key}", cells, cell, _reading(plan, placed, cell.text, _plain))
            if read is not None:
                claims = tuple({"value": value} for value in read)
                self._set(f"{base}.{key}", GivenFact(claims), cells, cell)

    def done(self) -> Given:
        laid = (self._sets, self._items, self._cells, tuple(self._findings))
        return Given(self._code, self._name, self._action, self._reason, *laid)

    def _acted(self, plan: Plan, cells: _Cells) -> bool:
        """Whether the row's action removes its item; a record's own action is kept."""
        cell = cells.by_holds.get(Holds.ACTION)
        reason = cells.by_holds.get(Holds.REASON)
        if cell is None:
            if reason is not None and plan.group.rows is Rows.IDENTITY:
                cure = f'Write "{WITHDRAW}" beside it, or keep it in a note.'
                self._say(cells, reason, "action", Problem("a reason without an action", "both or none", cure))
            return False
        allowed = _ACTIONS[plan.group.rows]
        if fold(cell.text) != allowed:
            known = (REMOVE, WITHDRAW)
            near = nearest(cell.text, known)
            cure = f'Did you mean "{allowed}"?' if near else "Leave it blank to add or change."
            self._say(cells, cell, "action", Problem(f'"{cell.text}"', f'"{allowed}" or blank', cure))
            return False
        if allowed == REMOVE:
            return True
        if reason is None:
            cure = "Write why in the reason column; crews who had the record are told."
            self._say(cells, cell, "action", Problem(f'"{cell.text}" without a reason', "a reason beside it", cure))
            return False
        self._action, self._reason = WITHDRAW, tidy(reason.text)
        self._cells["action"] = Where(cells.file, cells.sheet, cells.row, cell.column)
        return False

    def _item(self, plan: Plan, cells: _Cells, *, removed: bool) -> str | None:
        cell = cells.by_holds.get(Holds.ITEM)
        item = tidy(cell.text) if cell else f"{NEW_ITEM}{self._known(plan.group.path) + 1}"
        path = f"{plan.group.path}[{item}]"
        if cell and ITEM_ID.fullmatch(item) is None:
            cure = "A small letter, then letters or digits, up to 8 in all, such as a, b or loop."
            self._say(cells, cell, path, Problem(f'"{item}"', "the short name of one item of the record", cure))
            return None
        if path in self._items:
            at = self._cells[path]
            allowed = f"one row for each; the other is row {at.row} of sheet {at.sheet}"
            problem = Problem(f'a second row for "{item}"', allowed, "Give it an id of its own, or take it out.")
            self._say(cells, cell or Cell("", cells.row, 0), path, problem)
            return None
        self._items[path] = GivenItem(removed, self._position(path, cells))
        self._cells[path] = Where(cells.file, cells.sheet, cells.row, cell.column if cell else 0)
        return path

    def _known(self, path: str) -> int:
        return sum(item.startswith(f"{path}[") for item in self._items)

    def _position(self, path: str, cells: _Cells) -> int | None:
        cell = cells.by_holds.get(Holds.POSITION)
        if cell is None:
            return None
        text = tidy(cell.text)
        if not (text.isascii() and text.isdigit() and 0 < len(text) < 4 and int(text)):
            problem = Problem(f'"{text}"', "its place in the list, from 1", "Write 1, 2, 3 ..., or leave it blank.")
            self._say(cells, cell, path, problem)
            return None
        return int(text)

    def _row_source(self, cells: _Cells) -> tuple[tuple[str, ...], ...] | None:
        cell = cells.by_holds.get(Holds.ROW_SOURCE)
        if cell is None:
            return None
        read = read_sources(tidy(cell.text))
        for problem in read.problems:
            self._say(cells, cell, "src", problem)
        return read.value if read.value is None or len(read.value) == 1 else None

    def _own_sources(self, path: str, cells: _Cells, key: str) -> tuple[tuple[str, ...], ...] | None:
        cell = cells.sources.get(key)
        if cell is None:
            return None
        read = read_sources(tidy(cell.text))
        for problem in read.problems:
            self._say(cells, cell, f"{path}.src", problem)
        self._cells[f"{path}.src"] = Where(cells.file, cells.sheet, cells.row, cell.column)
        value: tuple[tuple[str, ...], ...] | None = read.value
        return value

    def _read(self, path: str, cells: _Cells, cell: Cell, read: Read) -> tuple[dict[str, object], ...] | None:
        for problem in read.problems:
            self._say(cells, cell, path, problem)
        value: tuple[dict[str, object], ...] | None = read.value
        return value

    def _set(self, path: str, given: GivenFact, cells: _Cells, cell: Cell) -> None:
        there = self._sets.get(path)
        if there is not None and there != given:
            at = self._cells[path]
            allowed = f"one statement; row {at.row} of sheet {at.sheet} says another"
            self._say(cells, cell, path, Problem(f'"{cell.text}"', allowed, "Keep the one the guide gives."))
            return
        self._sets[path] = given
        self._cells[path] = Where(cells.file, cells.sheet, cells.row, cell.column)

    def _say(self, cells: _Cells, cell: Cell, path: str, problem: Problem) -> None:
        place = (cells.file, cells.sheet, cells.row, cell.column)
        said = (problem.found, problem.allowed, problem.cure, problem.severity)
        self._findings.append(Finding(*place, *said, path, self._code or self._name))


def _sorted(plan: Plan, sheet: str, file: str, row: Row) -> _Cells:
    made = _Cells(file, sheet, row[0].row)
    for cell in row:
        placed = plan.columns.get(cell.column)
        if placed is None or placed.names:
            continue
        column: Column = placed.column
        match column.holds:
            case Holds.FACT:
                made.facts[column.key] = (placed, cell)
            case Holds.FACT_SOURCE:
                made.sources[column.key] = cell
            case Holds.PLAIN:
                made.plain[column.key] = (placed, cell)
            case _:
                made.by_holds[column.holds] = cell
    return made


def _reading(plan: Plan, placed: Placed, text: str, read: Callable[[Placed, str], Read]) -> Read:
    """The same words in the same column mean the same: read once."""
    key = (placed.at, text)
    found = plan.read.get(key)
    if found is None:
        if len(plan.read) >= _REMEMBERED:
            plan.read.clear()
        found = plan.read[key] = read(placed, tidy(text))
    return found


def _fact(placed: Placed, text: str) -> Read:
    column = placed.column
    assert column.kind is not None
    return read_fact(Shape(column.kind, column.attr, placed.assumed), text)


def _plain(placed: Placed, text: str) -> Read:
    kind = placed.column.kind
    assert kind is not None
    read = read_plain(kind, text, placed.assumed)
    if isinstance(kind, LastYear):
        if read.value == ():
            return refused(text, "the last model year, or STILL BUILT", "A record always says one of the two.")
        if read.value == ("",):
            return Read(())
    return read
