"""The words of a text as the phrase table knows them: cut, singular, spelling put right.

A word keeps its place in the text. Only words the table cannot know are touched: run-together
words are cut ("pickuptruck", "4door"), and long words are corrected to the one phrase word within
reach, unless they are common English or nearer to a name of the edition.
"""

import json
from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from catalog.resolve.deletions import DeletionTable
from catalog.resolve.lexicon import LEVELS, Lexicon
from catalog.resolve.reading.tokens import Token

DATA = Path(__file__).parent / "data"
ONE_EDIT_FROM, TWO_EDITS_FROM = 5, 8
_SHORTEST_PIECE = 3
# Two letters that run together with the next word: "bythe", "itopen"; not where a name may stand.
_RUN_ON = frozenset(("is", "in", "on", "at", "it", "to", "of", "by", "up", "no", "an", "or", "my", "we", "he", "so"))
_MORE_USED = 3
_ALONE_COUNTS = 10
_MOST_PIECES = 3
_MOST_LOOKED_UP, _LONGEST_LOOKED_UP = 40, 24


@dataclass(frozen=True, slots=True)
class Word:
    """A token and the form it is looked up by. corrected: its spelling was put right."""

    token: Token
    key: str
    corrected: bool = False


@cache
def lists() -> Mapping[str, Any]:
    """The small word lists (fillers, function words, people, parts...)."""
    made: Mapping[str, Any] = json.loads((DATA / "words.json").read_text(encoding="utf-8"))
    return made


@cache
def word_lists(name: str) -> Mapping[str, frozenset[str]]:
    """The word lists of one of the tables in data/ that hold nothing else."""
    document = json.loads((DATA / f"{name}.json").read_text(encoding="utf-8"))
    return {kind: frozenset(words) for kind, words in document.items()}


@cache
def masks() -> Mapping[str, frozenset[str]]:
    """The word lists of data/masking.json."""
    return word_lists("masking")


@cache
def _private() -> frozenset[str]:
    """Titles, first names and street words: never cut or put right."""
    return masks()["titles"] | masks()["first_names"] | masks()["streets"]


@cache
def keys(name: str) -> frozenset[str]:
    """One of the lists, singular."""
    return frozenset(singular(word) for word in lists()[name])


@cache
def exactly(name: str) -> frozenset[str]:
    """One of the lists as it stands."""
    return frozenset(lists()[name])


@cache
def common_words() -> frozenset[str]:
    """Common English words, singular; none of them is taken for a misspelling or a name."""
    text: str = json.loads((DATA / "common.json").read_text(encoding="utf-8"))["words"]
    return frozenset(text.split()) | keys("function") | keys("people") | keys("parts") | keys("things")


def singular(word: str) -> str:
    """ "vans" -> "van", "buses" -> "bus", "lorries" -> "lorry"; the same rule for table and text."""
    if len(word) <= 3 or not word.endswith("s") or word.endswith(("ss", "us", "is")):
        return word
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("ches", "shes", "xes", "sses", "uses", "zes")):
        return word[:-2]
    return word[:-1]


@dataclass(frozen=True, eq=False)
class Spelling:
    """What a text's words may be corrected to.

    known: singular words of the phrase table. alone: those that are a saying by themselves; they
    win over words that only occur within one. uses: how many sayings hold each word.
    """

    known: Set[str]
    alone: Set[str]
    near: DeletionTable
    uses: Mapping[str, int]

    @classmethod
    def of(cls, uses: Mapping[str, int], alone: Set[str]) -> "Spelling":
        long = sorted(word for word in uses if len(word) >= ONE_EDIT_FROM and word.isalpha())
        return cls(uses.keys(), alone, DeletionTable(long, 2, long=TWO_EDITS_FROM), uses)


class LookUps:
    """Which words of a text may be looked up by likeness: forty different ones, none of them very long."""

    def __init__(self) -> None:
        self._seen: set[str] = set()

    def allows(self, text: str) -> bool:
        if text in self._seen:
            return True
        if len(self._seen) >= _MOST_LOOKED_UP or len(text) > _LONGEST_LOOKED_UP:
            return False
        self._seen.add(text)
        return True


def resolve_words(tokens: Sequence[Token], spelling: Spelling, lexicon: Lexicon, looks: LookUps) -> list[Word]:
    """The words in order; a token cut in pieces gives several."""
    made: list[Word] = []
    for token in tokens:
        key = singular(token.text)
        if _is_known(token.text, key, spelling, lexicon) or not looks.allows(token.text):
            made.append(Word(token, key))
            continue
        pieces = _pieces(token, spelling, _MOST_PIECES, not token.capital)
        if pieces and _is_telling(pieces) and not _is_near_name(token.text, lexicon):
            made.extend(Word(piece, singular(piece.text)) for piece in pieces)
            continue
        better = _corrected(token, spelling, lexicon)
        made.append(Word(token, better or key, corrected=better is not None))
    return made


