"""Model years, and registration plates by age mark.

A British age mark YY is the year 20YY when below 51, otherwise YY - 50 to the February after;
an Irish mark ends in 1 or 2 for the half of the year. (Common practice, no source.)
"""

from collections.abc import Sequence

from catalog.resolve.cue import Doubt
from catalog.resolve.reading.counts_said import small_number
from catalog.resolve.reading.mention import Mention
from catalog.resolve.reading.tokens import PAUSE
from catalog.resolve.reading.words import Word, exactly, keys, lists

FIRST, LAST = 1950, 2049
# Bounds written for an open range ("2019 on", "before 2012").
OPEN_FIRST, OPEN_LAST = 1990, 2049
_FAR = 6
_LEADS = frozenset(("is", "a", "an", "on", "was", "the", "says", "its", "of"))
_DECADE_PART = {"early": (0, 3), "mid": (4, 6), "late": (7, 9)}
_DECADE_WORD = {"eighty": 1980, "ninety": 1990, "nineties": 1990, "eighties": 1980, "noughty": 2000, "twenty": 2020}


def read_years(words: Sequence[Word]) -> list[Mention]:
    """Every year, range of years or age mark, in order."""
    made: list[Mention] = []
    at = 0
    while at < len(words):
        if not _may_begin(words[at].token.text):
            at += 1
            continue
        found = _range(words, at) or _marks(words, at) or _decade(words, at) or _single(words, at)
        if found is None:
            at += 1
        else:
            made.append(found)
            at = found.end
    return made


def _may_begin(text: str) -> bool:
    if text == "decade" or text == "twenties":
        return True
    return "0" <= text[0] <= "9" or "0" <= text[-1] <= "9" or text in lists()["number_words"] or text.endswith("ties")


def _key(words: Sequence[Word], at: int) -> str:
    return words[at].key if 0 <= at < len(words) else ""


def _next(words: Sequence[Word], at: int) -> str:
    return words[at].key if 0 <= at < len(words) and words[at].token.parted < PAUSE else ""


def _small(words: Sequence[Word], at: int) -> int:
    found = small_number(words[at]) if at < len(words) else None
    return -1 if found is None else found


def _year_at(words: Sequence[Word], at: int) -> tuple[int, int] | None:
    """(year, end) of a whole year at a word: 2019, "twenty nineteen", "two thousand and nineteen"."""
    if at >= len(words):
        return None
    short = words[at].token.text
    if words[at].token.clipped and len(short) == 2 and short.isdigit():
        mark = int(short)
        return (2000 + mark, at + 1) if mark <= LAST - 2000 else (1900 + mark, at + 1)
    if short.startswith("my") and short[2:].isdigit() and len(short) in (4, 6):
        year = int(short[2:]) if len(short) == 6 else 2000 + int(short[2:])
        return (year, at + 1) if FIRST <= year <= LAST else None
    number = words[at].token.number
    if number is not None and len(words[at].token.text) == 4:
        return (number, at + 1) if FIRST <= number <= LAST else None
    text = words[at].token.text
    if text in ("twenty", "nineteen") and at + 1 < len(words):
        rest, end = _two_digits(words, at + 1) if _next(words, at + 1) else (None, at)
        if end == at + 3 and _next(words, end) in ("by", "x") and _next(words, end + 1) in ("four", "4") and rest:
            rest, end = rest - rest % 10, at + 2  # "twenty twenty four by four"
        if rest is not None and rest >= 10:
            return (2000 if text == "twenty" else 1900) + rest, end
    if text == "two" and _next(words, at + 1) == "thousand":
        end = at + 3 if _next(words, at + 2) == "and" else at + 2
        rest, after = _two_digits(words, end) if _next(words, end) else (None, end)
        return (2000 + rest, after) if rest is not None else (2000, at + 2)
    return None


def _two_digits(words: Sequence[Word], at: int) -> tuple[int | None, int]:
    """A number below 100 in digits or words, and where it ends."""
    if at >= len(words):
        return None, at
    first = small_number(words[at])
    if first is None:
        return None, at
    if first >= 20 and first % 10 == 0 and words[at].token.number is None:
        rest = small_number(words[at + 1]) if at + 1 < len(words) and words[at + 1].token.parted < PAUSE else None
        if rest is not None and 1 <= rest <= 9 and words[at + 1].token.number is None:
            return first + rest, at + 2
    return first, at + 1


def _spread(first: int, last: int) -> str:
    return str(first) if first == last else f"{first}-{last}"


