"""How a text is said over the radio: numbers, abbreviations and codes as they are spoken, counted in words.

A number with a unit is said in full, a year in two halves, any other number of more than two digits digit by digit, as
figures are on the radio. At 150 words a minute a word takes 0.4 s.
"""

from collections.abc import Iterator, Sequence

SECONDS_A_WORD = 60 / 150

_SMALL = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
          "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen")  # fmt: skip
_TENS = ("", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_SCALES = ((1_000_000, "million"), (1000, "thousand"), (100, "hundred"))
_DIGITS = "0123456789"
_CAPITALS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
# Between words; every other character belongs to one. A full stop or comma between digits is part of the number.
_BETWEEN = ' \t\n.,;:!?()[]"“”‘*_-–—…·'
# Said as one word although written in capitals; others of up to three letters are spelt out.
_AS_WORDS = ("VIN",)
_SPELT_UP_TO = 3
_UNITS = {
    "V": ("volt",), "kV": ("kilovolt",), "kWh": ("kilowatt", "hours"), "Wh": ("watt", "hours"), "m": ("metres",),
    "mm": ("millimetres",), "cm": ("centimetres",), "km": ("kilometres",), "s": ("seconds",), "min": ("minutes",),
    "h": ("hours",), "ft": ("feet",), "in": ("inches",), "kPa": ("kilopascal",),
}  # fmt: skip
_SIGNS = {"+": "plus", "&": "and", "=": "equals", "%": "percent", "/": "slash", "@": "at", "#": "number"}


def spoken(text: str) -> tuple[str, ...]:
    """The words of a text as they are said."""
    made: list[str] = []
    tokens = [*_tokens(text), ""]
    for at, token in enumerate(tokens[:-1]):
        if token in _UNITS and at and _is_number(tokens[at - 1]):
            made += _UNITS[token]
        elif _is_number(token):
            made += _number(token, measured=tokens[at + 1] in _UNITS)
        else:
            made += _said(token)
    return tuple(made)


def spoken_words(text: str) -> int:
    """How many words are said."""
    return len(spoken(text))


def seconds_of(words: int) -> float:
    """How long so many words take, in tenths of a second."""
    return round(words * SECONDS_A_WORD, 1)


def number_words(number: int) -> tuple[str, ...]:
    """ "one hundred and fifty". Whole numbers from 0 to below a thousand million."""
    if number < len(_SMALL):
        return (_SMALL[number],)
    if number < 100:
        tens, rest = divmod(number, 10)
        return (_TENS[tens], *_rest(rest))
    size, name = next((size, name) for size, name in _SCALES if number >= size)
    count, rest = divmod(number, size)
    joined = ("and",) if 0 < rest < 100 else ()
    return (*number_words(count), name, *joined, *_rest(rest))


def _rest(number: int) -> Sequence[str]:
    return number_words(number) if number else ()


def _tokens(text: str) -> Iterator[str]:
    token = ""
    for at, char in enumerate(text):
        before, after = text[at - 1 : at] if at else "", text[at + 1 : at + 2]
        inside = char in ".," and before != "" and before in _DIGITS and after != "" and after in _DIGITS
        if inside or (char not in _BETWEEN and char not in _SIGNS):
            token += char
            continue
        if token:
            yield token
            token = ""
        if char in _SIGNS:
            yield char
    if token:
        yield token


def _is_number(token: str) -> bool:
    return token != "" and all(char in _DIGITS or char in ".," for char in token)


def _said(token: str) -> Sequence[str]:
    if token in _SIGNS:
        return (_SIGNS[token],)
    return [word for run in _runs(token) for word in _run(run)]


def _run(run: str) -> Sequence[str]:
    """Letters, or digits, inside a name."""
    if run[0] in _DIGITS:
        return number_words(int(run)) if len(run) < 3 and run[0] != "0" else _digits(run)
    if len(run) <= _SPELT_UP_TO and run not in _AS_WORDS and all(char in _CAPITALS for char in run):
        return list(run)
    return (run,)


def _number(token: str, *, measured: bool) -> Sequence[str]:
    whole, _, after = token.replace(",", "").partition(".")
    if not measured and len(token) == 4 and token[:2] in ("19", "20") and token[2:] > "09":
        return (*number_words(int(token[:2])), *number_words(int(token[2:])))
    in_full = len(whole) < 10 and (measured or len(whole) < 3)
    said = number_words(int(whole)) if in_full else _digits(whole)
    return (*said, "point", *_digits(after)) if after else said


def _digits(run: str) -> Sequence[str]:
    return [_SMALL[int(digit)] for digit in run]


def _runs(token: str) -> Iterator[str]:
    """ "CCS2" -> "CCS", "2"."""
    run = ""
    for char in token:
        if run and (char in _DIGITS) != (run[-1] in _DIGITS):
            yield run
            run = ""
        run += char
    yield run
