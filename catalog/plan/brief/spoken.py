"""How a text is said over the radio: numbers, abbreviations and codes as they are spoken, counted in words.

Where it could be said in two ways the longer one counts.
"""

from collections.abc import Iterator

SECONDS_A_WORD = 60 / 150  # 150 words a minute

_SMALL = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
          "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen")  # fmt: skip
_TENS = ("", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_SCALES = ((1_000_000, "million"), (1000, "thousand"), (100, "hundred"))
_DIGITS = "0123456789"
_CAPITALS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_SMALL_LETTERS = "abcdefghijklmnopqrstuvwxyz"
# Said as one word although written in capitals; the others of up to three letters are spelt out.
_AS_WORDS = ("VIN", "DEMO")
_SPELT_UP_TO = 3
_UNITS = {
    "V": ("volt",), "kV": ("kilovolt",), "kWh": ("kilowatt", "hours"), "Wh": ("watt", "hours"), "m": ("metres",),
    "mm": ("millimetres",), "cm": ("centimetres",), "km": ("kilometres",), "s": ("seconds",), "min": ("minutes",),
    "h": ("hours",), "ft": ("feet",), "in": ("inches",), "kPa": ("kilopascal",), "bar": ("bar",),
}  # fmt: skip
_SIGNS = {"+": "plus", "&": "and", "=": "equals", "%": "percent", "/": "slash", "@": "at", "#": "number"}


def spoken(text: str) -> tuple[str, ...]:
    """The words of a text as they are said."""
    made: list[str] = []
    number = False
    for token in _tokens(text):
        if number and token in _UNITS:
            made += _UNITS[token]
        else:
            made += _said(token)
        number = _is_number(token)
    return tuple(made)


def spoken_words(text: str) -> int:
    """How many words are said. At 150 a minute each takes 0.4 s."""
    return len(spoken(text))


def seconds(text: str) -> float:
    return round(spoken_words(text) * SECONDS_A_WORD, 1)


def number_words(number: int) -> tuple[str, ...]:
    """ "one hundred and fifty". Whole numbers below a thousand million."""
    if number < len(_SMALL):
        return (_SMALL[number],)
    if number < 100:
        tens, rest = divmod(number, 10)
        return (_TENS[tens], *(number_words(rest) if rest else ()))
    size, name = next((size, name) for size, name in _SCALES if number >= size)
    count, rest = divmod(number, size)
    joined = ("and",) if 0 < rest < 100 else ()
    return (*number_words(count), name, *joined, *(number_words(rest) if rest else ()))


def _tokens(text: str) -> Iterator[str]:
    """Cut at blanks and hyphens; a comma or full stop counts only between digits, other marks not at all."""
    token = ""
    for at, char in enumerate(text):
        before, after = text[at - 1 : at], text[at + 1 : at + 2]
        inside = char in ".," and before and before in _DIGITS and after and after in _DIGITS
        if char in _DIGITS or char.isalpha() or char in "'’" or inside:
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
    return all(char in _DIGITS or char in ",." for char in token)


def _said(token: str) -> Iterator[str]:
    if token in _SIGNS:
        yield _SIGNS[token]
        return
    if _is_number(token):
        yield from _number(token)
        return
    for run in _runs(token):
        if run[0] in _DIGITS:
            yield from number_words(int(run)) if len(run) < 3 and run[0] != "0" else (_SMALL[int(d)] for d in run)
        elif len(run) <= _SPELT_UP_TO and run not in _AS_WORDS and all(char in _CAPITALS for char in run):
            yield from run
        else:
            yield run


def _number(token: str) -> Iterator[str]:
    whole, point, after = token.replace(",", "").partition(".")
    yield from number_words(int(whole)) if len(whole) < 10 else (_SMALL[int(d)] for d in whole)
    if point:
        yield "point"
        yield from (_SMALL[int(digit)] for digit in after)


def _runs(token: str) -> Iterator[str]:
    """ "CCS2" -> "CCS", "2"."""
    run = ""
    for char in token:
        if run and (char in _DIGITS) != (run[-1] in _DIGITS):
            yield run
            run = ""
        run += char
    yield run