def _doubt(words: Sequence[Word], start: int, end: int) -> Doubt:
    about = start > 0 and words[start].token.parted < PAUSE and words[start - 1].key in exactly("about_words")
    return Doubt.HEDGED if about or _next(words, end) == "ish" else Doubt.FIRM


def _range(words: Sequence[Word], at: int) -> Mention | None:
    """ "2019 to 2021", "2019-21", "2019/20", "between 2018 and 2020"."""
    first = _year_at(words, at)
    if first is None:
        return None
    year, end = first
    joined = end < len(words) and words[end].token.parted == 0
    to = _next(words, end) in exactly("to_words") and not (
        _next(words, end) == "and" and _key(words, at - 1) != "between"
    )
    if not (to or joined):
        return None
    second = end + 1 if to else end
    found = _year_at(words, second)
    if found is None:
        number = _small(words, second)
        if not (joined or to) or not (0 <= number <= 99) or len(words[second].token.text) != 2 or number < year % 100:
            return None
        found = (year - year % 100 + number, second + 1)
    last, stop = found
    if not year <= last <= year + 30:
        return None
    return Mention("years", (_spread(year, last),), at, stop)


def _single(words: Sequence[Word], at: int) -> Mention | None:
    found = _year_at(words, at)
    if found is None:
        return None
    year, end = found
    after, before = _next(words, end), _key(words, at - 1) if words[at].token.parted < PAUSE else ""
    if any(word.token.text in _REFERENCE for word in words[max(0, at - 3) : at]):
        return None
    if after in exactly("not_a_year_before") or (
        before == "at"
        and not _puts(words, at)
        and after not in exactly("plate_words")
        and after not in exactly("year_words")
    ):
        return None
    end_open = _open_end(words, end)
    if end_open:
        # "2019 onwards" may be any later year; "2019 or newer" is a guess at 2019.
        least = words[end_open - 1].token.text in ("newer", "later")
        values = (str(year) if least else _spread(year, OPEN_LAST),)
        return Mention("years", values, at, end_open, Doubt.HEDGED if least else Doubt.FIRM)
    if before in exactly("before_words"):
        return Mention("years", (_spread(OPEN_FIRST, year - 1),), at, end)
    other, stop = _two_digits(words, end + 1) if after in ("or", "maybe") else (None, end)
    if other is not None and 0 < other - year % 100 <= 3 and _next(words, stop) not in exactly("not_a_year_before"):
        return Mention("years", (str(year), str(year - year % 100 + other)), at, stop, Doubt.HEDGED)
    end += after in exactly("plate_words")
    return Mention("years", (str(year),), at, end, _doubt(words, at, end))


_REFERENCE = frozenset(("reference", "ref", "incident", "log", "cad", "ticket", "policy", "claim", "case"))


def _puts(words: Sequence[Word], at: int) -> bool:
    """ "he puts the vehicle at 2023"."""
    return any(word.token.text in ("put", "puts", "placed", "dated", "dates") for word in words[max(0, at - 5) : at])


def _open_end(words: Sequence[Word], end: int) -> int:
    """Where "2019 on", "2019 onwards", "2019 or newer" ends; 0 if it is none of these."""
    after = _next(words, end)
    if after == "or" and _next(words, end + 1) in ("newer", "later"):
        return end + 2
    if after == "on":
        return end + 1 if _next(words, end + 1) in ("", "model") else 0
    return end + 1 if after in ("onward", "upward", "newer", "later") else 0


