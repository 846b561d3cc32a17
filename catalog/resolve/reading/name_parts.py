"""Parts of a name: "starts with B", "ends in O", "B something", "letters E L L".

"b*" begins with B, "*o" ends in O, "*ell*" has it inside. The letters may be spelled out ("bravo"), named
("a vee") or written.
"""

from collections.abc import Sequence

from catalog.resolve.lexicon import Lexicon
from catalog.resolve.reading.mention import Mention
from catalog.resolve.reading.scan import Scan
from catalog.resolve.reading.spelled import PHONETIC
from catalog.resolve.reading.words import common_words, exactly

_BEGIN = frozenset(("goes", "opens", "starts", "start", "starting", "started", "begins", "begin", "beginning", "began"))
_END = frozenset(("ends", "end", "ending", "ended", "finishes", "finishing"))
_WITH = frozenset(("with", "in", "on", "by"))
_ORDER = {"first": "begin", "last": "end"}
_LETTER = frozenset(("letter", "letters"))
_BEFORE = frozenset(("a", "an", "the", "letter", "letters", "capital", "big", "is", "are", "was", "like", "with", "of"))
_SOMETHING = frozenset(("something", "summat", "somethin", "smth", "whatever"))
_INSIDE = frozenset(("has", "got", "with", "contains", "have", "containing"))
# Whose letters these are instead.
_NOT_NAMES = frozenset(
    ("reg", "rego", "registration", "plate", "vin", "chassis", "number", "postcode", "phone", "index")
)
_CALLED = {
    "ay": "a", "bee": "b", "cee": "c", "dee": "d", "ee": "e", "eff": "f", "ef": "f", "gee": "g", "aitch": "h",
    "haitch": "h", "jay": "j", "kay": "k", "ell": "l", "el": "l", "em": "m", "en": "n", "oh": "o", "pee": "p",
    "cue": "q", "queue": "q", "ess": "s", "tee": "t", "vee": "v", "ex": "x", "wye": "y", "zed": "z", "zee": "z",
}  # fmt: skip
_LONGEST_RUN, _LONGEST_PART, _LONGEST_CUT = 6, 6, 8
Found = tuple[str, int]


def name_parts(scan: Scan, lexicon: Lexicon, taken: Sequence[bool]) -> list[Mention]:
    """Every part of a name that is said to be one, in order."""
    made: list[Mention] = []
    at = 0
    cut = any(sign in scan.text for sign in ("-", "..", "…"))
    while at < len(scan.words):
        found = (
            None
            if taken[at] or lexicon.exact(scan.words[at].token.text)
            else _part_at(scan, at) or (_cut_off(scan, at, lexicon) if cut else None)
        )
        if found is None:
            at += 1
            continue
        made.append(found)
        at = found.end
    return made


def _cut_off(scan: Scan, at: int, lexicon: Lexicon) -> Mention | None:
    """ "Feld-", "-lory", "Tolmi...", "Lin... Lindo": what is written as a part of a word."""
    text = scan.words[at].token.text
    if not (2 <= len(text) <= _LONGEST_CUT and text.isascii() and text.isalpha()) or lexicon.exact(text):
        return None
    before, after = scan.signs(at)
    joined = at + 1 < len(scan.words) and scan.words[at + 1].token.parted == 0
    plain = text in common_words() or text in exactly("function")
    if before == "-" and not plain and (at == 0 or scan.words[at].token.parted > 0):
        return Mention("name", (f"*{text}",), at, at + 1)
    if plain or not scan.words[at].token.capital:
        return None
    if after[:1] == "-" and not joined:
        return Mention("name", (f"{text}*",), at, at + 1)
    if after == ".." or after[:1] == "…":
        return None if _said_again(scan, at, text) else Mention("name", (f"{text}*",), at, at + 1)
    broken = at > 0 and scan.signs(at - 1)[1] in ("..", "…") and text.startswith(scan.words[at - 1].token.text[:2])
    return Mention("name", (f"{text}*",), at, at + 1) if broken and scan.next(at + 1) not in _SOMETHING else None


def _said_again(scan: Scan, at: int, text: str) -> bool:
    """ "Lin... Lindo": the second try counts."""
    return at + 1 < len(scan.words) and scan.words[at + 1].token.text.startswith(text[:2])


