"""What misreading costs: the whole pipeline on raw text beside the same pipeline fed with annotated cues."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

import seed_demo
from catalog.resolve.cue import Cue
from catalog.resolve.evidence import gather
from catalog.resolve.field import Field
from catalog.resolve.posterior import posterior
from tests.eval.reading_score import Result
from tests.eval.reading_terms import BadSet, Said


@dataclass(frozen=True, slots=True)
class Outcome:
    """One description weighed. within: tie-aware chance of being among the first 1 and 3. nll: nats."""

    within: tuple[float, float]
    nll: float


@dataclass(frozen=True, slots=True)
class Effect:
    """A described vehicle: what came of its raw text and of its annotated cues. listed: in the catalogue."""

    listed: bool
    raw: Outcome
    annotated: Outcome


def effect(result: Result, field: Field) -> Effect:
    """Both outcomes of one line that has a code. A record no longer listed counts as not in the catalogue.

    Raises BadSet for a code the demo catalogue never had.
    """
    code = result.line.code
    listed = code in field.tables.meta["codes"]
    if code is not None and not listed and code not in _ever():
        raise BadSet(
            f"{result.line.where}: no record has the code {code!r}. Use a code of the demo catalogue, or null."
        )
    cues = tuple(as_cue(said) for said in result.line.said)
    wanted = code if listed else None
    return Effect(listed, _outcome(result.cues, wanted, field), _outcome(cues, wanted, field))


def as_cue(said: Said) -> Cue:
    """An annotated cue as the pipeline takes it: nothing was heard anywhere."""
    return Cue(said.attribute, said.values, (), "", said.denied, said.doubt, vehicle=said.vehicle)


def _ever() -> frozenset[str]:
    return frozenset(code for edition in seed_demo.load().editions for code in edition.records)


def _outcome(cues: tuple[Cue, ...], code: str | None, field: Field) -> Outcome:
    result = posterior(gather(cues, field.tables, field.parameters), field)
    chances = dict(zip(field.tables.meta["codes"], (float(chance) for chance in result.records), strict=True))
    own = chances[code] if code else result.unlisted
    return Outcome((within(chances, code, 1), within(chances, code, 3)), -math.log(max(own, 1e-12)))


def within(scores: Mapping[str, float], code: str | None, k: int) -> float:
    """Chance of being among the first k when ties are broken at random; 0 for no code."""
    if code is None:
        return 0.0
    own = scores[code]
    better = sum(score > own + 1e-12 for score in scores.values())
    tied = sum(abs(score - own) <= 1e-12 for score in scores.values())
    return min(1.0, max(0.0, (k - better) / tied))


def table(effects: Sequence[Effect]) -> list[str]:
    """Rows to print; the interval is that of the paired difference."""
    listed = [entry for entry in effects if entry.listed]
    rows = [f"{'':16}{'annotated':>11}{'raw text':>11}{'lost':>9}   95 % interval"]
    for at, name in enumerate(("success@1", "success@3")):
        rows.append(_row(name, [(entry.annotated.within[at], entry.raw.within[at]) for entry in listed], -1))
    rows.append(_row("NLL", [(entry.annotated.nll, entry.raw.nll) for entry in effects], 1))
    return rows


def _row(name: str, pairs: Sequence[tuple[float, float]], sign: int) -> str:
    """sign: 1 where more is worse."""
    if len(pairs) < 2:
        return f"{name:16}   no data"
    annotated, raw = np.array(pairs).T
    lost = sign * (raw - annotated)
    spread = 1.96 * float(lost.std(ddof=1)) / math.sqrt(len(lost))
    mean = float(lost.mean())
    return (
        f"{name:16}{annotated.mean():11.3f}{raw.mean():11.3f}{mean:9.3f}   {mean - spread:.3f} to {mean + spread:.3f}"
    )
