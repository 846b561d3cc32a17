"""Names: exact ones of the edition first, then near ones, then words plainly meant as a name.

A name nobody knows is still a cue, so that the search can learn that it is not listed.
"""

from collections.abc import Sequence, Set
from dataclasses import replace

from catalog.resolve.lexicon import Lexicon
from catalog.resolve.mention import Mention
from catalog.resolve.needs import Scan
from catalog.resolve.phrases import PhraseTable
from catalog.resolve.tokens import PAUSE
from catalog.resolve.words import LookUps, Word, common_words, exactly, lists

_LONGEST_GRAM = 5
_SHORTEST_NAME = 3
_ARTICLES = frozenset(("a", "an"))
_BE = frozenset(("its", "it", "is", "thats", "was", "that", "this"))


def exact_names(scan: Scan, lexicon: Lexicon, table: PhraseTable, taken: Sequence[bool]) -> list[Mention]:
    """Names spelt just so, longest first.

    What the phrase table reads is left to it: "hybrid", and the "EV" of "Tavrin EV" where "Tavrin"
    alone is a name too.
    """
    words = scan.words
    made: list[Mention] = []
    at = 0
    while at < len(words):
        end = _exact_end(scan, at, lexicon, table, taken)
        if end is None:
            at += 1
            continue
        made.append(_name(words, at, end))
        at = end
    beside = {mention.end for mention in made} | {mention.start - 1 for mention in made}
    return [mention for mention in made if _supported(words, mention, beside)]


def _exact_end(scan: Scan, at: int, lexicon: Lexicon, table: PhraseTable, taken: Sequence[bool]) -> int | None:
    """Where the longest listed name that begins at a word ends."""
    words = scan.words
    found: int | None = None
    joined = ""
    for end in range(at, min(len(words), at + _LONGEST_GRAM)):
        if taken[end] or (end > at and words[end].token.parted >= PAUSE):
            break
        joined += _digits(words[end].token.text) if end > at else words[end].token.text
        if not lexicon.begins(joined):
            break
        if not lexicon.exact(joined) or all(_is_the_tables(word, table) for word in words[at : end + 1]):
            continue
        if found is None or not _is_saying(scan, found, end + 1):
            found = end + 1
    return found


_SMALL = frozenset(("a", "an", "the", "it", "is", "on", "in", "to", "of", "and", "or", "no"))


def _is_the_tables(word: Word, table: PhraseTable) -> bool:
    return word.key in _SMALL or (word.key in table.spelling.alone and not word.corrected)


def _is_saying(scan: Scan, start: int, end: int) -> bool:
    """Whether these words are a saying about the vehicle by themselves."""
    return any(
        stop == end and any(not meaning.attribute.startswith("@") for meaning in meanings)
        for stop, meanings in scan.ends[start]
    )


def _heard(words: Sequence[Word], start: int, end: int) -> str:
    rest = (_digits(word.token.text) for word in words[start + 1 : end])
    return " ".join((words[start].token.text, *rest))


def _digits(text: str) -> str:
    """A number within a name as digits: "Quill four" is written "Quill 4"."""
    number: int | None = lists()["number_words"].get(text)
    return text if number is None else str(number)


def _name(words: Sequence[Word], start: int, end: int) -> Mention:
    return Mention("name", (_heard(words, start, end),), start, end)


def _supported(words: Sequence[Word], mention: Mention, beside: Set[int]) -> bool:
    """A name that is also a common word or a bare number needs a capital or another name beside it."""
    if mention.end - mention.start > 1:
        return True
    word = words[mention.start]
    plain = word.key in common_words() or word.token.text in common_words()
    if not (plain or word.token.number is not None or len(word.token.text) == 1):
        return True
    if mention.start in beside:
        return True
    inside = mention.start > 0 and word.token.parted < PAUSE
    return plain and word.token.capital and not word.token.upper and inside


def near_names(scan: Scan, lexicon: Lexicon, taken: Sequence[bool], looks: LookUps) -> list[Mention]:
    """Unread words within reach of a name, alone or two run together; then names meant but not listed."""
    words = scan.words
    made: list[Mention] = []
    at = 0
    while at < len(words):
        if taken[at] or not _may_be_name(words[at]):
            at += 1
            continue
        text = words[at].token.text
        single = lexicon.near(text) if looks.allows(text) else ()
        pair = _pair(words, at, lexicon, taken) if looks.allows(text) else 0
        if pair and (not single or pair < _rank(single[0].level)):
            made.append(_name(words, at, at + 2))
            at += 2
            continue
        if single or _is_meant(scan, at, taken):
            made.append(_name(words, at, at + 1))
        at += 1
    return made


def _rank(level: str) -> int:
    return ("exact", "sound", "osa1", "osa2", "other").index(level) + 1


def _pair(words: Sequence[Word], at: int, lexicon: Lexicon, taken: Sequence[bool]) -> int:
    """1 to 3 (exact, sound, one edit) if the word and its neighbour together are a name, else 0."""
    if at + 1 >= len(words) or taken[at + 1] or words[at + 1].token.parted >= PAUSE or words[at + 1].token.foreign:
        return 0
    found = lexicon.near(_heard(words, at, at + 2))
    return _rank(found[0].level) if found and found[0].level != "osa2" else 0


def _may_be_name(word: Word) -> bool:
    text = word.token.text
    plain = word.key in common_words() or text in common_words()
    return not plain and not word.token.foreign and len(text) >= _SHORTEST_NAME and not text.isdigit()


def _is_meant(scan: Scan, at: int, taken: Sequence[bool]) -> bool:
    """ "it's a Zorvex", "a Zorvex pickup", "2021 Zorvex hatchback": an unknown word where names stand."""
    words = scan.words
    if not any(char.isalpha() for char in words[at].token.text) or words[at].token.text[0].isdigit():
        return False
    before = scan.before(at)
    if before in _ARTICLES and at >= 2 and words[at - 2].token.text in _BE and words[at - 1].token.parted < PAUSE:
        return True
    leads = before in _ARTICLES or (at > 0 and bool(before) and taken[at - 1])
    return leads and scan.is_vehicle(scan.past_looks(at + 1))


def called_names(scan: Scan, introductions: Sequence[Mention], taken: Sequence[bool]) -> list[Mention]:
    """The word after "badge says", "called": a name whatever it is, unless it was read as something else."""
    made: list[Mention] = []
    for said in introductions:
        at = said.end
        while at < len(scan.words) and scan.key(at) in ("a", "an", "the", "is", "it", "like", "of", "something"):
            at += 1
        if at >= len(scan.words) or (scan.words[at].token.parted >= PAUSE and at > said.end) or taken[at]:
            continue
        word = scan.words[at]
        plain = word.key in common_words() or word.token.text in common_words()
        if word.token.foreign or word.token.text in exactly("function") or (plain and said.values == ("plain",)):
            continue
        made.append(replace(_name(scan.words, at, at + 1), doubt=said.doubt))
    return made
