"""What is nobody's business: telephone numbers, registration plates, e-mail, people's names, addresses.

Found by pattern only, before anything else is read but a VIN; never a cue, never shown as unread. Word
lists stand in data/masking.json.
"""

import json
from collections.abc import Mapping, Sequence
from functools import cache

from catalog.resolve.cue import Span
from catalog.resolve.lexicon import Lexicon
from catalog.resolve.mention import Range
from catalog.resolve.phrases import PhraseTable
from catalog.resolve.spelled import spelt
from catalog.resolve.tokens import PAUSE, STOP
from catalog.resolve.words import DATA, Word, common_words, exactly, keys

_FEWEST_DIGITS, _MOST_DIGITS, _SURELY = 7, 15, 10
_LONGEST_STREET = 3
_NO_STREETS = frozenset(("door", "dr", "seater", "way", "car", "van", "wheel", "mile"))
_YEARS = ("19", "20")


@cache
def _lists() -> Mapping[str, frozenset[str]]:
    document = json.loads((DATA / "masking.json").read_text(encoding="utf-8"))
    return {name: frozenset(words) for name, words in document.items()}


def masked(text: str, words: Sequence[Word], taken: list[bool], lexicon: Lexicon, table: PhraseTable) -> list[Span]:
    """Spans to mask; the words in them are marked as taken."""
    made: list[Range] = []
    people = _People(words, lexicon, table)
    at = 0
    while at < len(words):
        found = None if taken[at] else _at(text, words, at, people)
        if found is None:
            at += 1
            continue
        start, end = found
        if any(taken[start:end]):
            at += 1
            continue
        taken[start:end] = [True] * (end - start)
        made.append(found)
        at = end
    return [Span(_from(text, words[start].token.start), words[end - 1].token.end) for start, end in made]


def _from(text: str, start: int) -> int:
    """The plus or bracket before a number belongs to it."""
    while start > 0 and text[start - 1] in "+(":
        start -= 1
    return start


def _at(text: str, words: Sequence[Word], at: int, people: "_People") -> Range | None:
    """What begins at a word, if anything."""
    word = words[at].token.text
    first = word[0]
    if "0" <= first <= "9":
        return _telephone(text, words, at) or _plate(words, at, people) or _address(words, at)
    return _mail(text, words, at) or _plate(words, at, people) or _spoken_number(words, at) or people.at(at)


def _telephone(text: str, words: Sequence[Word], at: int) -> Range | None:
    """Seven to fifteen digits in groups that look like a number to ring."""
    digits = ""
    end = at
    while end < len(words) and words[end].token.text.isdigit() and words[end].token.text.isascii():
        if end > at and words[end].token.parted >= STOP and text[words[end - 1].token.end] != ".":
            break
        if end > at and words[end].token.parted >= PAUSE and not _near(text, words, end):
            break
        digits += words[end].token.text
        end += 1
    if not _FEWEST_DIGITS <= len(digits) <= _MOST_DIGITS:
        return None
    groups = [words[place].token.text for place in range(at, end)]
    if all(len(group) == 4 and group.startswith(_YEARS) for group in groups):
        return None
    plus = words[at].token.start > 0 and text[words[at].token.start - 1] == "+"
    before = {words[place].token.text for place in range(max(0, at - 4), at)}
    rings = bool(before & _lists()["telephone"])
    shape = [len(group) for group in groups] in ([3, 4], [3, 3, 4], [1, 3, 3, 4], [4, 3, 3], [4, 4])
    if not (digits[0] == "0" or plus or rings or shape or len(digits) >= _SURELY):
        return None
    return at, end


def _near(text: str, words: Sequence[Word], at: int) -> bool:
    """Brackets and a hyphen inside a number part nothing: "(020) 7946-0123"."""
    between = text[words[at - 1].token.end : words[at].token.start]
    return all(char in " -()" for char in between)


def _spoken_number(words: Sequence[Word], at: int) -> Range | None:
    """ "oh seven seven double oh nine..." """
    text = words[at].token.text
    if text not in ("oh", "zero", "double", "nought"):
        return None
    run = spelt(words, at, groups=False)
    long = run is not None and run.spoken and run.digits == len(run.text) >= _FEWEST_DIGITS
    return (at, run.end) if run is not None and long else None


