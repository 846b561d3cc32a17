"""Numbers with their units, as people write them -> whole numbers in the declared unit, exactly.

"400 V", "0.4 kV", "77 kWh", "12 ft 6 in", "2 min 30 s". Factors are the units library's, as fractions; nothing is
rounded without a word.
"""

import re
from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from math import ceil, floor
from typing import Any

from catalog.domain.findings import Severity
from catalog.domain.spec.nodes import Attr, Number, Order
from catalog.intake.readings import Problem, Read, refused
from catalog.intake.synonyms import table

# Digits in threes may be parted by spaces (the SI way); a comma may be either, so it is asked about.
_SPACE = "[ \u00a0\u2009\u202f]"
_PART = re.compile(rf"\s*([0-9]{{1,3}}(?:{_SPACE}[0-9]{{3}})+|[0-9]+)(\.[0-9]+)?\s*([^0-9\s.,][^0-9.,]*)?")
_UNCLEAR = re.compile("[,<>~≈±–—+-]|[0-9][eE][0-9]")
_LONGEST = 60


def read_number(kind: Number, text: str, assumed: str | None, attr: Attr | None = None) -> Read:
    """A whole number in kind.unit. assumed: the unit the heading names; None where it names none.

    attr: says which way a rounding protects. A number without any unit is refused where the kind has one.
    """
    allowed = f"a whole number from {kind.low:,} to {kind.high:,}{f' {kind.unit}' if kind.unit else ''}"
    if len(text) > _LONGEST:
        return refused(f"{text[:_LONGEST]}…", allowed, "Write the number and its unit alone.")
    parts = list(_parts(text))
    if not parts or _UNCLEAR.search(text):
        return refused(text, allowed, _cure(text, kind))
    total = Fraction(0)
    for amount, unit in parts:
        factor = _factor_of(unit or ("" if len(parts) > 1 else assumed), kind.unit)
        if isinstance(factor, str):
            return refused(text, allowed, factor)
        total += amount * factor
    value, problems = _whole(total, text, kind, attr)
    if not kind.low <= value <= kind.high:
        shown = text if str(value) == text else f"{text}, which is {value:,} {kind.unit}".strip()
        return refused(shown, allowed, "Check the number and its unit against the source.")
    return Read(value, problems)


def number_text(kind: Number, value: int) -> str:
    """As it is written out: "400 V", a count as "4"."""
    return f"{value} {kind.unit}".strip()


@cache
def factor(unit: str, declared: str) -> Fraction | None:
    """How many of the declared unit one `unit` is; None where they measure different things. Units by their names."""
    if unit == declared:
        return Fraction(1)
    library = _library()
    try:
        made = library.Quantity(Fraction(1), library.Unit(unit)).to(library.Unit(declared)).magnitude
    except _wrong_units():
        return None
    return Fraction(made)


@cache
def unit_named(text: str) -> str | None:
    """The unit somebody wrote, by its name; None for one nobody knows. Capitals count where they change the size."""
    bare = " ".join(text.replace(".", " ").split())
    exact: dict[str, str] = table("exact units")
    known: dict[str, str] = table("units")
    return exact.get(bare) or known.get(bare.lower())


def _factor_of(unit: str | None, declared: str) -> Fraction | str:
    """The factor, or what to do about there being none."""
    if not declared:
        return Fraction(1) if not unit else "It is a count: write the number alone."
    if not unit:
        return f"Write its unit beside it, such as {declared}; without one it could be anything."
    named = unit_named(unit)
    if named is None:
        return f"Write the unit as {declared}, or one that measures the same; {unit.strip()} is not known."
    found = factor(named, declared)
    return (
        found if found is not None else f"{unit.strip()} does not measure what {declared} measures; check the source."
    )


def _parts(text: str) -> Iterator[tuple[Fraction, str]]:
    """(amount, unit as written) of "12 ft 6 in"; nothing at all where a part is not understood."""
    made, at = [], 0
    while at < len(text):
        found = _PART.match(text, at)
        if found is None:
            return
        whole = "".join(char for char in found[1] if char.isdigit())
        made.append((Fraction(f"{whole}{found[2] or ''}"), (found[3] or "").strip()))
        at = found.end()
    yield from made


def _whole(total: Fraction, text: str, kind: Number, attr: Attr | None) -> tuple[int, tuple[Problem, ...]]:
    if total.denominator == 1:
        return int(total), ()
    order = attr.order if attr else Order.NONE
    value = ceil(total) if order is Order.MOST else floor(total) if order is Order.LEAST else round(total)
    exact = f"{float(total):,.6g}"
    problem = Problem(
        f'"{text}", which is {exact} {kind.unit}',
        f"whole {kind.unit or 'numbers'} only; taken as {value:,} {kind.unit}".strip(),
        "Write the whole number you mean, or leave it so.",
        Severity.LOOK if attr is not None and attr.critical else Severity.NOTE,
    )
    return value, (problem,)


def _cure(text: str, kind: Number) -> str:
    if "," in text:
        return "A comma may part thousands or decimals: write the number without one."
    if re.search("[0-9][eE][+-]?[0-9]", text):
        return "A spreadsheet may have made this of something else: write all its digits."
    if any(sign in text for sign in "<>~≈±–—+-") or "to" in text.split():
        return "One number, not a span or a limit: choose the one that protects, or state both as disputed."
    return f"Write digits{f' and the unit, such as {kind.low or kind.high} {kind.unit}' if kind.unit else ' alone'}."


@cache
def _library() -> Any:
    import pint  # two seconds, and only imports of files need it

    return pint.UnitRegistry(non_int_type=Fraction)


def _wrong_units() -> tuple[type[Exception], ...]:
    import pint

    return (pint.DimensionalityError, pint.UndefinedUnitError)
