"""Invented names and VIN patterns against what makers really use.

Sources: ultravin 3.0.2 (MIT), built from vehicle makers' filings with the United States' road
safety authority, data of 2026-10, which covers makes filed there and no others; and, for makes
sold elsewhere, vininfo 1.11.0 (BSD), whose table of manufacturer identifiers is worldwide but
holds the commoner makers only. A name in neither may still be somebody's: no screen is a proof.
"""

import re
import unicodedata
from collections import defaultdict
from collections.abc import Iterable, Iterator
from datetime import datetime
from functools import cache
from typing import Any

import pytest
import ultravin
from rapidfuzz.distance import OSA
from vininfo.dicts import WMI

import seed_demo
from catalog.domain.vin import check_digit
from seed_demo.generator import generate

NOW = datetime(2026, 6, 1)  # noqa: DTZ001 - the decoder takes a naive time
NOT_REGISTERED = 7  # "manufacturer is not registered"

# Words of company names that name no maker: forms of company, trades, places, plain words.
_COMMON = """
    AG CORP CO COMPANY GROUP HOLDINGS INDUSTRIES LIMITED LTD SA SPA GMBH INC LLC OF
    AUTO AUTOBUSZGYAR AUTOMOBILE AUTOMOBILES AUTOMOTIVE AUTOMOVEIS BUS BUSES CAR CARAVANS CARROCERIAS CARS COACH
    COMMERCIAL COMMERCIALS DRIVE ELECTRIC EQUIPMENT FAHRZEUGWERKE GEAR HEAVY HOMES KIT MAKES MOTOR MOTORCYCLE
    MOTORCYCLES MOTORS PROFESSIONAL REPLICA SPORT SUV TROLLEYBUSES TRUCK TRUCKS VEHICLES
    ARGENTINA AUSTRALIA BRAZIL CANADA CHINA EUROPE GERMANY KOREA MEXICO MYANMAR ONTARIO POLAND SPAIN SWISS
    THAILAND TURK UK USA COMPACT GENERAL GREAT INTERNATIONAL LAND LONG MOVEMENT WALL WESTERN
"""
COMMON_WORDS = frozenset(_COMMON.split())


@cache
def identities() -> list[dict[str, Any]]:
    """Of every revision of the demo."""
    return [document["identity"] for edition in seed_demo.load().editions for document in edition.records.values()]


def invented() -> list[str]:
    return sorted({identity[key] for identity in identities() for key in ("make", "model")})


def decoded(parts: list[str]) -> Iterator[dict[str, Any]]:
    """The decoder's attributes for every VIN it can sweep from these parts of its data."""
    vins = ultravin.sweep(parts)
    for start in range(0, len(vins), 20_000):
        for result in ultravin.decode_batch(vins[start : start + 20_000], now=NOW):
            yield result["attributes"]


def too_near(names: Iterable[str], real: set[str]) -> list[tuple[str, str]]:
    """Pairs at most one edit apart; a real name also counts word by word."""
    words = real | {word for name in real for word in name.replace("-", " ").split() if len(word) > 2}
    return [
        (name, word)
        for name in names
        for word in sorted(words)
        if OSA.distance(name.upper(), word, score_cutoff=1) <= 1
    ]


@pytest.fixture(scope="module")
def makes() -> set[str]:
    return {attributes["Make"].upper() for attributes in decoded(["wmi"]) if attributes.get("Make")}


def test_no_name_is_a_real_make_or_one_edit_from_one(makes: set[str]) -> None:
    assert len(makes) > 10_000, "the screen itself must work"
    assert too_near([max(makes)], makes), "a real make is found"
    found = too_near(invented(), makes)
    print(f"\n{len(invented())} names against {len(makes)} makes, at most one edit apart: {found or 'none'}")
    assert not found


def test_no_name_is_a_make_sold_elsewhere_or_one_edit_from_one() -> None:
    real = elsewhere()
    outside = sum(identifier[0] not in "145" for identifier in WMI)
    assert len(real) > 250, "the screen itself must work"
    assert outside > 500, "most identifiers are of makers outside the United States"
    longest = max(real, key=len)
    assert too_near([longest, longest[1:]], {longest}) == [(longest, longest), (longest[1:], longest)], "and find both"
    near = sorted(
        (min((OSA.distance(word, folded(name)), word) for word in real), name)
        for name in {*invented(), *(word for name in invented() for word in name.split() if len(word) > 2)}
    )
    print(
        f"\n{len(near)} names against {len(real)} makes and words of makes, from {len(WMI)} identifiers, "
        f"{outside} of them not of the United States; nearest:"
    )
    print("\n".join(f"  {name}: {distance} edits from {word}" for (distance, word), name in near[:8]))
    assert not [entry for entry in near if entry[0][0] <= 1]


