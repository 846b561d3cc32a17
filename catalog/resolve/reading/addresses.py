"""Addresses with a house number: "14 Green Street, Halden", "Lindenweg 27", "fourteen mill lane".

A number of digits or words, a name of one to four words and a street word; or a street word, or a name that ends in
one, and the number after it. Word lists stand in data/masking.json.
"""

from collections.abc import Sequence

from catalog.resolve.lexicon import Lexicon
from catalog.resolve.reading.mention import Range
from catalog.resolve.reading.phrases import PhraseTable
from catalog.resolve.reading.tokens import PAUSE, SPACED, STOP
from catalog.resolve.reading.words import Word, common_words, exactly, keys, lists, masks

_LONGEST_STREET = 4
_NO_STREETS = frozenset(
    ("door", "dr", "seater", "seat", "car", "van", "wheel", "mile", "speed", "row", "hole", "pin", "inch", "metre",
     "meter", "plate", "model", "oclock", "minute", "people", "person", "ton", "tonne", "year")
)  # fmt: skip
# What follows a house number that stands last; anything else is counted by it: "in Green Street 2 cars".
_AFTER_LAST = frozenset(
    ("in", "at", "near", "is", "there", "the", "and", "outside", "its", "it", "i", "a", "please", "by", "on", "here",
     "theres", "we", "where", "opposite", "behind", "flat", "my", "this")
)  # fmt: skip
_NO_STREET_AFTER = frozenset(("lamp", "light", "sign", "furniture", "corner", "works", "wagon", "car", "wheel"))
_NUMBER_SIGNS = frozenset(("number", "no", "nr", "num", "nummer", "numero"))
_TOWNS_BEFORE = frozenset(("in", "at", "near"))


