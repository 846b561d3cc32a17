"""What is printed on: width, encoding, and whether headings may be bold.

Pages are lists of lines made for a `Paper`; nothing here writes. Records come from files and
descriptions from people, so control characters never reach the terminal.
"""

import shutil
import textwrap
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from itertools import zip_longest
from typing import TextIO

WIDTH = 80
_NARROWEST = 40
_PLAIN = str.maketrans(
    {"–": "-", "—": "-", "’": "'", "‘": "'", "“": '"', "”": '"', "…": "...", "·": "-", "×": "x", "−": "-", "█": "#"}
    | {"▒": ":", "→": "->"}
)


@dataclass(frozen=True, slots=True)
class Paper:
    """width: columns. encoding: of the terminal. styled: headings may be bold."""

    width: int = WIDTH
    encoding: str = "utf-8"
    styled: bool = False

    @classmethod
    def of(cls, stream: TextIO, environ: Mapping[str, str]) -> "Paper":
        """The paper of a stream: 80 columns, fewer on a narrow terminal; bold only on a terminal."""
        terminal = stream.isatty()
        width = shutil.get_terminal_size((WIDTH, 24)).columns if terminal else WIDTH
        bold = terminal and not environ.get("NO_COLOR") and environ.get("TERM") not in (None, "", "dumb")
        return cls(max(_NARROWEST, min(WIDTH, width)), stream.encoding or "ascii", bold)

    def heading(self, text: str) -> str:
        """A heading; bold where that is possible, and alone on its line everywhere."""
        text = self.clean(text)
        return f"\x1b[1m{text}\x1b[0m" if self.styled else text

    def clean(self, text: str) -> str:
        """Text that this paper can take: no control characters, nothing it cannot encode."""
        text = "".join(" " if unicodedata.category(char) in ("Cc", "Cs", "Zl", "Zp") else char for char in text)
        # Formatting characters can reverse the order of what is read; a joiner in an emoji is harmless.
        text = "".join(char for char in text if unicodedata.category(char) != "Cf" or char == "\u200d")
        try:
            text.encode(self.encoding)
        except UnicodeEncodeError:
            return self._encodable(text.translate(_PLAIN))
        return text

    def wrap(self, text: str, indent: int = 0, *, hang: int = 0) -> list[str]:
        """Lines of text at `indent`, following lines `hang` further in."""
        lines = textwrap.wrap(
            self.clean(text),
            self.width,
            initial_indent=" " * indent,
            subsequent_indent=" " * (indent + hang),
            break_on_hyphens=False,
        )
        return lines or [""]

    def entry(self, label: str, text: str, *, indent: int = 2, column: int = 26) -> list[str]:
        """A label and its text beside it, each wrapped in its own column."""
        labels = Paper(column - 2, self.encoding).wrap(label, indent, hang=1)
        texts = self.wrap(text, column)
        return [
            f"{left.ljust(column)}{right.strip()}".rstrip() for left, right in zip_longest(labels, texts, fillvalue="")
        ]

    def across(self, left: str, right: str, *, bold: bool = False) -> str:
        """Text at both edges of a line, of more lines where they would touch. bold: the left one."""
        lines, right = self.wrap(left), self.clean(right)
        room = self.width - len(lines[-1]) - len(right)
        shown = "\n".join(self.heading(line) if bold else line for line in lines)
        return f"{shown}{' ' * room}{right}" if room >= 2 else f"{shown}\n{right.rjust(self.width)}"

    def _encodable(self, text: str) -> str:
        """Letters without the accents this encoding lacks; "?" for what is left."""
        made = []
        for char in text:
            for candidate in (char, unicodedata.normalize("NFKD", char).encode("ascii", "ignore").decode(), "?"):
                if candidate and self._takes(candidate):
                    made.append(candidate)
                    break
        return "".join(made)

    def _takes(self, text: str) -> bool:
        try:
            text.encode(self.encoding)
        except UnicodeEncodeError:
            return False
        return True


def joined(parts: Iterable[str], by: str = ", ") -> str:
    """The parts that are not empty."""
    return by.join(part for part in parts if part)


def minute(moment: datetime) -> str:
    """ "2026-11-26 03:44 UTC". moment: in UTC."""
    return f"{moment:%Y-%m-%d %H:%M} UTC"
