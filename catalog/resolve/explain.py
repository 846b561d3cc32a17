"""Why a vehicle is in the list: one line in words, and bars in bits that add up exactly."""

import math
from dataclasses import dataclass

from catalog.resolve.cue import RECORD, Cue
from catalog.resolve.evidence import Evidence
from catalog.resolve.field import Field
from catalog.resolve.labels import cue_label, truth_words
from catalog.resolve.likelihood import Vector
from catalog.resolve.posterior import Posterior
from catalog.resolve.tables import Tables
from catalog.resolve.together import together
from catalog.resolve.truth import Signature

# A cue this close to 1:1 is neither for nor against.
_NEUTRAL_BITS = 0.15


@dataclass(frozen=True, slots=True)
class Bits:
    """One bar: log2 of how much it moved this vehicle against an average one."""

    label: str
    bits: float


def bars(position: int, result: Posterior, field: Field) -> tuple[Bits, ...]:
    """Bars that add up to log2(p / p of an average listed vehicle before anything was said).

    The bar of a cue is what leaving it out would take away. Names overlap: what all of them say but none
    alone is a bar of its own.
    """
    prior: Vector = field.tables.arrays["prior"]
    even = (1 - field.unlisted_rate) / field.tables.size
    made = [Bits("how common it is", math.log2(float(prior[position]) * field.tables.size))]
    each = [cue_bits(entry, position, result, field) for entry in result.evidence]
    made += [Bits(cue_label(entry.cue, field.tables), bits) for entry, bits in zip(result.evidence, each, strict=True)]
    if result.joint is not None:
        alone = sum(_bits(entry, position, field) for entry in result.evidence)
        made.append(Bits("the names together", alone + _bits(result.joint, position, field) - sum(each)))
    total = math.log2(float(result.records[position]) / even)
    made.append(Bits("against all the others", total - sum(bar.bits for bar in made)))
    return tuple(made)


def cue_bits(entry: Evidence, position: int, result: Posterior, field: Field) -> float:
    """Tempered bits of one cue for one record; leaving the cue out takes exactly these away."""
    own = _bits(entry, position, field)
    if result.joint is None or entry.cue.attribute != "name":
        return own
    without = _joint_without(entry, result, field)
    return own + _bits(result.joint, position, field) - (0.0 if without is None else _bits(without, position, field))


def _joint_without(entry: Evidence, result: Posterior, field: Field) -> Evidence | None:
    """The same for every vehicle, so it is made once."""
    place = next(number for number, other in enumerate(result.evidence) if other is entry)
    if place not in result.without:
        result.without[place] = together([other for other in result.evidence if other is not entry], field)
    return result.without[place]


def _bits(entry: Evidence, position: int, field: Field) -> float:
    return math.log2(entry.at(position)) / field.parameters.temperature


def why(position: int, result: Posterior, field: Field) -> str:
    """One line: what fits, what is near, what speaks against it and what the record says instead."""
    said: dict[str, list[str]] = {"fits": [], "near": [], "against": [], "record does not state": []}
    for entry in result.evidence:
        standing = _standing(entry, position, result, field)
        if standing:
            instead = f" (record says {_record_says(entry.cue, position, field.tables)})"
            said[standing].append(
                cue_label(entry.cue, field.tables) + (instead if standing in ("near", "against") else "")
            )
    parts = [f"{standing}: {', '.join(labels)}" for standing, labels in said.items() if labels]
    return "; ".join(parts) or "nothing said tells it apart"


def _standing(entry: Evidence, position: int, result: Posterior, field: Field) -> str:
    """How a cue stands to a record, in words; "" when it says nothing about it."""
    attribute, bits = entry.cue.attribute, cue_bits(entry, position, result, field)
    if attribute in ("name", "vin", RECORD):
        return "fits" if bits > _NEUTRAL_BITS else "against" if bits < -_NEUTRAL_BITS else ""
    truth = _signature(entry.cue, position, field.tables)
    if truth is None:
        # Paint colour is never held against a record that does not restrict it.
        return "" if attribute == "colour" else "record does not state"
    if _is_set(truth):
        said_so = any(value in truth for value in entry.cue.values) is not entry.cue.denied
        return "fits" if said_so else "near" if bits > _NEUTRAL_BITS else "against"
    return "fits" if bits >= 0 else "against"


def _is_set(truth: Signature) -> bool:
    return isinstance(truth, list) and all(isinstance(value, str) for value in truth) and bool(truth)


def _record_says(cue: Cue, position: int, tables: Tables) -> str:
    if cue.attribute in ("name", RECORD):
        return str(tables.meta["titles"][position])
    return truth_words(cue.attribute, _signature(cue, position, tables))


def _signature(cue: Cue, position: int, tables: Tables) -> Signature:
    return tables.meta["signatures"][cue.attribute][int(tables.arrays[f"sig_{cue.attribute}"][position])]


def tells_apart(result: Posterior) -> bool:
    """Whether anything said could rank. Paint alone does only where a record is sold in that colour only."""
    return any(entry.cue.attribute not in ("colour", RECORD) or entry.favours for entry in result.evidence)


def prior_decides(first: int, second: int, result: Posterior, tables: Tables) -> bool:
    """Whether only the prior puts one vehicle before another: nothing said speaks for it more than for the other."""
    prior: Vector = tables.arrays["prior"]
    entries = result.evidence if result.joint is None else (*result.evidence, result.joint)
    said = sum(math.log(entry.at(first)) - math.log(entry.at(second)) for entry in entries)
    return said < 1e-9 and float(prior[first]) > float(prior[second]) * (1 + 1e-9)


def against_vin(position: int, result: Posterior, field: Field) -> tuple[str, ...]:
    """What was said that does not fit the vehicle a VIN points to; nothing where no VIN does."""
    if not any(entry.cue.attribute == "vin" and entry.at(position) > 1 for entry in result.evidence):
        return ()
    found = (entry for entry in result.evidence if _standing(entry, position, result, field) == "against")
    return tuple(cue_label(entry.cue, field.tables) for entry in found)
