"""Units as people write them against published conversion factors, each with its source beside it.

SI: The International System of Units, BIPM, 9th edition (2019), tables 1, 4, 7 and 8.
NIST: NIST Special Publication 811 (2008), appendix B.8 (factors) and B.6 (exact lengths).

The figures are from memory of those tables: confirm there before changing one.
"""

from fractions import Fraction

import pytest

from catalog.domain.spec.nodes import Number
from catalog.intake.units import factor, read_number, unit_named

EXACT = [
    ("inch", "mm", "25.4", "NIST B.6: 1 in = 25.4 mm exactly"),
    ("ft", "mm", "304.8", "NIST B.8: 1 ft = 3.048 E-01 m exactly"),
    ("yd", "mm", "914.4", "NIST B.8: 1 yd = 9.144 E-01 m exactly"),
    ("mile", "mm", "1609344", "NIST B.8: 1 mi = 1.609 344 E+03 m exactly"),
    ("m", "mm", "1000", "SI table 7: milli is 10^-3"),
    ("cm", "mm", "10", "SI table 7: centi is 10^-2"),
    ("min", "s", "60", "SI table 8: 1 min = 60 s"),
    ("h", "s", "3600", "SI table 8: 1 h = 3600 s"),
    ("day", "s", "86400", "SI table 8: 1 d = 86 400 s"),
    ("kV", "V", "1000", "SI table 7: kilo is 10^3"),
    ("kWh", "Wh", "1000", "SI table 7: kilo is 10^3"),
    ("bar", "kPa", "100", "NIST B.8: 1 bar = 1.0 E+05 Pa exactly"),
    ("MPa", "kPa", "1000", "SI table 7: mega is 10^6"),
]
# Published to seven figures, so they hold to half of the last one.
ROUNDED = [("psi", "kPa", "6.894757", "NIST B.8: 1 psi = 6.894 757 E+03 Pa")]


@pytest.mark.parametrize(("unit", "declared", "published", "source"), EXACT, ids=[row[0] for row in EXACT])
def test_exact_factors_are_exact(unit: str, declared: str, published: str, source: str) -> None:
    named = unit_named(unit)
    assert named, unit
    assert factor(named, declared) == Fraction(published), source


@pytest.mark.parametrize(("unit", "declared", "published", "source"), ROUNDED, ids=[row[0] for row in ROUNDED])
def test_rounded_factors_agree_to_their_last_figure(unit: str, declared: str, published: str, source: str) -> None:
    found = factor(unit_named(unit) or "", declared)
    assert found is not None
    places = len(published.partition(".")[2])
    assert abs(found - Fraction(published)) <= Fraction(1, 2 * 10**places), source


def test_a_kilowatt_hour_is_3_6_megajoules() -> None:
    """NIST B.8: 1 kW h = 3.6 E+06 J exactly."""
    assert factor("MJ", "Wh") == Fraction(1000) / Fraction("3.6")
    assert read_number(Number("Wh", 0, 10**7), "3.6 MJ", None).value == 1000


def test_the_pound_force_per_square_inch_follows_from_its_parts() -> None:
    """NIST B.8: 1 lb = 0.453 592 37 kg and g = 9.806 65 m/s2, both exactly; B.6: 1 in = 25.4 mm exactly."""
    pascals = Fraction("0.45359237") * Fraction("9.80665") / Fraction("0.0254") ** 2
    assert factor("psi", "kPa") == pascals / 1000


@pytest.mark.parametrize(("unit", "declared"), [("kWh", "V"), ("bar", "mm"), ("m", "s"), ("V", "Wh"), ("psi", "s")])
def test_units_of_other_quantities_have_no_factor(unit: str, declared: str) -> None:
    assert factor(unit, declared) is None
