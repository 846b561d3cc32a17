"""Vehicle identification numbers: alphabet, check digit, model years, the part that may be kept.

Check digit and year codes after 49 CFR 565.15. The check digit is mandatory in North America and
China only, so a mismatch is advice, never a refusal. Serial numbers (positions 12 to 17) name one
vehicle and its owner: they are never stored or sent on.
"""

from dataclasses import dataclass

LENGTH = 17
ALPHABET = "0123456789ABCDEFGHJKLMNPRSTUVWXYZ"  # without I, O, Q
CHECK_CHARACTERS = "0123456789X"
OPEN = "?"
PART = "*"  # "X9Q*" begins a number, "*4421" ends one, "*KB7*" is somewhere inside

_VALUES = dict(zip("0123456789", range(10), strict=True)) | {
    char: value
    for value, chars in enumerate(("AJ", "BKS", "CLT", "DMU", "ENV", "FW", "GPX", "HY", "RZ"), 1)
    for char in chars
}
_WEIGHTS = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)
_YEAR_CODES = "ABCDEFGHJKLMNPRSTVWXY123456789"
_FIRST_YEAR = 1980
_CYCLE = len(_YEAR_CODES)
SERIAL_FROM = 11


@dataclass(frozen=True, slots=True)
class ModelYears:
    """Years the tenth character may mean, oldest first. preferred: None where nothing decides."""

    candidates: tuple[int, ...]
    preferred: int | None


def clean(text: str) -> str:
    """As a VIN is written: capitals, without spaces, hyphens or dots."""
    return "".join(char for char in text.upper() if char not in " -–.\t")


def illegal(vin: str) -> tuple[tuple[int, str], ...]:
    """(position from 1, character) of everything that is neither in the alphabet nor open."""
    return tuple((at, char) for at, char in enumerate(vin, 1) if char not in ALPHABET and char != OPEN)


def check_digit(vin: str) -> str:
    """The character position 9 should hold. vin: 17 characters of the alphabet; the ninth is ignored.

    Raises ValueError for another length or character.
    """
    if len(vin) != LENGTH:
        raise ValueError(f"a VIN has {LENGTH} characters, this has {len(vin)}")
    try:
        total = sum(_VALUES[char] * weight for char, weight in zip(vin, _WEIGHTS, strict=True) if weight)
    except KeyError as error:
        raise ValueError(f"{error} is never in a VIN") from error
    return CHECK_CHARACTERS[total % 11]


def check_digit_agrees(vin: str) -> bool | None:
    """Whether position 9 fits the rest; None where it cannot be told (open or missing characters)."""
    if len(vin) != LENGTH or OPEN in vin or illegal(vin):
        return None
    return check_digit(vin) == vin[8]


def model_years(vin: str, latest: int | None = None) -> ModelYears:
    """Model years of a VIN of at least ten characters. latest: no year after it is offered.

    Codes repeat every thirty years. Position 7 tells the cycles apart for light vehicles: a letter
    from 2010 on, a digit before; small makers and heavy vehicles do not always follow, so the
    other year stays a candidate.
    """
    code = vin[9:10]
    if not code or code not in _YEAR_CODES:
        return ModelYears((), None)
    first = _FIRST_YEAR + _YEAR_CODES.index(code)
    candidates = tuple(year for year in (first, first + _CYCLE) if latest is None or year <= latest)
    cycle = _cycle(vin[6])
    preferred = None if cycle is None else first + cycle * _CYCLE
    return ModelYears(candidates, preferred if preferred in candidates else None)


def _cycle(seventh: str) -> int | None:
    if seventh == OPEN or seventh not in ALPHABET:
        return None
    return 0 if seventh.isdigit() else 1


def matches(pattern: str, part: str) -> bool:
    """Whether a VIN, or its beginning, fits a pattern; "?" on either side fits anything.

    Fewer than three characters (the maker's) fit nothing.
    """
    if not 3 <= len(part) <= len(pattern):
        return False
    return all(OPEN in (one, other) or one == other for one, other in zip(pattern, part, strict=False))


def vehicle_part(vin: str) -> str:
    """What may be kept of a VIN: its first eleven characters, the check digit masked.

    The check digit is computed from the serial, so it would give part of that away. Of a part that does
    not begin the number ("*4421") nothing is kept: it may be the serial.
    """
    if vin.startswith(PART):
        return PART
    part = vin[:SERIAL_FROM]
    return f"{part[:8]}{OPEN}{part[9:]}" if len(part) > 8 else part
