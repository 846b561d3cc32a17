"""One annotated cue, in our form or somebody else's, and the mapping that says how theirs is to be taken."""

import json
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from catalog.resolve.cue import ANOTHER, ASKED, ATTRIBUTES, Doubt
from tests.eval.reading_values import PLACE_PARTS, PLACES, forms, own_value, plain


class BadSet(Exception):
    """Faults of a set or a mapping, one a line."""


class Fault(Exception):
    """One thing wrong in one line, with the cure."""


@dataclass(frozen=True, slots=True)
class Said:
    """An annotated cue. values: sorted, as we spell them."""

    attribute: str
    values: tuple[str, ...]
    denied: bool = False
    vehicle: str = ASKED
    doubt: Doubt = Doubt.FIRM


@dataclass(frozen=True, slots=True)
class Terms:
    """How a foreign set calls things: the mapping of README.md, its keys in plain spelling."""

    attributes: Mapping[str, str] = field(default_factory=dict)
    values: Mapping[str, Mapping[str, tuple[str, ...]]] = field(default_factory=dict)
    ignore: frozenset[str] = frozenset()


def read_terms(path: Path) -> Terms:
    """The mapping in a file. Raises BadSet."""
    try:
        stored = json.loads(path.read_text(encoding="utf-8"))
    except ValueError as error:
        raise BadSet(f"{path.name}: not JSON ({error}).") from None
    attributes = {plain(foreign): ours for foreign, ours in stored.get("attributes", {}).items()}
    values = {
        ours: {plain(foreign): tuple(_listed(meant)) for foreign, meant in table.items()}
        for ours, table in stored.get("values", {}).items()
    }
    faults = [f"attribute {ours!r} is not ours" for ours in {*attributes.values(), *values} if ours not in ATTRIBUTES]
    for attribute in values.keys() & set(ATTRIBUTES):
        meant = [value for several in values[attribute].values() for value in several]
        faults += [
            f"{attribute} {v!r} is not ours: use {forms(attribute)}" for v in meant if not own_value(attribute, v)
        ]
    if faults:
        raise BadSet("\n".join(f"{path.name}: {fault}." for fault in sorted(faults)))
    return Terms(attributes, values, frozenset(plain(name) for name in stored.get("ignore", ())))


def read_cue(entry: Any, vehicle: str, terms: Terms, ignored: Counter[str]) -> Said | None:
    """None for an attribute the mapping leaves out."""
    raw = _parts(entry)
    foreign = plain(str(raw["attribute"]))
    if foreign in terms.ignore:
        ignored[foreign] += 1
        return None
    attribute = terms.attributes.get(foreign, foreign)
    if attribute not in ATTRIBUTES:
        raise Fault(
            f"attribute {raw['attribute']!r} is not known. Use {', '.join(ATTRIBUTES)}, or name it under "
            '"attributes" or "ignore" of the mapping.'
        )
    values = [ours for value in _listed(raw["values"]) for ours in _values(attribute, value, terms)]
    if not values:
        raise Fault(f"{attribute} has no value. Use {forms(attribute)}.")
    if not isinstance(raw["denied"], bool):
        raise Fault(f"{attribute}: whether it is denied is {raw['denied']!r}. Use true or false.")
    if raw["doubt"] not in tuple(Doubt):
        raise Fault(f"{attribute}: doubt is {raw['doubt']!r}. Use {', '.join(Doubt)}.")
    vehicle = raw.get("vehicle", vehicle)
    if vehicle not in (ASKED, ANOTHER):
        raise Fault(f"{attribute}: vehicle is {vehicle!r}. Use {ASKED} or {ANOTHER}.")
    return Said(attribute, tuple(sorted(set(values))), raw["denied"], vehicle, Doubt(raw["doubt"]))


def _parts(entry: Any) -> dict[str, Any]:
    """A cue in either form as one: attribute, values, denied, doubt."""
    if isinstance(entry, list) and 2 <= len(entry) <= 4:
        named = dict(zip(("attribute", "values", "denied", "doubt"), entry, strict=False))
        return {"denied": False, "doubt": "firm"} | named
    if isinstance(entry, dict) and "attribute" in entry:
        values = entry["values"] if "values" in entry else entry.get("value", [])
        denied = entry["denied"] if "denied" in entry else entry.get("negated", False)
        found = {
            "attribute": entry["attribute"],
            "values": values,
            "denied": denied,
            "doubt": entry.get("doubt", "firm"),
        }
        return found | ({"vehicle": entry["vehicle"]} if "vehicle" in entry else {})
    raise Fault(
        f"cue {json.dumps(entry)} cannot be read. "
        'Write ["body", ["van"], false] or {"attribute": "body", "value": "van", "negated": false}.'
    )


def _listed(value: Any) -> list[Any]:
    return value if isinstance(value, list) else [value]


def _values(attribute: str, value: Any, terms: Terms) -> Sequence[str]:
    if isinstance(value, dict) and attribute in PLACES:
        if unknown := value.keys() - PLACE_PARTS.keys():
            raise Fault(f"{attribute} has {', '.join(sorted(unknown))}. Use {', '.join(PLACE_PARTS)}.")
        value = "|".join(str(value.get(part) or "") for part in PLACE_PARTS)
    if isinstance(value, bool) or not isinstance(value, str | int):
        raise Fault(f"{attribute} has the value {json.dumps(value)}. Use {forms(attribute)}.")
    mapped = terms.values.get(attribute, {}).get(plain(str(value)))
    found = [own_value(attribute, ours) for ours in mapped or (str(value),)]
    spelt = [ours for ours in found if ours is not None]
    if len(spelt) < len(found):
        raise Fault(
            f"{attribute} has no value {str(value)!r}. Use {forms(attribute)}, "
            f'or name it under "values", "{attribute}" of the mapping.'
        )
    return spelt
