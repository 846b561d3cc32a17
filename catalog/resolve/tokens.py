"""A text as folded words, each with its place in the text as given.

Offsets count code points. Letters and digits of any typing fold to plain ASCII; what the folding
table does not know (other scripts, emoji) becomes a word of its own that nothing will read.
"""

from dataclasses import dataclass, replace

from catalog.domain.folding import fold_char, is_word_char

# How strongly a word is parted from the one before it.
JOINED, SPACED, PAUSE, STOP = 0, 1, 2, 3
_PAUSES = ",()[]"
_STOPS = ".!?;\n\r"
_AND = "&+"


@dataclass(frozen=True, slots=True)
class Token:
    """A word. start, end: half-open code points. text: folded ("driver's" -> "drivers").

    at: for each folded character, the code point it came from (so a word can be cut in two).
    parted: how it is parted from the word before. asked: a question mark follows it.
    upper: written in capitals. capital: begins with one. foreign: not in any script we read.
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

    @property
    def number(self) -> int | None:
        """The value of a word of digits."""
        return int(self.text) if self.text.isascii() and self.text.isdigit() else None

    def cut(self, at: int) -> tuple["Token", "Token"]:
        """The word cut before its folded character `at`."""
        middle = self.at[at]
        first = Token(
            self.start, middle, self.text[:at], self.at[:at], self.parted, self.upper, self.capital, self.foreign
        )
        rest = Token(
            middle, self.end, self.text[at:], self.at[at:], JOINED, self.upper, False, self.foreign, self.asked
        )
        return first, rest


@dataclass(frozen=True, slots=True)
class _Char:
    """One folded character and the code point it came from."""

    char: str
    at: int
    raw: str


def tokenise(text: str) -> list[Token]:
    """The words of a text in order."""
    chars = [_Char(char, at, raw) for at, raw in enumerate(text) for char in fold_char(raw)]
    made: list[Token] = []
    between: list[str] = []
    index = 0
    while index < len(chars):
        end = _word_end(chars, index)
        if end == index:
            if chars[index].char in _AND:
                made.append(_token([chars[index]], "and", _parting(between, made, "and")))
                between = []
            else:
                between.append(chars[index].char)
            index += 1
            continue
        run = [entry for entry in chars[index:end] if entry.char != "'"]
        word = "".join(entry.char for entry in run)
        made = _mark_asked(made, between)
        made.append(_token(run, word, _parting(between, made, word)))
        between = []
        index = end
    return _mark_asked(made, between)


def _word_end(chars: list[_Char], start: int) -> int:
    """End of the word at `start`; an apostrophe inside a word belongs to it, "1,500" is one number."""
    if not is_word_char(chars[start].char):
        return start
    foreign = chars[start].char > "\x7f"
    end = start + 1
    while end < len(chars):
        char = chars[end].char
        if is_word_char(char) and (char > "\x7f") == foreign:
            end += 1
        elif char == "'" and not foreign and end + 1 < len(chars) and "a" <= chars[end + 1].char <= "z":
            end += 2
        else:
            break
    return end


def _token(run: list[_Char], word: str, parted: int) -> Token:
    raw = [entry.raw for entry in run]
    letters = [char for char in raw if char.isascii() and char.isalpha()]
    upper = bool(letters) and all("A" <= char <= "Z" for char in letters)
    at = tuple(entry.at for entry in run)
    foreign = run[0].char > "\x7f"
    return Token(at[0], at[-1] + 1, word, at, parted, upper, "A" <= raw[0] <= "Z", foreign)


def _parting(between: list[str], made: list[Token], word: str) -> int:
    """The strongest sign between two words. A dot inside "n.s.r." or "2.0" parts nothing."""
    if not made:
        return STOP
    if not between:
        return JOINED
    signs = "".join(between)
    if signs == "." and (len(word) == 1 or len(made[-1].text) == 1 or word.isdigit()):
        return JOINED
    if any(sign in _STOPS for sign in signs):
        return STOP
    if any(sign in _PAUSES for sign in signs) or " -" in signs or "- " in signs or "--" in signs:
        return PAUSE
    return SPACED if " " in signs or "\t" in signs else JOINED


def _mark_asked(made: list[Token], between: list[str]) -> list[Token]:
    if made and "?" in between:
        made[-1] = replace(made[-1], asked=True)
    return made
