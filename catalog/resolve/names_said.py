"""Names: exact ones of the edition first, then near ones, then words plainly meant as a name.

A name nobody knows is still a cue, so that the search can learn that it is not listed.
"""

from collections.abc import Sequence, Set
from dataclasses import replace

from catalog.resolve.lexicon import Lexicon
from catalog.resolve.mention import Mention
from catalog.resolve.needs import Scan
from catalog.resolve.phrases import PhraseTable
from catalog.resolve.spelled import PHONETIC
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
        made += _apart(words, at, end, lexicon, table)
        at = end
    beside = {mention.end for mention in made} | {mention.start - 1 for mention in made}
    return [mention for mention in made if _supported(words, mention, beside, table)]


def _apart(words: Sequence[Word], start: int, end: int, lexicon: Lexicon, table: PhraseTable) -> list[Mention]:
    """A listed name that is made of listed names is these: "Tavrin", "X". Words of the table are left to it."""
    pieces = [_piece_of(word, at == start) for at, word in enumerate(words[start:end], start)]
    listed = [bool(lexicon.exact(piece)) for piece in pieces]
    own = [_is_the_tables(word, table) for word in words[start:end]]
    if end - start == 1 or not all(one or other for one, other in zip(listed, own, strict=True)) or all(own):
        return [_name(words, start, end)]
    return [_name(words, at, at + 1) for at in range(start, end) if listed[at - start] and not own[at - start]]


def _piece_of(word: Word, first: bool) -> str:
    return word.token.text if first else _digits(word.token.text)


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


def _supported(words: Sequence[Word], mention: Mention, beside: Set[int], table: PhraseTable) -> bool:
    """A name that is also a common word or a bare number needs a capital or another name beside it."""
    if mention.end - mention.start > 1:
        return True
    word = words[mention.start]
    plain = word.key in common_words() or word.token.text in common_words() or word.key in table.spelling.known
    if not (plain or word.token.number is not None or len(word.token.text) == 1):
        return True
    if mention.start in beside:
        return word.token.text not in lists()["number_words"] or word.token.capital
    inside = mention.start > 0 and word.token.parted < PAUSE
    return plain and word.token.capital and not word.token.upper and inside


def near_names(
    scan: Scan, lexicon: Lexicon, taken: Sequence[bool], looks: LookUps, table: PhraseTable
) -> list[Mention]:
    """Unread words within reach of a name, alone or two run together; then names meant but not listed."""
    words = scan.words
    made: list[Mention] = []
    at = 0
    while at < len(words):
        if taken[at] or not _may_be_name(words[at], table):
            at += 1
            continue
        text = words[at].token.text
        single = lexicon.near(text) if looks.allows(text) else ()
        pair = _pair(words, at, lexicon, taken) if looks.allows(text) else 0
        if pair and single and lexicon.exact(words[at + 1].token.text):
            pair = 0  # two names beside each other
        if pair and (not single or pair < _rank(single[0].level)):
            made.append(_name(words, at, at + 2))
            at += 2
            continue
        if single or _is_meant(scan, at, taken):
            made.append(_without_s(words, at, lexicon))
        at += 1
    return made


def _without_s(words: Sequence[Word], at: int, lexicon: Lexicon) -> Mention:
    """ "Brantock's on the tailgate": the name is Brantock."""
    text = words[at].token.text
    if text.endswith("s") and lexicon.exact(text[:-1]) and not lexicon.exact(text):
        return Mention("name", (text[:-1],), at, at + 1)
    return _name(words, at, at + 1)


def _rank(level: str) -> int:
    return ("exact", "sound", "osa1", "osa2", "other").index(level) + 1


def _pair(words: Sequence[Word], at: int, lexicon: Lexicon, taken: Sequence[bool]) -> int:
    """1 to 3 (exact, sound, one edit) if the word and its neighbour together are a name, else 0."""
    if at + 1 >= len(words) or taken[at + 1] or words[at + 1].token.parted >= PAUSE or words[at + 1].token.foreign:
        return 0
    found = lexicon.near(_heard(words, at, at + 2))
    return _rank(found[0].level) if found and found[0].level != "osa2" else 0


def _may_be_name(word: Word, table: PhraseTable) -> bool:
    text = word.token.text
    plain = word.key in common_words() or text in common_words() or word.key in table.spelling.known
    return not plain and not word.token.foreign and len(text) >= _SHORTEST_NAME and not text.isdigit()


def _is_meant(scan: Scan, at: int, taken: Sequence[bool]) -> bool:
    """ "it's a Zorvex", "a Zorvex pickup", "2021 Zorvex hatchback": an unknown word where names stand."""
    words = scan.words
    text = words[at].token.text
    if not any(char.isalpha() for char in text) or text[0].isdigit() or text in PHONETIC:
        return False
    if scan.cased and not words[at].token.capital:
        return False  # who writes names with capitals wrote none here
    before = scan.before(at)
    if before in _ARTICLES and at >= 2 and words[at - 2].token.text in _BE and words[at - 1].token.parted < PAUSE:
        return True
    leads = before in _ARTICLES or (at > 0 and bool(before) and taken[at - 1])
    return leads and scan.is_vehicle(scan.past_looks(at + 1))


def badge_texts(scan: Scan, lexicon: Lexicon, taken: Sequence[bool], names: Sequence[Mention]) -> list[Mention]:
    """Listed badges too short or too plain to stand alone: "E" beside a name, "R on the right"."""
    beside = {m.end for m in names if m.attribute == "name"} | {m.start - 1 for m in names if m.attribute == "name"}
    made = []
    for at, word in enumerate(scan.words):
        text = word.token.text
        if taken[at] or not lexicon.exact(text) or text in ("a", "i"):
            continue
        if text in lists()["number_words"] and not word.token.capital:
            continue
        next_to = at in beside and (at == 0 or word.token.parted < PAUSE or at + 1 in beside)
        written = word.token.upper and scan.cased and (scan.next(at + 1) in _WHERE or scan.before(at) in _SAYS)
        if next_to or written:
            made.append(_name(scan.words, at, at + 1))
    return made


_WHERE = frozenset(
    ("on", "at", "right", "left", "both", "either", "across", "over", "along", "badge", "in", "low", "up")
)
_SAYS = frozenset(("says", "reads", "badge", "letter", "letters", "an", "a", "and", "the", "also", "number", "with"))


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