def _part_at(scan: Scan, at: int) -> Mention | None:
    text = scan.words[at].token.text
    if text in _BEGIN or text in _END:
        start = at + 1 + (scan.next(at + 1) in _WITH)
        return _made(scan, at, start, "begin" if text in _BEGIN else "end")
    if text in _ORDER and scan.next(at + 1) in _LETTER:
        return _made(scan, at, at + 2, _ORDER[text])
    if text in _LETTER:
        return _made(scan, at, at + 1, "inside")
    if text in _INSIDE:
        found = _made(scan, at, at + 1, "inside")
        return found if found and _in_it(scan, found.end) else None
    return _something(scan, at)


def _in_it(scan: Scan, end: int) -> bool:
    return scan.next(end) == "somewhere" or (scan.next(end) == "in" and scan.next(end + 1) in ("it", "the", "there"))


def _made(scan: Scan, start: int, at: int, where: str) -> Mention | None:
    if any(word.token.text in _NOT_NAMES for word in scan.words[max(0, start - 4) : start]):
        return None
    found = _letters(scan, at, spelt_out=scan.words[at - 1].token.text in _WITH and where != "inside")
    if found is None:
        return None
    values, end = {_shape(found[0], where)}, found[1]
    while scan.next(end) == "or":
        other = _letters(scan, end + 1, spelt_out=False)
        if other is None:
            break
        values.add(_shape(other[0], where))
        end = other[1]
    return Mention("name", tuple(sorted(values)), start, end)


def _shape(letters: str, where: str) -> str:
    return {"begin": f"{letters}*", "end": f"*{letters}"}.get(where, f"*{letters}*")


def _letters(scan: Scan, at: int, *, spelt_out: bool) -> Found | None:
    """The letters said at a word, past "a", "the letters": "V", "vee", "V E L", "VEL"."""
    words = scan.words
    while scan.next(at) in _BEFORE and (_letter(scan, at + 1) or _piece(scan, at + 1) or scan.next(at + 1) in _BEFORE):
        at += 1
    run, end = "", at
    while end < len(words) and end - at < _LONGEST_RUN and scan.next(end):
        letter = _letter(scan, end)
        if not letter or (letter in ("a", "i") and not _spelt_on(scan, end)):
            break
        run += letter
        end += 1
    if not run and (spelt_out or (at < len(words) and words[at].token.capital)):
        run = _piece(scan, at)
        end = at + 1
    # "ends in a T junction" names no letter: what follows must leave the letter alone.
    after = scan.next(end)
    alone = not after or after in exactly("function") or after in _SOMETHING or after not in common_words()
    return (run, end) if run and alone else None


def _spelt_on(scan: Scan, at: int) -> bool:
    """ "I think" and "a badge" spell nothing: after these letters the clause ends or another letter comes."""
    return not scan.next(at + 1) or bool(_letter(scan, at + 1)) or scan.next(at + 1) in ("and", "or", *_SOMETHING)


def _letter(scan: Scan, at: int) -> str:
    text = scan.next(at)
    if len(text) == 1 and "a" <= text <= "z":
        return text
    return PHONETIC.get(text, "") or _CALLED.get(text, "")


def _piece(scan: Scan, at: int) -> str:
    """Two to five letters that are no word: "VEL"."""
    return _as_piece(scan.next(at))


def _as_piece(text: str) -> str:
    fits = 2 <= len(text) <= _LONGEST_PART and text.isascii() and text.isalpha()
    return text if fits and text not in common_words() and text not in exactly("function") else ""


def _something(scan: Scan, at: int) -> Mention | None:
    """ "B something", "Vel-something", "something rin", "V something N" (its second part comes next)."""
    words = scan.words
    text = words[at].token.text
    if text in _SOMETHING and scan.next(at + 1):
        joined = words[at + 1].token.parted == 0
        letters = scan.next(at + 1) if len(scan.next(at + 1)) == 1 and words[at + 1].token.capital else ""
        letters = letters or (_piece(scan, at + 1) if joined else "")
        return Mention("name", (f"*{letters}",), at, at + 2) if letters else None
    if scan.next(at + 1) not in _SOMETHING:
        return None
    if len(text) == 1 and ("a" <= text <= "z") and (text not in ("a", "i") or words[at].token.capital):
        letters = text
    else:
        letters = _as_piece(text)
    if not letters or scan.next(at + 2) == "like":
        return None
    # The "something" is left for a second part that follows it.
    two = len(scan.next(at + 2)) == 1 and words[at + 2].token.capital
    return Mention("name", (f"{letters}*",), at, at + 1 if two else at + 2)