class Addresses:
    """The addresses of one text. cased: whether it writes names with capitals."""

    def __init__(self, words: Sequence[Word], lexicon: Lexicon, table: PhraseTable) -> None:
        self._words = words
        self._lexicon = lexicon
        self._alone = table.spelling.alone

    def at(self, at: int) -> Range | None:
        """The address that begins at a word, or whose street word stands there, or None."""
        text = self._words[at].token.text
        end = self._house_number(at)
        if end:
            return self._numbered(at, end)
        if text in masks()["streets_first"]:
            return self._named_first(at)
        if text in masks()["streets"]:
            return (self._number_last(at) if at else None) or self._street_first(at)
        return self._one_word(at)

    def _house_number(self, at: int) -> int:
        """One past a house number of digits or words, else 0."""
        text = self._words[at].token.text
        if "0" <= text[0] <= "9":
            digits = text.rstrip("abcdefgh")
            good = digits.isascii() and digits.isdigit() and len(digits) <= 4 and len(text) - len(digits) <= 1
            return at + 1 if good else 0
        numbers = lists()["number_words"]
        if text not in numbers or (text == "one" and not self._is("hundred", at + 1)):
            return 0
        end = at + 1
        while end < len(self._words) and end - at < 5 and self._words[end].token.parted < PAUSE:
            said = self._words[end].token.text
            joined = said == "and" and self._words[end - 1].token.text == "hundred"
            if not (said in numbers or said in ("hundred", "oh") or joined):
                break
            end += 1
        return end

    def _is(self, text: str, at: int) -> bool:
        return at < len(self._words) and self._words[at].token.text == text

    def _numbered(self, at: int, name: int) -> Range | None:
        """ "14 Green Street", "8, Rue des Saules", "9 tannery row"."""
        words = self._words
        if name >= len(words):
            return None
        first = words[name]
        if first.token.text in masks()["streets_first"] and name + 1 < len(words) and first.token.parted < STOP:
            return at, self._with_town(self._name_end(name + 1))
        if self._ends_street(name) and first.token.parted < PAUSE:
            return at, self._with_town(name + 1)
        if (
            first.token.text == "the"
            and first.token.capital
            and first.token.parted < PAUSE
            and self._named_house(name + 1)
        ):
            return at, self._with_town(name + 2)
        spoken = name > at + 1 or not words[at].token.text[0].isdigit()
        for end in range(name, min(len(words), name + 1 + _LONGEST_STREET)):
            word = words[end]
            if word.token.parted >= PAUSE:
                return None
            whole = word.token.start > words[end - 1].token.end  # not a piece of a name that was cut
            if end > name and whole and self._is_street(word.token.text, name, end, at, spoken=spoken):
                return at, self._with_town(self._more_street(end + 1))
            capital = word.token.capital and not word.token.upper
            joins = capital or (end > name and word.token.text in ("of", "the", "and"))
            small = word.key in exactly("function") and not joins
            if whole and (small or word.key in _NO_STREETS or (end == name and word.key in ("way", "lane"))):
                return None
        return None

    def _named_house(self, at: int) -> bool:
        """ "12 The Paddocks": one more word in capitals, and then a comma or the end."""
        words = self._words
        ends = at + 1 >= len(words) or words[at + 1].token.parted >= PAUSE
        return at < len(words) and words[at].token.capital and not words[at].token.upper and ends

    def _more_street(self, end: int) -> int:
        """ "Old Orchard | Walk": of two street words the later ends it."""
        words = self._words
        more = end < len(words) and words[end].token.parted < PAUSE and words[end].token.capital
        text = words[end].token.text if more else ""
        return end + 1 if text in masks()["streets"] or text in masks()["streets_capital"] else end

    def _is_street(self, street: str, name: int, end: int, at: int, *, spoken: bool) -> bool:
        words = self._words
        strong = street in masks()["streets"]
        if not strong and street not in masks()["streets_capital"]:
            return False
        if end + 1 < len(words) and words[end + 1].token.parted < PAUSE and words[end + 1].key in _NO_STREET_AFTER:
            return False
        if words[name].token.capital and (words[end].token.capital or (strong and not spoken)):
            return True
        if strong and not spoken and (street != "drive" or not self._is_read(name)):
            return True
        addressed = any(words[place].token.text in masks()["address_before"] for place in range(max(0, at - 2), at))
        return (addressed or at == 0) and not any(self._is_read(place) for place in range(name, end))

    def _is_read(self, at: int) -> bool:
        """Whether a word says something of a vehicle."""
        word = self._words[at]
        part = word.key in keys("parts") or word.key in keys("place_words") or word.key in keys("vehicle")
        return part or word.key in self._alone or bool(self._lexicon.exact(word.token.text))

    def _ends_street(self, at: int) -> bool:
        """ "Lindenweg": a long unknown word that ends in a street word."""
        text = self._words[at].token.text
        if len(text) < 7 or text in common_words() or self._words[at].key in self._alone:
            return False
        return any(text.endswith(end) for end in masks()["street_ends"])

    def _one_word(self, at: int) -> Range | None:
        """ "Lindenweg 27"."""
        end = self._number_at(at + 1) if self._ends_street(at) else 0
        return (at, self._with_town(end)) if end else None

    def _named_first(self, at: int) -> Range | None:
        """ "Calle Mayor 8", "rue des Saules, 14"."""
        for name in range(at + 2, min(len(self._words), at + 2 + _LONGEST_STREET)):
            end = self._number_at(name)
            if end:
                return at, self._with_town(end)
            if self._words[name].token.parted >= PAUSE:
                break
        return None

    def _street_first(self, at: int) -> Range | None:
        """ "street Lipowa number 8"."""
        name = at + 1 < len(self._words) and self._words[at + 1].token.capital and self._is_strange(at + 1)
        return self._named_first(at) if name else None

    def _number_last(self, street: int) -> Range | None:
        """ "Green Street 14": the name before it in capitals, and nothing that the number counts."""
        words = self._words
        end = self._number_at(street + 1)
        start = street
        while start > 0 and street - start < 3 and words[start].token.parted < PAUSE:
            before = words[start - 1]
            if not before.token.capital or before.key in exactly("function") or not before.token.text.isalpha():
                break
            start -= 1
        counts = end < len(words) and words[end].token.parted < PAUSE and words[end].token.text not in _AFTER_LAST
        if not end or start == street or (counts and not words[end].token.capital):
            return None
        return start, self._with_town(end)

    def _number_at(self, at: int) -> int:
        """One past a number of digits, "no 14" or "14" or ", 14"; else 0."""
        words = self._words
        if at < len(words) and words[at].token.text in _NUMBER_SIGNS:
            at += 1
        if at >= len(words) or words[at].token.parted > PAUSE or not "0" <= words[at].token.text[0] <= "9":
            return 0
        return self._house_number(at)

    def _name_end(self, at: int) -> int:
        words = self._words
        end = at
        while end < len(words) and end < at + 4 and words[end].token.parted < PAUSE:
            if end > at and words[end].token.text in exactly("function") and not words[end].token.capital:
                break
            end += 1
        return end

    def _with_town(self, end: int) -> int:
        """The town of one or two words that follows an address, "in Halden" or ", Halden", and its state."""
        words = self._words
        start = end
        if start < len(words) and words[start].token.text in _TOWNS_BEFORE and words[start].token.parted < STOP:
            start += 1
        town = start
        while town < len(words) and town - start < 2 and words[town].token.parted <= (PAUSE if town == end else SPACED):
            if not (self._is_town(town, first=town == start) or (start > end and self._is_strange(town))):
                break
            town += 1
        if town == start:
            return end
        state = town < len(words) and words[town].token.upper and len(words[town].token.text) == 2
        return town + state

    def _is_town(self, at: int, *, first: bool) -> bool:
        word = self._words[at]
        if not word.token.capital or not word.token.text.isalpha() or (word.token.upper and len(word.token.text) > 3):
            return False
        return not (word.key in common_words() and (first or word.token.upper))

    def _is_strange(self, at: int) -> bool:
        """A word that is neither common nor read."""
        word = self._words[at]
        known = word.key in common_words() or word.token.text in exactly("function") or word.corrected
        return word.token.text.isalpha() and not known and not self._is_read(at)
