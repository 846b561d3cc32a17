"""What the card and sheet tests share: the reader's own sayings, and finding them in a text."""

import json
import re
from collections.abc import Collection, Iterator
from itertools import product

from catalog.resolve.phrases import FILES
from catalog.resolve.words import DATA


def plain(text: str) -> str:
    """Small letters and digits only: "No-grille!" -> "no grille"."""
    return " ".join(re.findall("[a-z0-9]+", text.lower().replace("'", "").replace("_", " ")))


def phrases_of(text: str, longest: int = 6) -> set[str]:
    """Every run of up to `longest` words."""
    words = plain(text).split()
    return {" ".join(words[at : at + size]) for at in range(len(words)) for size in range(1, longest + 1)}


def sayings(attributes: Collection[str]) -> Iterator[str]:
    """All the reader's sayings of these attributes, sets written out."""
    for name in FILES:
        rows = json.loads((DATA / "phrases" / f"{name}.json").read_text(encoding="utf-8"))
        for row in rows["rows"]:
            if row["attribute"] in attributes:
                for way in row["say"]:
                    parts = re.split("<([a-z_]+)>", way)
                    options = [rows["sets"][part] if at % 2 else [part] for at, part in enumerate(parts)]
                    yield from (plain("".join(chosen)) for chosen in product(*options))