def _plate(words: Sequence[Word], at: int, people: "_People") -> Range | None:
    """ "AB21 CDE" by its shape; other plates, and spelled ones, after "reg" or "plate"."""
    text = words[at].token.text
    nearby = at + 1 < len(words) and words[at + 1].token.parted < PAUSE
    after = words[at + 1].token.text if nearby else ""
    if _shape(text) == "aa99aaa" or (_shape(text) == "aa99" and _shape(after) == "aaa"):
        return at, at + 1 + (len(text) == 4)
    if not _after_plate(words, at):
        return None
    run = spelt(words, at, groups=True)
    if run is None or not 4 <= len(run.text) <= 8 or not 1 <= run.digits < len(run.text):
        return None
    single = run.end == at + 1 and not run.spoken
    return None if single and (_is_age(text) or words[at].key in people.known) else (at, run.end)


def _after_plate(words: Sequence[Word], at: int) -> bool:
    """ "reg", "plate is", "registration number": said just before; a "21 plate" is an age."""
    before = at - 1
    while before > 0 and at - before < 4 and words[before].token.text in _lists()["before_plate"]:
        before -= 1
    if before < 0 or words[before].token.text not in _lists()["plate"]:
        return False
    if any(words[place].token.parted >= STOP for place in range(before + 1, at + 1)):
        return False
    return before == 0 or not words[before - 1].token.text.isdigit()


def _shape(text: str) -> str:
    """ "ab21" -> "aa99"."""
    if not text.isascii() or len(text) > 7:
        return ""
    return "".join("9" if "0" <= char <= "9" else "a" for char in text)


def _is_age(text: str) -> bool:
    """A word such as "2019ish" or "21plate"."""
    return text[:2].isdigit() and text[-2:].isalpha() and len(text.strip("0123456789")) > 3


def _mail(text: str, words: Sequence[Word], at: int) -> Range | None:
    """ "dave@example.com", "dave at example dot com"."""
    end = at + 1
    seen = False
    while end < len(words) and words[end].token.start - words[end - 1].token.end == 1:
        sign = text[words[end].token.start - 1]
        if sign not in "@.-_":
            break
        seen = seen or sign == "@"
        end += 1
    if seen:
        return at, end
    spoken = [word.token.text for word in words[at : at + 9]]
    if len(spoken) < 5 or spoken[1] != "at" or "dot" not in spoken[2:5]:
        return None
    end = at + 2 + spoken[2:].index("dot")
    while end + 1 < len(words) and words[end].token.text == "dot" and words[end + 1].token.text in _lists()["mail"]:
        end += 2
    return (at, end) if words[end - 1].token.text in _lists()["mail"] else None


def _address(words: Sequence[Word], at: int) -> Range | None:
    """ "14 Green Street, Halden": a house number, a name of one to three words, a word for a street."""
    number = words[at].token.text
    digits = number.rstrip("abcdefgh")
    if not digits.isdigit() or len(digits) > 4 or len(number) - len(digits) > 1:
        return None
    for end in range(at + 1, min(len(words), at + 2 + _LONGEST_STREET)):
        word = words[end]
        if word.token.parted >= PAUSE:
            return None
        street = word.token.text
        strong = street in _lists()["streets"]
        weak = street in _lists()["streets_capital"] and word.token.capital and words[end - 1].token.capital
        if end > at + 1 and (strong or weak):
            return at, _with_town(words, end + 1)
        if word.key in exactly("function") or word.key in _NO_STREETS:
            return None
    return None


def _with_town(words: Sequence[Word], end: int) -> int:
    """The town in capitals that follows an address after a comma, if nothing else does in its clause."""
    if end >= len(words) or words[end].token.parted != PAUSE or not words[end].token.capital:
        return end
    alone = end + 1 == len(words) or words[end + 1].token.parted >= PAUSE
    plain = words[end].key in common_words() or words[end].token.upper
    return end + 1 if alone and not plain else end


