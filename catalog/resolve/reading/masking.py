"""What is nobody's business: telephone numbers, registration plates, e-mail, people's names, addresses.

Found by pattern only, before anything else is read but a VIN; never a cue, never shown as unread. Word
lists stand in data/masking.json.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from catalog.resolve.cue import Span
from catalog.resolve.lexicon import Lexicon
from catalog.resolve.reading.addresses import Addresses
from catalog.resolve.reading.mention import Range
from catalog.resolve.reading.people_named import named
from catalog.resolve.reading.people_said import People, openers
from catalog.resolve.reading.phrases import PhraseTable
from catalog.resolve.reading.spelled import spelt
from catalog.resolve.reading.tokens import PAUSE, STOP
from catalog.resolve.reading.words import Word, masks

_FEWEST_DIGITS, _MOST_DIGITS, _SURELY = 7, 15, 10
_SPOKEN = frozenset(("oh", "zero", "double", "nought"))
_YEARS = ("19", "20")


def masked(text: str, words: Sequence[Word], taken: list[bool], lexicon: Lexicon, table: PhraseTable) -> list[Span]:
    """Spans to mask; the words in them are marked as taken."""
    made: list[Range] = []
    said = {word.token.text for word in words}
    look = _Look(
        text,
        words,
        People(words, lexicon, table),
        Addresses(words, lexicon, table),
        "@" in text or "dot" in said,
        bool(said & masks()["plate"]),
    )
    end = 0
    for at in range(len(words)):
        found = None if taken[at] or at < end else _at(look, at)
        if found is None or any(taken[found[0] : found[1]]):
            continue
        start, end = _whole_words(words, found, taken)
        taken[start:end] = [True] * (end - start)
        made.append((start, end))
    return [Span(_from(text, words[start].token.start), words[end - 1].token.end) for start, end in made]


@dataclass(frozen=True, slots=True)
class _Look:
    """A text that is looked through. mail, plates: whether it may hold any."""

    text: str
    words: Sequence[Word]
    people: People
    addresses: Addresses
    mail: bool
    plates: bool


def _whole_words(words: Sequence[Word], found: Range, taken: Sequence[bool]) -> Range:
    """Words that were cut in pieces are masked whole."""
    start, end = found
    while start > 0 and _same_word(words, start) and not taken[start - 1]:
        start -= 1
    while end < len(words) and _same_word(words, end) and not taken[end]:
        end += 1
    return start, end


def _same_word(words: Sequence[Word], at: int) -> bool:
    """Whether a word is a piece of the one before it; "&" and "+" are words of their own."""
    before, this = words[at - 1].token, words[at].token
    sign = "and" in (before.text, this.text)
    return before.end == this.start and not sign


def _from(text: str, start: int) -> int:
    """The plus or bracket before a number belongs to it."""
    while start > 0 and text[start - 1] in "+(":
        start -= 1
    return start


def _at(look: _Look, at: int) -> Range | None:
    """What begins at a word, if anything."""
    words = look.words
    word = words[at].token.text
    if "0" <= word[0] <= "9":
        found = _telephone(look.text, words, at) or look.addresses.at(at)
        return found or (_plate(words, at, look.people) if look.plates else None)
    found = _mail(look.text, words, at) if look.mail else None
    if found is None and (look.plates or "0" <= word[2:3] <= "9"):
        found = _plate(words, at, look.people)
    if found is None and word in _SPOKEN:
        found = _spoken_number(words, at)
    found = found or look.addresses.at(at)
    opens = word in openers() or words[at].key in openers() or words[at].token.capital
    return found or (look.people.at(at) if opens else None) or named(look.people, at)


def _telephone(text: str, words: Sequence[Word], at: int) -> Range | None:
    """Seven to fifteen digits in groups that look like a number to ring."""
    if at > 1 and _is_digits(words[at - 1]) and _is_digits(words[at - 2]) and words[at].token.parted < PAUSE:
        return None  # in the middle of a longer run
    digits = ""
    end = at
    while end < len(words) and len(digits) <= _MOST_DIGITS and _is_digits(words[end]):
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
    rings = bool(before & masks()["telephone"])
    shape = [len(group) for group in groups] in ([3, 4], [3, 3, 4], [1, 3, 3, 4], [4, 3, 3], [4, 4])
    if not (digits[0] == "0" or plus or rings or shape or len(digits) >= _SURELY):
        return None
    return at, end


def _is_digits(word: Word) -> bool:
    return word.token.text.isascii() and word.token.text.isdigit()


def _near(text: str, words: Sequence[Word], at: int) -> bool:
    """Brackets and a hyphen inside a number part nothing: "(020) 7946-0123"."""
    between = text[words[at - 1].token.end : words[at].token.start]
    return all(char in " -()" for char in between)


def _spoken_number(words: Sequence[Word], at: int) -> Range | None:
    """ "oh seven seven double oh nine..." """
    run = spelt(words, at, groups=False)
    long = run is not None and run.spoken and run.digits == len(run.text) >= _FEWEST_DIGITS
    return (at, run.end) if run is not None and long else None


def _plate(words: Sequence[Word], at: int, people: People) -> Range | None:
    """ "AB21 CDE" by its shape; other plates, and spelled ones, after "reg" or "plate"."""
    text = words[at].token.text
    nearby = at + 1 < len(words) and words[at + 1].token.parted < PAUSE
    after = words[at + 1].token.text if nearby else ""
    if _shape(text) == "aa99aaa" or (_shape(text) == "aa99" and _shape(after) == "aaa"):
        return at, at + 1 + (len(text) == 4)
    if not _after_plate(words, at):
        return _other_plate(words, at)
    run = spelt(words, at, groups=True)
    if run is None or not 4 <= len(run.text) <= 9 or not 1 <= run.digits < len(run.text):
        return None
    single = run.end == at + 1 and not run.spoken
    return None if single and (_is_age(text) or words[at].key in people.known_words) else (at, run.end)


def _after_plate(words: Sequence[Word], at: int) -> bool:
    """ "reg", "plate is", "registration number": said just before; a "21 plate" is an age."""
    before = at - 1
    while before > 0 and at - before < 4 and words[before].token.text in masks()["before_plate"]:
        before -= 1
    if before < 0 or words[before].token.text not in masks()["plate"]:
        return False
    if any(_stops(words, place) for place in range(before + 1, at + 1)):
        return False
    return before == 0 or not words[before - 1].token.text.isdigit()


def _other_plate(words: Sequence[Word], at: int) -> Range | None:
    """ "reg 4TK or 4YK 902": the second of two readings."""
    if at < 2 or words[at - 1].token.text != "or" or not _after_plate(words, at - 2):
        return None
    run = spelt(words, at, groups=True)
    return (at, run.end) if run is not None and 4 <= len(run.text) <= 9 and 1 <= run.digits < len(run.text) else None


def _stops(words: Sequence[Word], at: int) -> bool:
    """A sentence ends before a word; a question ("what's the plate?") goes on into its answer."""
    return words[at].token.parted >= STOP and not words[at - 1].token.asked


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
    while end + 1 < len(words) and words[end].token.text == "dot" and words[end + 1].token.text in masks()["mail"]:
        end += 2
    return (at, end) if words[end - 1].token.text in masks()["mail"] else None