def _is_known(text: str, key: str, spelling: Spelling, lexicon: Lexicon) -> bool:
    if key in spelling.known or text in spelling.known or key in common_words() or text in common_words():
        return True
    return text.isdigit() or not text.isascii() or text in _private() or bool(lexicon.exact(text))


def _is_near_name(text: str, lexicon: Lexicon) -> bool:
    found = lexicon.near(text)
    return bool(found) and found[0].level in LEVELS[:3]


def _pieces(token: Token, spelling: Spelling, most: int, run_on: bool) -> list[Token]:
    """The token cut into known words, or nothing. A number may stand first or last ("21plate").

    run_on: whether words of two letters may be among them; what begins with a capital may be a name.
    """
    if most == 1:
        known = singular(token.text) in spelling.known or token.text in keys("function") or token.text.isdigit()
        short = len(token.text) < _SHORTEST_PIECE and not token.text.isdigit() and token.text not in _RUN_ON
        return [token] if known and not short else []
    for at in range(len(token.text) - 1, 0, -1):
        head, tail = token.text[:at], token.text[at:]
        if head.isdigit() != tail.isdigit() and (head[-1].isdigit() or tail[0].isdigit()):
            if head[-1].isdigit() == tail[0].isdigit() or min(_letters(head), _letters(tail)) < _SHORTEST_PIECE:
                continue
        elif (at < _SHORTEST_PIECE or len(tail) < _SHORTEST_PIECE) and not run_on:
            continue
        first, rest = token.cut(at)
        if not _pieces(first, spelling, 1, run_on):
            continue
        for pieces in (1, most - 1):
            found = _pieces(rest, spelling, pieces, run_on)
            if found:
                return [first, *found]
    return []


def _is_telling(pieces: Sequence[Token]) -> bool:
    """Whether a word of some length is among the pieces: "onit" is cut beside others only, "buton" is no "but on"."""
    lengths = [len(piece.text) for piece in pieces]
    return (
        min(lengths) >= _SHORTEST_PIECE
        or any(piece.text.isdigit() for piece in pieces)
        or max(lengths) > _SHORTEST_PIECE
    )


def _letters(piece: str) -> int:
    """How long a piece of letters is; a number may be of any length."""
    return _SHORTEST_PIECE if piece[0].isdigit() else len(piece)


def _corrected(token: Token, spelling: Spelling, lexicon: Lexicon) -> str | None:
    """The phrase word meant, when there is one nearest word within reach and no nearer name."""
    text = token.text
    if len(text) < ONE_EDIT_FROM - 1 or not text.isalpha():
        return None
    found = [pair for form in {text, singular(text)} for pair in spelling.near.within(form, _reach(form))]
    found = sorted(pair for pair in found if pair[0] <= _reach(pair[1]))
    nearest = {word for distance, word in found if distance == found[0][0]}
    alone = nearest & spelling.alone or nearest
    chosen = min(alone) if len(alone) == 1 and token.capital else _likeliest(text, nearest, spelling)
    if chosen is None or (token.capital and len(alone) > 1):
        return None
    levels = lexicon.levels(text).values()
    name = min((LEVELS.index(level) for level in levels), default=len(LEVELS))
    # Sound and one edit of a name count as one edit.
    return chosen if found[0][0] < max(name, 1) + (name > 1) else None


def _likeliest(text: str, nearest: Set[str], spelling: Spelling) -> str | None:
    """Of words equally near: letters only swapped before others, the same first letter, then by far the most used."""
    ranked = sorted((_is_swapped(text, word), word[0] == text[0], _use(word, spelling), word) for word in nearest)
    ranked.reverse()
    if not ranked:
        return None
    if len(ranked) > 1 and ranked[0][:2] == ranked[1][:2] and ranked[0][2] < _MORE_USED * ranked[1][2]:
        return None
    return ranked[0][3]


def _use(word: str, spelling: Spelling) -> int:
    """How much a word is used; one that is a saying by itself counts for more."""
    return spelling.uses[word] * (_ALONE_COUNTS if word in spelling.alone else 1)


def _is_swapped(text: str, word: str) -> bool:
    return sorted(text) in (sorted(word), sorted(word + "s"))


def _reach(word: str) -> int:
    return 2 if len(word) >= TWO_EDITS_FROM else 1
