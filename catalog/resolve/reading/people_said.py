"""Names of people: after a title ("Mr White"), or after "my name is", "speaking to", "driver called"."""

from collections.abc import Sequence
from functools import cache, cached_property

from catalog.resolve.lexicon import LEVELS, Lexicon
from catalog.resolve.reading.mention import Range
from catalog.resolve.reading.phrases import PhraseTable
from catalog.resolve.reading.scan import writes_capitals
from catalog.resolve.reading.spelled import PHONETIC
from catalog.resolve.reading.tokens import JOINED, PAUSE, STOP
from catalog.resolve.reading.words import Word, common_words, exactly, keys, masks

_LONGEST = 4  # words of an introduction
_TOLD = (["my", "name", "is"],)
_NEXT = ["next", "door"]
_I = frozenset(("i", "im", "ive", "id", "ill"))
# Parts of a surname; "Van Ellery" only where it then does something.
PREFIXES = frozenset(("van", "von", "de", "den", "der", "di", "da", "la", "le", "mc", "mac"))


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
        self.words = words
        self.lexicon = lexicon
        self.known_words = table.spelling.known
        self.alone = table.spelling.alone

    @cached_property
    def cased(self) -> bool:
        """Whether it begins names with capitals: some word inside a sentence does, and most do not."""
        return writes_capitals([word for word in self.words if word.token.text not in _I])

    @cached_property
    def shouted(self) -> bool:
        """Whether most words begin with a capital; then a capital says nothing."""
        letters = [word for word in self.words if word.token.text.isalpha()]
        return len(letters) > 3 and 3 * sum(word.token.capital for word in letters) > 2 * len(letters)

    def at(self, at: int) -> Range | None:
        words = self.words
        text = words[at].token.text
        if text == "dr" and at and words[at - 1].token.number is not None:
            return None  # "4dr"
        if text in masks()["titles"] or (text in masks()["plain_titles"] and words[at].token.capital):
            return self.titled(at)
        for length in range(_LONGEST, 0, -1):
            said = " ".join(word.token.text for word in words[at : at + length])
            if said in masks()["introductions"] and at + length < len(words):
                if "name" in said and self._of_vehicle(at, said):
                    continue
                sure = said in masks()["sure_introductions"] or ("name" in said and self._possessed(at))
                if said in ("i am", "im", "me is", "here is") and not self._is_who(at + length):
                    continue
                sure = sure or (said in masks()["called_sure"] and self.is_strange(at + length))
                found = self._introduced(at + length, sure=sure, person=said in masks()["person_introductions"])
                if found is not None:
                    return found
        # Of "driver Marek Ollerton" the surname settles what the first name may sound like.
        first = self.stranger(at + 1) or (self.is_unknown(at + 1) and self.stranger(at + 2))
        if text in masks()["before_person"] and first:
            return at + 1, self.name_end(at + 1)
        if self.stranger(at):
            end = self.name_end(at)
            following = [word.token.text for word in words[end : end + 3]]
            if following[:1] and (
                following[0] in masks()["after_says"] or following in _TOLD or following[:2] == _NEXT
            ):
                return at, end
        if text in PREFIXES and words[at].token.capital and self.stranger(at + 1):
            end = self.name_end(at + 1)
            does = words[end].token.text if end < len(words) else ""
            if does in masks()["after_says"] or does in ("is", "was", "has", "found"):
                return at, end
        key = words[at].key
        people = text in exactly("people") or text in exactly("people_driving") or key in exactly("bystanders")
        if people and at + 2 < len(words) and words[at + 1].token.text in masks()["called"]:
            return self._introduced(at + 2, sure=True)
        return None

    def stranger(self, at: int) -> bool:
        """A word in capitals that is neither common, nor read, nor near a vehicle's name."""
        return self.is_unknown(at) and not self.is_near(self.words[at].token.text)

    def is_unknown(self, at: int) -> bool:
        """A word in capitals that is neither common nor read."""
        if at >= len(self.words) or not self.is_capital(at) or self.words[at].token.upper:
            return False
        word = self.words[at]
        text = word.token.text
        known = self.known(word) or text in PHONETIC or not self.may_be_name(word)
        return not known and text not in masks()["not_people"]

    def is_strange(self, at: int) -> bool:
        """A word, in capitals or not, that is neither common nor read nor near a vehicle's name."""
        word = self.words[at]
        return self.may_be_name(word) and not self.known(word) and not self.is_near(word.token.text)

    def is_near(self, text: str) -> bool:
        """Whether a vehicle's name is one edit away or sounds the same."""
        return any(match.level in LEVELS[:3] for match in self.lexicon.near(text))

    def _possessed(self, at: int) -> bool:
        """ "dad's | name is": whose name it is was just said."""
        before = self.words[at - 1] if at else None
        return before is not None and (before.key in keys("people") or before.key in keys("people_driving"))

    def _is_who(self, at: int) -> bool:
        """ "I'm Nkechi and I...", "I am Brandek, ...": a strange word in capitals that nothing is added to."""
        end = self.name_end(at)
        goes_on = end < len(self.words) and self.words[end].token.parted < PAUSE
        return self.stranger(at) and not (goes_on and self.words[end].token.text not in ("and", "from", "here", "i"))

    def _of_vehicle(self, at: int, said: str) -> bool:
        """ "van name is", "the name on the boot": not somebody's."""
        before = self.words[at - 1].key if at and self.words[at].token.parted < PAUSE else ""
        alone = said == "name" and not self._possessed(at)
        return alone or before in keys("vehicle") or before in self.alone

    def titled(self, at: int) -> Range | None:
        """ "Mr White", "Mrs Jane White"; a title that is also a trade ("the nurse is") needs a capital after it."""
        if at + 1 >= len(self.words) or (self.words[at + 1].token.parted >= STOP and not self._dotted(at)):
            return None
        word = self.words[at + 1]
        sure = self.words[at].token.text in ("mr", "mrs", "ms", "mister")
        if not self.may_be_name(word) or not (self.is_capital(at + 1) or sure):
            return None
        return at, self.name_end(at + 1)

    def _dotted(self, at: int) -> bool:
        """ "Mr. White": the dot belongs to a short title."""
        gap = self.words[at + 1].token.start - self.words[at].token.end
        return len(self.words[at].token.text) <= 4 and gap <= 2 and self.is_capital(at + 1)

    def _introduced(self, at: int, *, sure: bool, person: bool = False) -> Range | None:
        words = self.words
        if at >= len(words) or words[at].token.parted >= STOP:
            return None
        title = words[at].token.text in masks()["titles"]
        if title:
            return self.titled(at)
        first = words[at]
        if not self.may_be_name(first):
            return None
        if sure:
            return at, self.name_end(at, sure=True)
        if self.lexicon.near(first.token.text) or first.token.text in PHONETIC:
            return None
        signed = at + 1 < len(words) and words[at + 1].token.text in masks()["after_names"]
        capital = self.is_capital(at) and not (self.reads(first) if person else self.known(first))
        return (at, self.name_end(at)) if signed or capital else None

    def full_name_end(self, start: int) -> int:
        """Where a name ends that begins with a first name: strange words follow, in capitals where those are used."""
        words = self.words
        end = start + 1
        while end < len(words) and end - start < 3 and words[end].token.parted < PAUSE:
            prefix = words[end].token.text in PREFIXES and end + 1 < len(words) and self.is_strange(end + 1)
            capital = self.is_capital(end) or not self.cased
            strange = prefix or self.is_strange(end) or self.is_cut(end)
            if not ((capital and strange) or self._colour_named(start, end)):
                break
            end += 1
            while end < len(words) and self.is_piece(end):
                end += 1
        return end

    def is_piece(self, at: int) -> bool:
        """Whether a word is a piece of the one before it: "wake", "field"."""
        return self.words[at].token.parted == JOINED and self.words[at].token.start == self.words[at - 1].token.end

    def is_cut(self, at: int) -> bool:
        """Whether a word is the first piece of one that was cut, and so no word itself."""
        return at + 1 < len(self.words) and self.is_piece(at + 1) and self.words[at].token.text.isalpha()

    def _colour_named(self, start: int, at: int) -> bool:
        """ "Dave White says", "dave brown here": a surname that is a word, before what only people do."""
        if at > start + 1 or not self.may_be_name(self.words[at]) or at + 1 >= len(self.words):
            return False
        after = self.words[at + 1].token.text
        return self.words[at].key in self.known_words and (after in masks()["after_says"] or after in masks()["does"])

    def name_end(self, start: int, *, sure: bool = False) -> int:
        """Where a name ends: its first word, and further ones in capitals or that are no word at all."""
        words = self.words
        end = start + 1
        while end < len(words) and end - start < 3 and words[end].token.parted < PAUSE:
            plain = self.reads(words[end]) if sure and end == start + 1 else self.known(words[end])
            strange = words[end].token.text.isalpha() and not plain and words[end].token.text.isascii()
            if not (strange or (self.is_capital(end) and self.may_be_name(words[end]))):
                break
            end += 1
        return end

    def is_capital(self, at: int) -> bool:
        return self.words[at].token.capital and not self.shouted

    def may_be_name(self, word: Word) -> bool:
        text = word.token.text
        return len(text) > 1 and text.isalpha() and text.isascii() and text not in exactly("function")

    def reads(self, word: Word) -> bool:
        """A small word, one the vocabulary reads, or a vehicle's name."""
        text = word.token.text
        small = text in exactly("function") or text in masks()["after_names"]
        return small or word.key in self.alone or bool(self.lexicon.exact(text))

    def known(self, word: Word) -> bool:
        """A common word, a word of the vocabulary, or a vehicle's name."""
        text = word.token.text
        key = text if word.corrected else word.key
        common = key in common_words() or text in common_words() or text in exactly("function")
        return common or key in self.known_words or bool(self.lexicon.exact(text))
