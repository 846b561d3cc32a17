"""Which values an annotated cue may have, and how ours are spelt."""

import re
from collections.abc import Callable, Mapping
from functools import cache

from catalog.domain.folding import fold_name
from catalog.domain.places import LEVEL
from catalog.resolve.cue import ATTRIBUTES, SHOWN_TERMS
from catalog.resolve.likelihood import terms_of

PLACES = ("port_place", "other_place")
PLACE_PARTS: Mapping[str, tuple[str, ...]] = {
    "side": ("", "left", "right", "centre", "driver", "passenger"),
    "end": ("", "front_face", "front", "front_quarter", "middle", "rear_quarter", "rear", "rear_face"),
    "level": ("", *LEVEL.keys),
}
_YEARS = re.compile(r"(19|20)[0-9]{2}(-(19|20)[0-9]{2})?")
_VIN = re.compile(r"[A-Z0-9]{11,17}|[A-Z0-9]{2,16}\*|\*[A-Z0-9]{2,16}\*?")


def plain(text: str) -> str:
    """Lower case, spaces and hyphens as underscores: "Plug-in hybrid" -> "plug_in_hybrid"."""
    return "_".join(text.strip().lower().replace("-", " ").replace("_", " ").split())


def own_value(attribute: str, text: str) -> str | None:
    """A value as we spell it; None where the attribute has no such value."""
    return _SPELT[attribute](text) if attribute in _SPELT else closed(attribute).get(plain(text))


@cache
def closed(attribute: str) -> Mapping[str, str]:
    """Plain spelling -> value of an attribute with a closed vocabulary; empty for the others."""
    terms = ("2", "3", "4", "5") if attribute == "doors" else SHOWN_TERMS.get(attribute) or terms_of(attribute)
    return {plain(term): term for term in terms}


def forms(attribute: str) -> str:
    """What a value may look like, for the sentence that tells the cure."""
    if attribute in PLACES:
        return "side|end|level, as in left|rear_quarter| (" + "; ".join(
            f"{part}: {', '.join(filter(None, words))}" for part, words in PLACE_PARTS.items()
        ) + ")"  # fmt: skip
    return _FORMS.get(attribute) or ", ".join(closed(attribute).values())


def _place(text: str) -> str | None:
    parts = [plain(part) for part in text.split("|")]
    fits = len(parts) == 3 and all(part in words for part, words in zip(parts, PLACE_PARTS.values(), strict=True))
    return "|".join(parts) if fits and any(parts) else None


def _years(text: str) -> str | None:
    years = text.strip().replace("–", "-").replace(" ", "")
    return years if _YEARS.fullmatch(years) and years[:4] <= years[-4:] else None


def _name(text: str) -> str | None:
    stripped = text.strip()
    core = fold_name(stripped.strip("*"))
    return ("*" * stripped.startswith("*") + core + "*" * stripped.endswith("*")) if core else None


def _vin(text: str) -> str | None:
    vin = text.strip().upper().replace(" ", "")
    return vin if _VIN.fullmatch(vin) else None


_SPELT: Mapping[str, Callable[[str], str | None]] = {
    "port_place": _place, "other_place": _place, "years": _years, "name": _name, "vin": _vin,
}  # fmt: skip
_FORMS = {
    "years": "2019 or 2019-2021",
    "name": "letters and digits as heard, or a fragment: b*, *o, *ell*",
    "vin": "11 to 17 letters and digits, or a part: X9Q*, *4421, *KB7*",
}
assert set(_SPELT) < set(ATTRIBUTES)