class _People:
    """Names of people, after a title or an introduction."""

    def __init__(self, words: Sequence[Word], lexicon: Lexicon, table: PhraseTable) -> None:
        self._words = words
        self._lexicon = lexicon
        self._table = table
        self.known = table.spelling.known
        # Where most words begin with a capital, a capital says nothing.
        letters = [word for word in words if word.token.text.isalpha()]
        self._shouted = len(letters) > 3 and 3 * sum(word.token.capital for word in letters) > 2 * len(letters)

    def at(self, at: int) -> Range | None:
        words = self._words
        text = words[at].token.text
        if text in _lists()["titles"] or (text in _lists()["plain_titles"] and words[at].token.capital):
            return self._titled(at)
        for length in (4, 3, 2, 1):
            said = " ".join(word.token.text for word in words[at : at + length])
            if said in _lists()["introductions"] and at + length < len(words):
                sure = said in _lists()["sure_introductions"] or ("name" in said and self._possessed(at))
                found = self._introduced(at + length, sure=sure, person=said in _lists()["person_introductions"])
                if found is not None:
                    return found
        people = text in exactly("people") or text in exactly("people_driving")
        if people and at + 2 < len(words) and words[at + 1].token.text in _lists()["called"]:
            return self._introduced(at + 2, sure=True)
        return None

    def _possessed(self, at: int) -> bool:
        """ "dad's | name is": whose name it is was just said."""
        before = self._words[at - 1] if at else None
        return before is not None and (before.key in keys("people") or before.key in keys("people_driving"))

    def _titled(self, at: int) -> Range | None:
        """ "Mr White", "Mrs Jane White"; a title that is also a trade ("the nurse is") needs a capital after it."""
        if at + 1 >= len(self._words) or self._words[at + 1].token.parted >= STOP:
            return None
        word = self._words[at + 1]
        sure = self._words[at].token.text in ("mr", "mrs", "ms", "mister")
        if not (self._is_capital(at + 1) or (sure and self._may_be_name(word))):
            return None
        return at, self._name_end(at + 1)

    def _introduced(self, at: int, *, sure: bool, person: bool = False) -> Range | None:
        words = self._words
        if at >= len(words) or words[at].token.parted >= STOP:
            return None
        title = words[at].token.text in _lists()["titles"]
        if title:
            return self._titled(at)
        first = words[at]
        if not self._may_be_name(first):
            return None
        if sure:
            return at, self._name_end(at, sure=True)
        signed = at + 1 < len(words) and words[at + 1].token.text in _lists()["after_names"]
        capital = self._is_capital(at) and not (self._reads(first) if person else self._known(first))
        return (at, self._name_end(at)) if signed or capital else None

    def _name_end(self, start: int, *, sure: bool = False) -> int:
        """Where a name ends: its first word, and further ones in capitals or that are no word at all."""
        words = self._words
        end = start + 1
        while end < len(words) and end - start < 3 and words[end].token.parted < PAUSE:
            plain = self._reads(words[end]) if sure and end == start + 1 else self._known(words[end])
            strange = words[end].token.text.isalpha() and not plain and words[end].token.text.isascii()
            if not (strange or (self._is_capital(end) and self._may_be_name(words[end]))):
                break
            end += 1
        return end

    def _is_capital(self, at: int) -> bool:
        return self._words[at].token.capital and not self._shouted

    def _may_be_name(self, word: Word) -> bool:
        text = word.token.text
        return len(text) > 1 and text.isalpha() and text.isascii() and text not in exactly("function")

    def _reads(self, word: Word) -> bool:
        """A small word, one the vocabulary reads, or a vehicle's name."""
        text = word.token.text
        small = text in exactly("function") or text in _lists()["after_names"]
        return small or word.key in self._table.spelling.alone or bool(self._lexicon.exact(text))

    def _known(self, word: Word) -> bool:
        """A common word, a word of the vocabulary, or a vehicle's name."""
        text = word.token.text
        common = word.key in common_words() or text in common_words() or text in exactly("function")
        return common or word.key in self._table.spelling.known or bool(self._lexicon.near(text))
