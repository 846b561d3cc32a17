"""What the card and sheet tests share: words laid bare, and every run of them."""

import re


def plain(text: str) -> str:
    """Small letters and digits only: "No-grille!" -> "no grille"."""
    return " ".join(re.findall("[a-z0-9]+", text.lower().replace("'", "").replace("_", " ")))


def phrases_of(text: str, longest: int = 6) -> set[str]:
    """Every run of up to `longest` words."""
    words = plain(text).split()
    return {" ".join(words[at : at + size]) for at in range(len(words)) for size in range(1, longest + 1)}
