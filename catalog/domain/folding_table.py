"""Writes data/folding.json, the folding table both engines ship: `python -m catalog.domain.folding_table`.

Unicode versions differ between runtimes, so the table is fixed data; a test compares it with
what this script makes. Only letters and marks that people type for Latin words are folded.
"""

import json
import unicodedata
from pathlib import Path

_RANGES = ((0x00A0, 0x0250), (0x0300, 0x0370), (0x1E00, 0x1F00), (0x2000, 0x2070), (0xFB00, 0xFB07), (0xFF01, 0xFF5F))
_BY_HAND = {
    "ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "đ": "d", "ð": "d", "þ": "th", "ł": "l", "ı": "i", "ŋ": "n",
    "’": "'", "‘": "'", "‛": "'", "ʼ": "'", "′": "'", "“": '"', "”": '"', "″": '"', "–": "-", "—": "-", "‐": "-",
    "‑": "-", "−": "-", "\u00a0": " ", "\u2009": " ", "\u202f": " ", "\u200b": "", "\u00ad": "", "½": " 1/2",
}  # fmt: skip


def table() -> dict[str, str]:
    """Character -> folded lower-case ASCII, for every non-ASCII character the table knows."""
    made: dict[str, str] = {}
    for first, last in _RANGES:
        for code in range(first, last):
            folded = _folded(chr(code))
            if folded is not None:
                made[chr(code)] = folded
    made.update(_BY_HAND)
    return dict(sorted(made.items()))


def _folded(char: str) -> str | None:
    lowered = _BY_HAND.get(char.lower(), char.lower())
    parts = unicodedata.normalize("NFKD", lowered)
    kept = "".join(_BY_HAND.get(part, part) for part in parts if not unicodedata.combining(part)).lower()
    return kept if kept.isascii() and kept != char else None


def main() -> None:
    path = Path(__file__).parent / "data" / "folding.json"
    text = json.dumps({f"{ord(char):04X}": folded for char, folded in table().items()}, indent=0)
    path.write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