def elsewhere() -> set[str]:
    """Makers all over the world, and the words of their names."""
    companies = {folded(maker if isinstance(maker, str) else maker.title) for maker in WMI.values()}
    return companies | {
        word for company in companies for word in re.findall(r"[A-Z]{3,}", company) if word not in COMMON_WORDS
    }


def folded(name: str) -> str:
    """Capitals without accents."""
    return "".join(c for c in unicodedata.normalize("NFKD", name.upper()) if not unicodedata.combining(c))


@pytest.mark.slow
def test_no_name_is_a_real_model_or_one_edit_from_one() -> None:
    real = real_models()
    assert len(real) > 20_000, "the screen itself must work"
    found = too_near(invented(), real)
    print(f"\n{len(invented())} names against {len(real)} makes and models, at most one edit apart: {found or 'none'}")
    assert not found


@cache
def real_models() -> set[str]:
    return {
        attributes[key].upper()
        for attributes in decoded(["pattern"])
        for key in ("Make", "Model")
        if attributes.get(key)
    }


@pytest.mark.slow
def test_no_generated_name_is_a_real_one_or_one_edit_from_one(makes: set[str]) -> None:
    """Every make and model of a generated catalogue of 20,000 against all the lists above."""
    identities = [document["identity"] for _, document in generate(20_000, 1)]
    names = {identity[key] for identity in identities for key in ("make", "model")}
    assert len(names) > 5000
    real = makes | real_models() | elsewhere()
    assert len(real) > 25_000, "the screen itself must work"
    found = near_pairs(names, real)
    print(f"\n{len(names)} generated names against {len(real)} real ones, at most one edit apart: {found or 'none'}")
    assert not found


def test_near_pairs_finds_every_kind_of_edit() -> None:
    names = ["Abcdef", "Bcdef", "Xabcdef", "Abxdef", "Bacdef", "Abcdfeg", "Zzz"]
    found = near_pairs(names, {"ABCDEF"})
    assert [name for name, _ in found] == ["Abcdef", "Abxdef", "Bacdef", "Bcdef", "Xabcdef"]
    assert found == sorted(too_near(names, {"ABCDEF"}))


def near_pairs(names: Iterable[str], real: set[str]) -> list[tuple[str, str]]:
    """As too_near, for thousands: words within an edit have in common what is left without one letter."""
    words = real | {word for name in real for word in name.replace("-", " ").split() if len(word) > 2}
    left: dict[str, list[str]] = defaultdict(list)
    for word in words:
        for rest in without_one(word):
            left[rest].append(word)
    return sorted(
        {
            (name, word)
            for name in names
            for rest in without_one(name.upper())
            for word in left.get(rest, ())
            if OSA.distance(name.upper(), word, score_cutoff=1) <= 1
        }
    )


def without_one(word: str) -> set[str]:
    return {word, *(word[:at] + word[at + 1 :] for at in range(len(word)))}


def test_vin_patterns_belong_to_no_registered_maker() -> None:
    patterns = sorted({(identity["make"], pattern) for identity in identities() for pattern in identity["vins"]})
    prefixes = {(make, pattern[:3]) for make, pattern in patterns}
    assert len(prefixes) == len({make for make, _ in prefixes}) == len({prefix for _, prefix in prefixes})
    for make, pattern in patterns:
        assert pattern[0] in "DEFG"
        assert pattern[8] == "?"
        example = filled(pattern)
        result = ultravin.decode_batch([example], now=NOW)[0]
        print(f"{make} {example}: {result['attributes']['Error Text']}")
        assert result["error_codes"] == [NOT_REGISTERED]
        assert result["check_digit_valid"]
        assert not result["attributes"].get("Make")


def filled(pattern: str) -> str:
    """An example of a pattern, its check digit right."""
    example = "".join(given if mine == "?" else mine for mine, given in zip(pattern, "XXXXXXXX0RA000123", strict=True))
    return f"{example[:8]}{check_digit(example)}{example[9:]}"
