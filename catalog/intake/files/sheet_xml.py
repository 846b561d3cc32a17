"""The rows of a sheet as ECMA-376 writes them: a plain walk over its XML, several times faster than by objects.

No document type is let in, so no entity is ever resolved.
"""

from collections.abc import Callable
from typing import Any, BinaryIO, NoReturn
from xml.parsers import expat

from catalog.intake.files.refusing import Refused

_SPACES = ("http://schemas.openxmlformats.org/spreadsheetml/2006/main", "http://purl.oclc.org/ooxml/spreadsheetml/main")
_NAMES = ("row", "c", "v", "t", "f", "rPh")
_TAGS = {f"{space}}}{name}": name for space in _SPACES for name in _NAMES}
_LAST_ROW, _LAST_COLUMN = 1_048_576, 16_384

# (row, [(column, type, style, text, formula)]): one row's cells, in their order. formula: whether there is one.
RawCell = tuple[int, str, int, str, bool]
Take = Callable[[int, list[RawCell]], None]


def read_rows(source: BinaryIO, take: Take) -> None:
    """Hand over every row that has cells. Raises Refused, expat.ExpatError."""
    walk = _Walk(take)
    walk.parser.ParseFile(source)


class _Walk:
    def __init__(self, take: Take) -> None:
        self._take = take
        self._row = self._column = 0
        self._cells: list[RawCell] = []
        self._letters: dict[str, int] = {}
        self._type, self._style, self._formula = "n", 0, False
        self._texts: list[str] = []
        self._aside = False  # inside how a word is pronounced, which is not its text
        self.parser: Any = expat.ParserCreate(namespace_separator="}")
        self.parser.buffer_text = True
        self.parser.StartElementHandler = self._start
        self.parser.EndElementHandler = self._end
        starts = {"c": self._cell, "v": self._text, "t": self._text, "f": self._f, "row": self._begin, "rPh": self._say}
        ends = {"c": self._cell_done, "v": self._text_done, "t": self._text_done, "f": self._text_done}
        ends |= {"row": self._done, "rPh": self._said}
        self._starts = {tag: starts[name] for tag, name in _TAGS.items()}
        self._ends = {tag: ends[name] for tag, name in _TAGS.items()}
        self.parser.StartDoctypeDeclHandler = self._doctype

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        # Four of these calls a cell, and a workbook has millions of cells.
        if name in self._starts:
            self._starts[name](attributes)

    def _end(self, name: str) -> None:
        if name in self._ends:
            self._ends[name]()

    def _cell(self, attributes: dict[str, str]) -> None:
        self._place(attributes.get("r"))
        self._type = attributes.get("t", "n")
        self._style = int(attributes.get("s", 0))
        self._formula = False
        self._texts.clear()

    def _cell_done(self) -> None:
        if self._texts or self._formula:
            self._cells.append((self._column, self._type, self._style, "".join(self._texts), self._formula))

    def _text(self, _: dict[str, str]) -> None:
        if not self._aside and not self._formula:
            self.parser.CharacterDataHandler = self._texts.append

    def _f(self, _: dict[str, str]) -> None:
        self._formula = True
        self._texts.clear()
        if not self._aside:
            self.parser.CharacterDataHandler = self._texts.append

    def _text_done(self) -> None:
        self.parser.CharacterDataHandler = None

    def _begin(self, attributes: dict[str, str]) -> None:
        said = attributes.get("r")
        self._row = int(said) if said else self._row + 1
        self._column = 0
        if not 0 < self._row <= _LAST_ROW:
            raise Refused(f"a row {said}", f"rows up to {_LAST_ROW:,}", "Save it again.")

    def _done(self) -> None:
        if self._cells:
            self._take(self._row, self._cells)
            self._cells = []

    def _say(self, _: dict[str, str]) -> None:
        self._aside = True

    def _said(self) -> None:
        self._aside = False

    def _place(self, address: str | None) -> None:
        if address is None:
            column = self._column + 1
        else:
            letters = address.rstrip("0123456789")
            column = self._letters.get(letters, 0) or self._number(letters)
        if column <= self._column:
            raise Refused("cells out of their order", "a workbook", "Save it again.", row=self._row, column=column)
        self._column = column

    def _number(self, letters: str) -> int:
        number = 0
        for letter in letters[:4]:
            number = number * 26 + ord(letter) - ord("A") + 1
        if not 0 < number <= _LAST_COLUMN:
            raise Refused(f"a column {letters}", "columns up to XFD", "Save it again.", row=self._row)
        self._letters[letters] = number
        return number

    def _doctype(self, *_: object) -> NoReturn:
        raise Refused("a document type in a sheet", "a sheet without one", "Fetch it again from who made it.")
