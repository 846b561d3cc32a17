"""The phrase table: what people say -> attribute and value. Longest match wins.

Rows stand in data/phrases/*.json: attribute (of a cue, or a role such as "@side"), value
("a|b" for alternatives), the ways to say it, and optionally
  needs        the name of a function of `needs.py` that must agree,
  unless_next  words that, following, make it mean something else,
  doubt        "hedged" or "guess",
  weak         true: dropped where the same attribute is said outright.
"<set>" in a saying stands for each entry of the file's set. Small words of the text (the list
"fillers") may stand between the words of a saying.
"""

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from catalog.resolve.cue import Doubt
from catalog.resolve.tokens import PAUSE
from catalog.resolve.words import DATA, Spelling, Word, keys, singular

FILES = (
    "body", "colour", "power", "connector", "port", "cable", "place", "looks", "inside", "wheels", "marking", "scene",
    "people", "modifiers", "traps", "roles",
)  # fmt: skip
_MOST_FILLERS = 3


@dataclass(frozen=True, slots=True)
class Meaning:
    """One row's meaning of a saying."""

    attribute: str
    values: tuple[str, ...]
    needs: str = ""
    unless_next: tuple[str, ...] = ()
    doubt: Doubt = Doubt.FIRM
    weak: bool = False


@dataclass(slots=True)
class Node:
    """A step of the look-up: the words that may follow, and what is meant if it ends here."""

    follow: dict[str, "Node"] = field(default_factory=dict)
    means: list[Meaning] = field(default_factory=list)


@dataclass(frozen=True, eq=False)
class PhraseTable:
    """All sayings, and the spelling of their words."""

    root: Node
    spelling: Spelling

    def ends_at(self, words: Sequence[Word], start: int) -> list[tuple[int, Sequence[Meaning]]]:
        """(end, meanings) of every saying that begins at a word, longest first.

        Of two sayings that end at one word, the one that takes more of the words counts.
        """
        first = self.root.follow.get(words[start].key)
        if first is None:
            return []
        best: dict[int, tuple[int, Sequence[Meaning]]] = {}
        edge = [(first, start + 1, start + 1, 1)]
        while edge:
            node, at, end, matched = edge.pop()
            if node.means and (end not in best or best[end][0] < matched):
                best[end] = (matched, node.means)
            if at == len(words) or words[at].token.parted >= PAUSE:
                continue
            after = node.follow.get(words[at].key)
            if after is not None:
                edge.append((after, at + 1, at + 1, matched + 1))
            if at - end < _MOST_FILLERS and words[at].key in keys("fillers"):
                edge.append((node, at + 1, end, matched))
        return [(end, best[end][1]) for end in sorted(best, reverse=True)]


@cache
def phrase_table() -> PhraseTable:
    """The shipped table."""
    root = Node()
    known: set[str] = set()
    alone: set[str] = set()
    for saying, meaning in rows():
        node = root
        for word in saying:
            after = node.follow.get(word)
            if after is None:
                known.add(word)
                after = node.follow[word] = Node()
            node = after
        if len(saying) == 1:
            alone.add(saying[0])
        if meaning not in node.means:
            node.means.append(meaning)
    return PhraseTable(root, Spelling.of(known, alone))


def rows() -> Iterator[tuple[tuple[str, ...], Meaning]]:
    """Every saying, as singular words, with its meaning."""
    singulars: dict[str, str] = {}
    for name in FILES:
        document = json.loads((DATA / "phrases" / f"{name}.json").read_text(encoding="utf-8"))
        for row in document["rows"]:
            meaning = _meaning(row)
            for saying in row["say"]:
                for text in _expanded(saying, document.get("sets", {})):
                    yield tuple(singulars.get(word) or _kept(singulars, word) for word in text.split()), meaning


def _kept(singulars: dict[str, str], word: str) -> str:
    made = singulars[word] = singular(word)
    return made


def _meaning(row: Mapping[str, Any]) -> Meaning:
    return Meaning(
        row["attribute"],
        tuple(row["value"].split("|")) if not row["attribute"].startswith(("@", "port_place")) else (row["value"],),
        row.get("needs", ""),
        tuple(row.get("unless_next", ())),
        Doubt(row.get("doubt", "firm")),
        row.get("weak", False),
    )


def _expanded(saying: str, sets: Mapping[str, Sequence[str]]) -> Iterator[str]:
    start = saying.find("<")
    if start < 0:
        yield saying
        return
    end = saying.index(">", start)
    for entry in sets[saying[start + 1 : end]]:
        yield from _expanded(saying[:start] + entry + saying[end + 1 :], sets)
