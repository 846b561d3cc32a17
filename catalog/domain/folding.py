"""Folding: any typing of a word to plain lower-case ASCII, by a shipped table.

No casefold, no locale, no Unicode database at run time: the phone's engine reads the same
table. What the table does not know (other scripts, emoji) is kept as it is.
"""

import json
from collections.abc import Mapping
from functools import cache
from pathlib import Path


@cache
def folding_table() -> Mapping[str, str]:
    """Character -> folded string, ASCII capitals included."""
    text = (Path(__file__).parent / "data" / "folding.json").read_text(encoding="utf-8")
    table = {chr(int(code, 16)): folded for code, folded in json.loads(text).items()}
    for code in range(ord("A"), ord("Z") + 1):
        table[chr(code)] = chr(code + 32)
    return table


def fold_char(char: str) -> str:
    """One character folded; may be empty (combining marks) or longer ("ß" -> "ss")."""
    return folding_table().get(char, char)


def is_word_char(char: str) -> bool:
    """Whether a folded character belongs to a word: a-z, 0-9, or anything beyond ASCII left unfolded."""
    return "a" <= char <= "z" or "0" <= char <= "9" or (char > "\x7f" and not char.isspace())


def fold(text: str) -> str:
    """The words of a text, folded, joined by single spaces: "Mélo-X  Prime" -> "melo x prime"."""
    folded = "".join(fold_char(char) for char in text)
    return " ".join("".join(char if is_word_char(char) else " " for char in folded).split())


def fold_name(text: str) -> str:
    """A name folded without its spaces, as names are compared: "Mélo-X" -> "melox"."""
    return fold(text).replace(" ", "")
