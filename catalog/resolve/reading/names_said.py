"""Names: exact ones of the edition first, then near ones, then words plainly meant as a name.

A name nobody knows is still a cue, so that the search can learn that it is not listed.
"""

from collections.abc import Sequence, Set
from dataclasses import replace

from catalog.resolve.lexicon import Lexicon
from catalog.resolve.reading.mention import Mention
from catalog.resolve.reading.phrases import PhraseTable
from catalog.resolve.reading.scan import Scan
from catalog.resolve.reading.spelled import DIGITS, PHONETIC
from catalog.resolve.reading.tokens import PAUSE
from catalog.resolve.reading.words import LookUps, Word, common_words, exactly, lists

_LONGEST_GRAM = 5
_SHORTEST_NAME = 3
# A name of these kinds is one cue, however many words it has.
_WHOLE = frozenset(("make", "model", "variant"))
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
        made += _cut(words, at, end, lexicon, table)
        at = end
    beside = {mention.end for mention in made if _near(words, mention.end)}
    beside |= {mention.start - 1 for mention in made if _near(words, mention.start)}
    return [mention for mention in made if _supported(scan, mention, beside)]


def _near(words: Sequence[Word], at: int) -> bool:
    """Whether nothing parts a word from the one before it."""
    return at < len(words) and words[at].token.parted < PAUSE


def _cut(words: Sequence[Word], at: int, end: int, lexicon: Lexicon, table: PhraseTable) -> list[Mention]:
    """ "Velorn EV Plus" known as a badge is the model and the rest; a model of two words stays whole.

    What the phrase table reads of the rest is left to it.
    """
    if _is_whole(_joined(words, at, end), lexicon):
        return [_name(words, at, end)]
    for middle in range(at + 1, end):
        if _is_whole(_joined(words, at, middle), lexicon):
            break
    else:
        return [_name(words, at, end)]
    made = [_name(words, at, middle)]
    if end - middle > 1 and lexicon.exact(_joined(words, middle, end)):
        return [*made, _name(words, middle, end)]
    return made + [
        _name(words, rest, rest + 1) for rest in range(middle, end) if not _is_the_tables(words[rest], table)
    ]


def _joined(words: Sequence[Word], start: int, end: int) -> str:
    return _heard(words, start, end).replace(" ", "")


def _is_whole(joined: str, lexicon: Lexicon) -> bool:
    return any(name.kind in _WHOLE for name in lexicon.exact(joined))


def _exact_end(scan: Scan, at: int, lexicon: Lexicon, table: PhraseTable, taken: Sequence[bool]) -> int | None:
    """Where the longest listed name that begins at a word ends."""
    words = scan.words
    found: int | None = None
    joined = ""
    for end in range(at, min(len(words), at + _LONGEST_GRAM)):
        if end > at and (scan.signs(end - 1)[1] == ".." or words[end].token.clipped):
            break
        if taken[end] or (end > at and words[end].token.parted >= PAUSE):
            break
        if end > at and words[end].token.parted == 0 and words[end].token.number is not None and _is_number(words, at):
            break  # "4.8 metres"
        if end > at and words[end].token.text in _SMALL and len(words[end].token.text) > 1:
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


# Codes of a kind of drive that are a badge as well.
BADGE_TOO = frozenset(("h2", "hev", "phev", "elec", "fc", "v6", "v8"))


def _is_the_tables(word: Word, table: PhraseTable) -> bool:
    if word.token.capital and word.token.text in BADGE_TOO:
        return False
    return word.key in _SMALL or (word.key in table.spelling.alone and not word.corrected)


def _is_number(words: Sequence[Word], at: int) -> bool:
    return words[at].token.number is not None


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


def _supported(scan: Scan, mention: Mention, beside: Set[int]) -> bool:
    """A name that is also a common word or a bare number needs a capital or another name beside it."""
    if mention.end - mention.start > 1:
        return True
    words, at = scan.words, mention.start
    word = words[at]
    if word.token.text in exactly("function") and len(word.token.text) > 1:
        return False
    plain = word.key in common_words() or word.token.text in common_words()
    if not (plain or word.token.number is not None or len(word.token.text) == 1):
        return True
    if at in beside:
        return not (plain and _in_saying(scan, at))
    inside = at > 0 and word.token.parted < PAUSE
    return plain and word.token.capital and not word.token.upper and inside


def _in_saying(scan: Scan, at: int) -> bool:
    """Whether a word belongs to a longer saying about the vehicle: "people carrier"."""
    return any(
        stop > at and stop - start > 1 and any(not meaning.attribute.startswith("@") for meaning in meanings)
        for start in range(max(0, at - 3), at + 1)
        for stop, meanings in scan.ends[start]
    )


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
    short_form = word.token.end - word.token.start > len(text) and not text.endswith("s")  # "he'd"
    return not (plain or short_form or word.token.foreign or text.isdigit()) and len(text) >= _SHORTEST_NAME


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
    named = [m for m in names if m.attribute == "name"]
    beside = {m.end for m in named} | {m.start - 1 for m in named}
    made = []
    for at, word in enumerate(scan.words):
        text = word.token.text
        if taken[at] or text in _NEVER or not lexicon.exact(text) or _is_spelt(scan, at):
            continue
        near = (at in beside and word.token.parted < PAUSE) or (at + 1 in beside and bool(scan.next(at + 1)))
        if text.isdigit():
            placed = scan.before(at) in ("a", "an", "says") and scan.next(at + 1) in ("on", "either", "badge")
        else:
            placed = word.token.upper and scan.cased and (scan.next(at + 1) in _WHERE or scan.before(at) in _SAYS)
        if near or (named and placed):
            made.append(_name(scan.words, at, at + 1))
    return made


_KINDS = frozenset(("electric", "hybrid", "ev", "hydrogen"))


def kind_badges(scan: Scan, taken: Sequence[bool]) -> list[Mention]:
    """Kinds of drive in capitals are badges, whatever follows: "ELECTRIC on the left", "PLUG-IN by the light"."""
    made: list[Mention] = []
    for at, word in enumerate(scan.words) if scan.cased else ():
        if taken[at] or not word.token.upper:
            continue
        if word.key == "plug" and scan.next(at + 1) == "in" and scan.words[at + 1].token.upper:
            made.append(Mention("propulsion", ("battery", "plug_in_hybrid"), at, at + 2, weak=True))
        elif word.key in _KINDS:
            said = [meaning for end, meanings in scan.ends[at] if end == at + 1 for meaning in meanings]
            made += [Mention(m.attribute, m.values, at, at + 1, m.doubt, weak=m.weak) for m in said[:1]]
    return made


_NEVER = frozenset(("a", "i", "one"))


def _is_spelt(scan: Scan, at: int) -> bool:
    """One of several letters or digits in a row: gears, a plate, a call sign."""
    if len(scan.words[at].token.text) > 2:
        return False
    around = (scan.words[place].token.text for place in (at - 1, at + 1) if 0 <= place < len(scan.words))
    return any((len(text) == 1 and text != "a") or text in PHONETIC or text in DIGITS for text in around)


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
        if word.token.end - word.token.start > len(word.token.text) and not word.token.capital:
            continue  # "he says he'd..."
        plain = word.key in common_words() or word.token.text in common_words()
        if word.token.foreign or word.token.text in exactly("function") or (plain and said.values == ("plain",)):
            continue
        made.append(replace(_name(scan.words, at, at + 1), doubt=said.doubt))
    return made
