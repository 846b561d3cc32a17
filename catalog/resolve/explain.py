"""Why a vehicle is in the list: one line in words, and bars in bits that add up exactly."""

import math
from dataclasses import dataclass

from catalog.resolve.cue import Cue
from catalog.resolve.evidence import Evidence
from catalog.resolve.field import Field
from catalog.resolve.labels import cue_label, truth_words
from catalog.resolve.likelihood import Vector
from catalog.resolve.posterior import Posterior
from catalog.resolve.tables import Tables

# A cue this close to 1:1 is neither for nor against.
_NEUTRAL_BITS = 0.15
# At 1:1 these say nothing about the vehicle: an unrestricted colour, a name like none of its own.
_SILENT_AT_ONE = ("colour", "name")


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
    made += [Bits(cue_label(entry.cue), cue_bits(entry, position, field)) for entry in result.evidence]
    total = math.log2(float(result.records[position]) / even)
    made.append(Bits("against all the others", total - sum(bar.bits for bar in made)))
    return tuple(made)


def cue_bits(entry: Evidence, position: int, field: Field) -> float:
    """Tempered bits of one cue for one record; leaving the cue out takes exactly these away."""
    return math.log2(float(entry.ratio[position])) / field.parameters.temperature


def why(position: int, result: Posterior, field: Field) -> str:
    """One line: what fits, what speaks against it and what the record says instead."""
    fits: list[str] = []
    against: list[str] = []
    silent: list[str] = []
    for entry in result.evidence:
        bits = cue_bits(entry, position, field)
        label = cue_label(entry.cue)
        says = _record_says(entry.cue, position, field.tables)
        if says == "not stated":
            # Paint colour is never held against a record that does not restrict it.
            if entry.cue.attribute != "colour":
                silent.append(label)
        elif bits < -_NEUTRAL_BITS:
            against.append(f"{label} (record says {says})" if says else label)
        elif bits > _NEUTRAL_BITS or (entry.cue.attribute not in _SILENT_AT_ONE and bits >= 0):
            fits.append(label)
    parts = [
        f"fits: {', '.join(fits)}" if fits else "",
        f"against: {', '.join(against)}" if against else "",
        f"record does not state: {', '.join(silent)}" if silent else "",
    ]
    return "; ".join(part for part in parts if part) or "nothing said tells it apart"


def _record_says(cue: Cue, position: int, tables: Tables) -> str:
    if cue.attribute == "name":
        return str(tables.meta["titles"][position])
    signatures = tables.meta["signatures"][cue.attribute]
    return truth_words(cue.attribute, signatures[int(tables.arrays[f"sig_{cue.attribute}"][position])])


def tells_apart(result: Posterior) -> bool:
    """Whether anything said could rank. Paint alone does only where a record is sold in that colour only."""
    return any(entry.cue.attribute != "colour" or bool((entry.ratio > 1).any()) for entry in result.evidence)


def prior_decides(first: int, second: int, result: Posterior, tables: Tables) -> bool:
    """Whether only the prior separates two vehicles: every cue treats them alike."""
    prior: Vector = tables.arrays["prior"]
    alike = all(math.isclose(float(e.ratio[first]), float(e.ratio[second])) for e in result.evidence)
    return alike and not math.isclose(float(prior[first]), float(prior[second]))