def _marks(words: Sequence[Word], at: int) -> Mention | None:
    """ "21 plate", "a 71 reg", "19 or 20 plate", "'19", "191 reg"."""
    if _year_at(words, at) is not None:
        return None
    number, end = _two_digits(words, at)
    text = words[at].token.text
    spoken = _spoken_mark(words, at)
    if spoken is not None:
        return spoken
    if number is None:
        irish = words[at].token.number if len(text) == 3 and text[2] in "12" and text[0] in "123" else None
        if irish is not None and _next(words, at + 1) in exactly("plate_words"):
            return Mention("years", (str(2000 + irish // 10),), at, at + 2)
        return None
    marks = [number]
    if _next(words, end) == "or":
        other, stop = _two_digits(words, end + 1)
        if other is not None:
            marks.append(other)
            end = stop
    after = _next(words, end)
    plate = after in exactly("plate_words")
    years_pair = len(marks) == 2 and all(10 <= mark <= 40 for mark in marks) and abs(marks[0] - marks[1]) == 1
    aged = at > 0 and (words[at - 1].key in keys("people") or words[at - 1].token.text in exactly("ages"))
    loose = (
        not aged
        and years_pair
        and text.isdigit()
        and after not in exactly("not_a_year_before")
        and (after == "" or after in exactly("year_words"))
    )
    if not (plate or loose or (text.isdigit() and after == "model" and 10 <= number <= 40)):
        return None
    values = sorted({_age_mark(mark) for mark in marks if 2 <= mark <= 99})
    if not values:
        return None
    return Mention("years", tuple(values), at, end + (plate or after == "model"), _doubt(words, at, end))


def _spoken_mark(words: Sequence[Word], at: int) -> Mention | None:
    """ "two one plate", "the plate's a 21", "registered on a 70"."""
    first, second = small_number(words[at]), small_number(words[at + 1]) if _next(words, at + 1) else None
    digits = first is not None and second is not None and first < 10 and second < 10
    if digits and words[at].token.number is None and _next(words, at + 2) in exactly("plate_words"):
        assert first is not None
        assert second is not None
        return Mention("years", (_age_mark(10 * first + second),), at, at + 3)
    before = at
    while before > 0 and words[before].token.parted < PAUSE and words[before - 1].token.text in _LEADS:
        before -= 1
    after = _next(words, at + 1)
    said = before > 0 and words[before].token.parted < PAUSE and words[before - 1].key in exactly("plate_words")
    number = words[at].token.number
    if not said or number is None or len(words[at].token.text) != 2 or (after and after not in exactly("function")):
        return None
    if not (2 <= number <= 40 or 51 <= number <= 90) or after == "or":
        return None
    return Mention("years", (_age_mark(number),), before - 1, at + 1)


def _age_mark(mark: int) -> str:
    return str(2000 + mark) if mark <= 50 else f"{1950 + mark}-{1951 + mark}"


def _decade(words: Sequence[Word], at: int) -> Mention | None:
    """ "early 2000s", "mid-nineties", "the 2010s", "late 90s"."""
    text = words[at].token.text
    if text in ("decade", "twenties"):
        return _this_decade(words, at)
    base = _DECADE_WORD.get(text) if text.endswith("ties") else None
    if text.endswith("s") and text[:-1].isdigit():
        number = int(text[:-1])
        if len(text) == 5 and number % 10 == 0 and FIRST <= number <= LAST:
            base = number
        elif len(text) == 3 and number % 10 == 0 and (number >= 50 or _key(words, at - 1) in ("the", *_DECADE_PART)):
            base = 1900 + number if number >= 50 else 2000 + number
    if base is None:
        return None
    part = _key(words, at - 1) if words[at].token.parted < PAUSE else ""
    low, high = _DECADE_PART.get(part, (0, 9))
    start = at - 1 if part in _DECADE_PART else at
    return Mention("years", (_spread(base + low, base + high),), start, at + 1, Doubt.HEDGED)


# The decade that people speak in, and which of its years "early", "mid" and "late" are.
_DECADE = 2020
_WHICH = {"this": 0, "current": 0, "present": 0, "the": 0, "last": -10, "previous": -10, "past": -10}
_WHERE = {"early": (0, 3), "start": (0, 3), "beginning": (0, 3), "mid": (4, 6), "middle": (4, 6), "late": (7, 9),
          "end": (7, 9), "tail": (7, 9), "latter": (7, 9), "back": (7, 9)}  # fmt: skip


def _this_decade(words: Sequence[Word], at: int) -> Mention | None:
    """ "this decade", "the early part of this decade", "late last decade", "the early twenties"."""
    start = at
    shift = 0 if words[at].token.text == "twenties" else None
    low, high = 0, 9
    while start > 0 and at - start < _FAR and words[start].token.parted < PAUSE:
        before = words[start - 1].token.text
        if before in _WHERE:
            low, high = _WHERE[before]
        elif before in _WHICH:
            shift = _WHICH[before] if shift is None or before != "the" else shift
        elif before not in ("of", "part", "in", "or", "very", "half", "s"):
            break
        start -= 1
    aged = any(
        word.key in keys("people") or word.token.text in ("his", "her", "their")
        for word in words[max(0, start - 3) : at]
    )
    if shift is None or (words[at].token.text == "twenties" and (aged or (low, high) == (0, 9))):
        return None
    return Mention("years", (_spread(_DECADE + shift + low, _DECADE + shift + high),), start, at + 1, Doubt.HEDGED)
