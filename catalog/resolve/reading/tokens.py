"""A text as folded words, each with its place in the text as given.

Offsets count code points. Letters and digits of any typing fold to plain ASCII; what the folding
table does not know (other scripts, emoji) becomes a word of its own that nothing will read.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from catalog.domain.folding import folding_table, is_word_char

# How strongly a word is parted from the one before it.
JOINED, SPACED, PAUSE, STOP = 0, 1, 2, 3
_PAUSES = ",()[]"
_STOPS = ".!?;\n\r"
_AND = "&+"
_PLAIN = frozenset("abcdefghijklmnopqrstuvwxyz0123456789")


@dataclass(frozen=True, slots=True)
class Token:
    """A word. start, end: half-open code points. text: folded ("driver's" -> "drivers").

    at: for each folded character, the code point it came from (so a word can be cut in two);
    empty where each is one code point.
    parted: how it is parted from the word before. asked: a question mark follows it.
    upper: written in capitals. capital: begins with one. foreign: not in any script we read.
    clipped: an apostrophe stands before it ("'23").
    """

    start: int
    end: int
    text: str
    at: tuple[int, ...]
    parted: int
    upper: bool = False
    capital: bool = False
    foreign: bool = False
    asked: bool = False
    clipped: bool = False

    @property
    def number(self) -> int | None:
        """The value of a word of digits."""
        return int(self.text) if self.text.isascii() and self.text.isdigit() else None

    def cut(self, at: int) -> tuple["Token", "Token"]:
        """The word cut before its folded character `at`."""
        middle = self.at[at] if self.at else self.start + at
        first = Token(
            self.start, middle, self.text[:at], self.at[:at], self.parted, self.upper, self.capital, self.foreign
        )
        rest = Token(
            middle, self.end, self.text[at:], self.at[at:], JOINED, self.upper, False, self.foreign, self.asked
        )
        return first, rest


@dataclass(frozen=True, slots=True)
class _Folded:
    """A text folded character by character. at: the code point each came from. raw: the text as given."""

    chars: list[str]
    at: Sequence[int]
    raw: str


def _folded(text: str) -> _Folded:
    table = folding_table()
    if text.isascii():
        return _Folded([table.get(raw, raw) for raw in text], range(len(text)), text)
    chars: list[str] = []
    at: list[int] = []
    for place, raw in enumerate(text):
        for char in table.get(raw, raw):
            chars.append(char)
            at.append(place)
    return _Folded(chars, at, text)


def tokenise(text: str) -> list[Token]:
    """The words of a text in order."""
    folded = _folded(text)
    chars = folded.chars
    made: list[Token] = []
    gap = index = 0
    while index < len(chars):
        char = chars[index]
        end = _word_end(chars, index)
        if end == index:
            if char not in _AND:
                index += 1
                continue
            end = index + 1
        between = " " if index == gap + 1 and chars[gap] == " " else "".join(chars[gap:index])
        if made and "?" in between:
            made[-1] = replace(made[-1], asked=True)
        kept: Sequence[int] = range(index, end)
        word = "and" if char in _AND else "".join(chars[index:end])
        if "'" in word:
            kept = [at for at in kept if chars[at] != "'"]
            word = "".join([chars[at] for at in kept])
        made.append(_token(folded, kept, word, _parting(between, made[-1].text if made else None, word)))
        if between.endswith("'") and "0" <= word[0] <= "9":
            made[-1] = replace(made[-1], clipped=True)
        gap = index = end
    if made and "?" in chars[gap:]:
        made[-1] = replace(made[-1], asked=True)
    return made


def _word_end(chars: list[str], start: int) -> int:
    """End of the word at `start`; an apostrophe inside a word belongs to it."""
    length, end = len(chars), start
    if chars[start] not in _PLAIN:
        while end < length and chars[end] > "\x7f" and is_word_char(chars[end]):
            end += 1
        return end
    while end < length:
        if chars[end] in _PLAIN:
            end += 1
        elif chars[end] == "'" and end + 1 < length and "a" <= chars[end + 1] <= "z":
            end += 2
        else:
            break
    return end


def _token(folded: _Folded, kept: Sequence[int], word: str, parted: int) -> Token:
    start, end = folded.at[kept[0]], folded.at[kept[-1]] + 1
    raw = folded.raw[start:end]
    at = () if raw.isascii() and len(word) == len(raw) else tuple(folded.at[place] for place in kept)
    capital = "A" <= raw[0] <= "Z"
    # Word and text differ only where something was folded; lower case has no capitals to look for.
    upper = raw != word and _all_capitals(raw)
    return Token(start, end, word, at, parted, upper, capital, folded.chars[kept[0]] > "\x7f")


def _all_capitals(raw: str) -> bool:
    some = False
    for char in raw:
        if "a" <= char <= "z":
            return False
        some = some or "A" <= char <= "Z"
    return some


def _parting(signs: str, last: str | None, word: str) -> int:
    """The strongest sign between two words. A dot inside "n.s.r." or "2.0" parts nothing."""
    if last is None:
        return STOP
    if signs == " ":
        return SPACED
    if not signs or (signs == "." and (len(word) == 1 or len(last) == 1 or word.isdigit())):
        return JOINED
    if any(sign in _STOPS for sign in signs):
        return STOP
    if any(sign in _PAUSES for sign in signs) or " -" in signs or "- " in signs or "--" in signs:
        return PAUSE
    return SPACED if any(sign.isspace() for sign in signs) else JOINED
