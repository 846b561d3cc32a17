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
from catalog.resolve.truth import Signature

# A cue this close to 1:1 is neither for nor against.
_NEUTRAL_BITS = 0.15


@dataclass(frozen=True, slots=True)
class Bits:
    """One bar: log2 of how much it moved this vehicle against an average one."""

    label: str
    bits: float


def bars(position: int, result: Posterior, field: Field) -> tuple[Bits, ...]:
    """Bars that add up to log2(p / p of an average listed vehicle before anything was said)."""
    prior: Vector = field.tables.arrays["prior"]
    even = (1 - field.unlisted_rate) / field.tables.size
    made = [Bits("how common it is", math.log2(float(prior[position]) * field.tables.size))]
    made += [Bits(cue_label(entry.cue, field.tables), cue_bits(entry, position, field)) for entry in result.evidence]
    total = math.log2(float(result.records[position]) / even)
    made.append(Bits("against all the others", total - sum(bar.bits for bar in made)))
    return tuple(made)


def cue_bits(entry: Evidence, position: int, field: Field) -> float:
    """Tempered bits of one cue for one record; leaving the cue out takes exactly these away."""
    return math.log2(entry.at(position)) / field.parameters.temperature


def why(position: int, result: Posterior, field: Field) -> str:
    """One line: what fits, what is near, what speaks against it and what the record says instead."""
    said: dict[str, list[str]] = {"fits": [], "near": [], "against": [], "record does not state": []}
    for entry in result.evidence:
        standing = _standing(entry, position, field)
        if standing:
            instead = f" (record says {_record_says(entry.cue, position, field.tables)})"
            said[standing].append(
                cue_label(entry.cue, field.tables) + (instead if standing in ("near", "against") else "")
            )
    parts = [f"{standing}: {', '.join(labels)}" for standing, labels in said.items() if labels]
    return "; ".join(parts) or "nothing said tells it apart"


def _standing(entry: Evidence, position: int, field: Field) -> str:
    """How a cue stands to a record, in words; "" when it says nothing about it."""
    attribute, bits = entry.cue.attribute, cue_bits(entry, position, field)
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
    """Whether only the prior separates two vehicles: every cue treats them alike."""
    prior: Vector = tables.arrays["prior"]
    alike = all(math.isclose(e.at(first), e.at(second)) for e in result.evidence)
    return alike and not math.isclose(float(prior[first]), float(prior[second]))
