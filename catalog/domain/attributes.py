"""What a cue may be about, and the values each attribute takes: the one table that readers and edges share.

A value is a term of a closed vocabulary, or written in a form of its own: places "side|end|level",
years "2019" or "2018-2021", names and VINs whole or in part ("b*", "*o", "*ell*").
"""

from collections.abc import Mapping

from catalog.domain.connectors import CONNECTOR
from catalog.domain.folding import fold
from catalog.domain.places import END, LEVEL, SIDE
from catalog.domain.said import BY_KEY as SAID
from catalog.domain.terms import Vocabulary
from catalog.domain.vin import ALPHABET, LENGTH, OPEN, PART
from catalog.domain.vin import clean as clean_vin
from catalog.domain.vocabulary import BY_KEY

# Ranking ones are scored; the others are shown and said not to rank.
RANKING = (
    "body", "size", "doors", "propulsion", "years", "name", "port_place", "connector",
    "door_mechanism", "port_cover", "selector", "front_face", "front_lamps", "rear_lamps", "tailpipe",
    "roof", "handles", "category", "vin", "colour", "fuel",
)  # fmt: skip
SHOWN_ONLY = ("scene", "other_place", "rows", "marking", "wheels", "cable", "start", "screen")
ATTRIBUTES = RANKING + SHOWN_ONLY

# The values of the attributes that are shown only; places are "side|end|level".
SHOWN_TERMS: Mapping[str, tuple[str, ...]] = {
    **{attribute: vocabulary.keys for attribute, vocabulary in SAID.items()},
    "cable": BY_KEY["colour"].keys,
    "rows": ("2", "3"),
}
PLACES = ("port_place", "other_place")
SIDES = (*SIDE.keys, "driver", "passenger")
ENDS = ("front", *END.keys, "rear")
DOORS = ("2", "3", "4", "5")
EARLIEST, LATEST = 1900, 2100
LONGEST_NAME = 60

_VOCABULARY = {"connector": CONNECTOR, "front_lamps": BY_KEY["lamps"], "rear_lamps": BY_KEY["lamps"]}
_EXTRA_TERMS = {"tailpipe": ("yes", "none"), "fuel": (*BY_KEY["fuel"].keys, "none")}
# O, I and Q never occur in a VIN: they are the digits they are mistaken for.
_MISREAD = {"O": "0", "Q": "0", "I": "1"}
_FORMS = {
    "years": "a year or a span of years, such as 2019 or 2018-2021",
    "name": "letters and digits of a name, or a part of it: b* begins, *o ends, *ell* inside",
    "vin": "11 to 17 characters of a VIN, or a part of it: X9B* begins, *4421 ends, *KB7* inside",
}


def vocabulary_of(attribute: str) -> Vocabulary | None:
    """The vocabulary a ranking attribute's values come from; None where they are numbers, names or places."""
    return _VOCABULARY.get(attribute) or BY_KEY.get(attribute)


def terms_of(attribute: str) -> tuple[str, ...]:
    """The values a categorical attribute that ranks may take."""
    if attribute in _EXTRA_TERMS:
        return _EXTRA_TERMS[attribute]
    found = vocabulary_of(attribute)
    return () if found is None else found.keys


def closed_terms(attribute: str) -> tuple[str, ...]:
    """Every value an attribute may take; empty where they are written in a form of their own."""
    if attribute == "doors":
        return DOORS
    return SHOWN_TERMS.get(attribute) or terms_of(attribute)


def form_of(attribute: str) -> str:
    """What a value must be, in words."""
    if attribute in PLACES:
        return (
            f"side|end|level, any part empty but not all; side: {', '.join(SIDES)}; end: {', '.join(ENDS)}; "
            f"level: {', '.join(LEVEL.keys)}"
        )
    return _FORMS.get(attribute) or f"one of: {', '.join(closed_terms(attribute))}"


def value_of(attribute: str, text: str) -> str | None:
    """The value somebody wrote, as a cue holds it; None where the attribute has no such value."""
    match attribute:
        case "name":
            return _name(text)
        case "vin":
            return _vin(text)
        case "years":
            return _years(text)
        case "port_place" | "other_place":
            return text if _is_place(text) else None
        case _:
            return text if text in closed_terms(attribute) else None


def _name(text: str) -> str | None:
    before, after = text[:1] == PART, text[-1:] == PART
    bare = fold(text.strip(PART))
    if not bare or len(bare) > LONGEST_NAME:
        return None
    return f"{PART if before else ''}{bare}{PART if after else ''}"


def _vin(text: str) -> str | None:
    value = "".join(_MISREAD.get(char, char) for char in clean_vin(text))
    bare = value.strip(PART)
    fewest = 2 if PART in value else 11
    known = all(char in ALPHABET or char == OPEN for char in bare)
    return value if known and fewest <= len(bare) <= LENGTH else None


def _years(text: str) -> str | None:
    parts = text.split("-")
    if len(parts) > 2 or not all(len(part) == 4 and part.isascii() and part.isdigit() for part in parts):
        return None
    first, last = int(parts[0]), int(parts[-1])
    return text if EARLIEST <= first <= last <= LATEST else None


def _is_place(text: str) -> bool:
    parts = text.split("|")
    if len(parts) != 3 or not any(parts):
        return False
    return all(not part or part in known for part, known in zip(parts, (SIDES, ENDS, LEVEL.keys), strict=True))
