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
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from catalog.resolve.cue import Doubt
from catalog.resolve.reading.tokens import PAUSE
from catalog.resolve.reading.words import DATA, Spelling, Word, keys, singular

FILES = (
    "body", "colour", "power", "connector", "port", "cable", "place", "zones", "looks", "inside", "wheels", "marking",
    "scene", "people", "modifiers", "traps", "roles",
)  # fmt: skip
_MOST_FILLERS = 3
NOUN, LIKE = "noun", "like"
_STEPS = 1 << 20  # more than there are words


@dataclass(frozen=True, slots=True)
class Meaning:
    """One row's meaning of a saying."""

    attribute: str
    values: tuple[str, ...]
    needs: str = ""
    unless_next: tuple[str, ...] = ()
    doubt: Doubt = Doubt.FIRM
    weak: bool = False


@dataclass(frozen=True, eq=False)
class PhraseTable:
    """All sayings, as flat tables, and the spelling of their words.

    ids: a number for each word. edges: step * `_STEPS` + word -> next step; step 0 begins a saying.
    means: step -> number in `kinds` of what is meant if a saying ends there. Numbers only, so that a
    table this size costs the collector of garbage nothing.
    """

    ids: Mapping[str, int]
    edges: Mapping[int, int]
    means: Mapping[int, int]
    kinds: Sequence[Sequence[Meaning]]
    spelling: Spelling

    def ends(self, words: Sequence[Word]) -> list[Sequence[tuple[int, Sequence[Meaning]]]]:
        """For each word (end, meanings) of every saying that begins there, longest first.

        Of two sayings that end at one word, the one that takes more of the words counts.
        """
        ids = [self.ids.get(word.key, -1) for word in words]
        fillers = keys("fillers")
        # Where a saying must stop, what may stand between its words.
        stops = [word.token.parted >= PAUSE for word in words]
        passes = [word.key in fillers for word in words]
        return [
            () if first is None else self._ends_at(first, start, ids, stops, passes)
            for start, first in enumerate(self.edges.get(word) for word in ids)
        ]

    def _ends_at(
        self, first: int, start: int, ids: list[int], stops: list[bool], passes: list[bool]
    ) -> Sequence[tuple[int, Sequence[Meaning]]]:
        edges, means = self.edges, self.means
        best: dict[int, tuple[int, int]] = {}
        edge = [(first, start + 1, start + 1, 1)]
        while edge:
            step, at, end, matched = edge.pop()
            if step in means and (end not in best or best[end][0] < matched):
                best[end] = (matched, means[step])
            if at == len(ids) or stops[at]:
                continue
            after = edges.get(step * _STEPS + ids[at]) if ids[at] >= 0 else None
            if after is not None:
                edge.append((after, at + 1, at + 1, matched + 1))
            if passes[at] and at - end < _MOST_FILLERS:
                edge.append((step, at + 1, end, matched))
        if len(best) == 1:
            return [(end, self.kinds[kind]) for end, (_, kind) in best.items()]
        return [(end, self.kinds[best[end][1]]) for end in sorted(best, reverse=True)]


@cache
def phrase_table() -> PhraseTable:
    """The shipped table."""
    return _tables()[0]


@cache
def part_table() -> PhraseTable:
    """The shipped table of parts and what they are like (data/parts.json)."""
    return _tables()[1]


@cache
def _tables() -> tuple[PhraseTable, PhraseTable]:
    """Both tables; the spelling of each knows the words of both, and prefers sayings of one word of the first."""
    alone: set[str] = set()
    ids: dict[str, int] = {}
    uses: dict[str, int] = {}
    made = [_steps(rows(), ids, uses, alone), _steps(part_rows(), ids, uses, set())]
    spelling = Spelling.of(uses, alone)
    return PhraseTable(ids, *made[0], spelling), PhraseTable(ids, *made[1], spelling)


def _steps(
    said: Iterable[tuple[tuple[str, ...], Meaning]], ids: dict[str, int], uses: dict[str, int], alone: set[str]
) -> tuple[Mapping[int, int], Mapping[int, int], Sequence[Sequence[Meaning]]]:
    """(edges, means, kinds) of some sayings; new words are given numbers, and their uses counted."""
    edges: dict[int, int] = {}
    meant: dict[int, tuple[Meaning, ...]] = {}
    for saying, meaning in said:
        step = 0
        for word in saying:
            number = ids.get(word)
            if number is None:
                number = ids[word] = len(ids)
            uses[word] = uses.get(word, 0) + 1
            edge = step * _STEPS + number
            after = edges.get(edge)
            if after is None:
                after = edges[edge] = len(edges) + 1
            step = after
        if len(saying) == 1:
            alone.add(saying[0])
        before = meant.get(step, ())
        if meaning not in before:
            meant[step] = (*before, meaning)
    kinds = {kind: number for number, kind in enumerate(dict.fromkeys(meant.values()))}
    return edges, {step: kinds[kind] for step, kind in meant.items()}, tuple(kinds)


def rows() -> Iterator[tuple[tuple[str, ...], Meaning]]:
    """Every saying, as singular words, with its meaning."""
    for name in FILES:
        document = json.loads((DATA / "phrases" / f"{name}.json").read_text(encoding="utf-8"))
        sets = {key: [_singular(entry) for entry in entries] for key, entries in document.get("sets", {}).items()}
        for row in document["rows"]:
            meaning = _meaning(row)
            for saying in row["say"]:
                for words in _expanded(saying, sets):
                    yield words, meaning


def part_rows() -> Iterator[tuple[tuple[str, ...], Meaning]]:
    """Every saying of data/parts.json, likewise. attribute: NOUN or LIKE, and the part.

    Rows: "noun" or "like" (a part, or several), a value, and the ways to say it. The value of a "like"
    row is one or more "attribute=value", or words that the reader of that part knows ("@front").
    """
    document = json.loads((DATA / "parts.json").read_text(encoding="utf-8"))
    for row in document["rows"]:
        kind = NOUN if NOUN in row else LIKE
        for part in row[kind].split("|"):
            meaning = Meaning(f"{kind} {part}", (row["value"],))
            for saying in row["say"]:
                yield _singular(saying), meaning


def _singular(text: str) -> tuple[str, ...]:
    return tuple([singular(word) for word in text.split()])


def _meaning(row: Mapping[str, Any]) -> Meaning:
    return Meaning(
        row["attribute"],
        tuple(row["value"].split("|")) if not row["attribute"].startswith(("@", "port_place")) else (row["value"],),
        row.get("needs", ""),
        tuple(row.get("unless_next", ())),
        Doubt(row.get("doubt", "firm")),
        row.get("weak", False),
    )


def _expanded(saying: str, sets: Mapping[str, Sequence[tuple[str, ...]]]) -> Iterator[tuple[str, ...]]:
    """A saying with each "<set>" replaced by each of its entries in turn."""
    start = saying.find("<")
    if start < 0:
        yield _singular(saying)
        return
    end = saying.index(">", start)
    before, after = _singular(saying[:start]), tuple(_expanded(saying[end + 1 :], sets))
    for entry in sets[saying[start + 1 : end]]:
        for rest in after:
            yield before + entry + rest
