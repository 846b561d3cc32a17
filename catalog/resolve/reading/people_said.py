"""Names of people: after a title ("Mr White"), or after "my name is", "speaking to", "driver called"."""

import json
from collections.abc import Mapping, Sequence
from functools import cache, cached_property

from catalog.resolve.lexicon import LEVELS, Lexicon
from catalog.resolve.reading.mention import Range
from catalog.resolve.reading.phrases import PhraseTable
from catalog.resolve.reading.spelled import PHONETIC
from catalog.resolve.reading.tokens import PAUSE, STOP
from catalog.resolve.reading.words import DATA, Word, common_words, exactly, keys

_LONGEST = 4  # words of an introduction
_TOLD = (["my", "name", "is"],)
_NEXT = ["next", "door"]
# Parts of a surname; "Van Ellery" only where it then does something.
_PREFIXES = frozenset(("van", "von", "de", "den", "der", "di", "da", "la", "le", "mc", "mac"))


@cache
def masks() -> Mapping[str, frozenset[str]]:
    """The word lists of data/masking.json."""
    document = json.loads((DATA / "masking.json").read_text(encoding="utf-8"))
    return {name: frozenset(words) for name, words in document.items()}


@cache
def openers() -> frozenset[str]:
    """Every word that a person's name may be introduced with."""
    first = frozenset(said.split()[0] for said in masks()["introductions"])
    return (
        first
        | masks()["titles"]
        | masks()["plain_titles"]
        | exactly("people")
        | exactly("people_driving")
        | exactly("bystanders")
    )


class People:
    """Names of people, after a title or an introduction."""

    def __init__(self, words: Sequence[Word], lexicon: Lexicon, table: PhraseTable) -> None:
        self._words = words
        self._lexicon = lexicon
        self._table = table
        self.known = table.spelling.known

    @cached_property
    def _shouted(self) -> bool:
        """Whether most words begin with a capital; then a capital says nothing."""
        letters = [word for word in self._words if word.token.text.isalpha()]
        return len(letters) > 3 and 3 * sum(word.token.capital for word in letters) > 2 * len(letters)

    def at(self, at: int) -> Range | None:
        words = self._words
        text = words[at].token.text
        if text == "dr" and at and words[at - 1].token.number is not None:
            return None  # "4dr"
        if text in masks()["titles"] or (text in masks()["plain_titles"] and words[at].token.capital):
            return self._titled(at)
        for length in range(_LONGEST, 0, -1):
            said = " ".join(word.token.text for word in words[at : at + length])
            if said in masks()["introductions"] and at + length < len(words):
                sure = said in masks()["sure_introductions"] or ("name" in said and self._possessed(at))
                found = self._introduced(at + length, sure=sure, person=said in masks()["person_introductions"])
                if found is not None:
                    return found
        # Of "driver Marek Ollerton" the surname settles what the first name may sound like.
        first = self._stranger(at + 1) or (self._is_unknown(at + 1) and self._stranger(at + 2))
        if text in masks()["before_person"] and first:
            return at + 1, self._name_end(at + 1)
        if self._stranger(at):
            end = self._name_end(at)
            following = [word.token.text for word in words[end : end + 3]]
            if following[:1] and (
                following[0] in masks()["after_says"] or following in _TOLD or following[:2] == _NEXT
            ):
                return at, end
        if text in _PREFIXES and words[at].token.capital and self._stranger(at + 1):
            end = self._name_end(at + 1)
            does = words[end].token.text if end < len(words) else ""
            if does in masks()["after_says"] or does in ("is", "was", "has", "found"):
                return at, end
        key = words[at].key
        people = text in exactly("people") or text in exactly("people_driving") or key in exactly("bystanders")
        if people and at + 2 < len(words) and words[at + 1].token.text in masks()["called"]:
            return self._introduced(at + 2, sure=True)
        return None

    def _stranger(self, at: int) -> bool:
        """A word in capitals that is neither common, nor read, nor near a vehicle's name."""
        return self._is_unknown(at) and not self._is_near(self._words[at].token.text)

    def _is_unknown(self, at: int) -> bool:
        """A word in capitals that is neither common nor read."""
        if at >= len(self._words) or not self._is_capital(at) or self._words[at].token.upper:
            return False
        word = self._words[at]
        text = word.token.text
        known = self._known(word) or text in PHONETIC or not self._may_be_name(word)
        return not known and text not in masks()["not_people"]

    def _is_near(self, text: str) -> bool:
        """Whether a vehicle's name is one edit away or sounds the same."""
        return any(match.level in LEVELS[:3] for match in self._lexicon.near(text))

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
        title = words[at].token.text in masks()["titles"]
        if title:
            return self._titled(at)
        first = words[at]
        if not self._may_be_name(first):
            return None
        if sure:
            return at, self._name_end(at, sure=True)
        if self._lexicon.near(first.token.text) or first.token.text in PHONETIC:
            return None
        signed = at + 1 < len(words) and words[at + 1].token.text in masks()["after_names"]
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
        small = text in exactly("function") or text in masks()["after_names"]
        return small or word.key in self._table.spelling.alone or bool(self._lexicon.exact(text))

    def _known(self, word: Word) -> bool:
        """A common word, a word of the vocabulary, or a vehicle's name."""
        text = word.token.text
        key = text if word.corrected else word.key
        common = key in common_words() or text in common_words() or text in exactly("function")
        return common or key in self._table.spelling.known or bool(self._lexicon.exact(text))
