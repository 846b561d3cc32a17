"""What `python -m tests.eval.readings` prints for a person: tables of rates, what was misread, texts and speed."""

import math
from collections.abc import Callable, Iterable, Mapping, Sequence

import numpy as np

from catalog.resolve.cue import ANOTHER, ASKED, ATTRIBUTES, RANKING
from tests.eval.reading_keys import Key, Rates, keys_of, only, rates
from tests.eval.reading_score import Result, distinct_share
from tests.eval.reading_sets import PARTS, Line

Keys = frozenset[Key]
Pick = Callable[[Keys], Keys]

SUMS: Mapping[str, Pick] = {
    "vehicle B": lambda keys: only(keys, ATTRIBUTES, ANOTHER),
    "ranking": lambda keys: only(keys, RANKING),
    "scene": lambda keys: only(keys, ("scene",)),
    "all": lambda keys: keys,
}


def of(results: Iterable[Result], pick: Pick = SUMS["all"]) -> Rates:
    """Rates of the keys that are picked, over some results."""
    return rates((pick(result.meant), pick(result.found)) for result in results)


def part(results: Iterable[Result], name: str) -> list[Result]:
    return [result for result in results if result.line.part == name]


def cues(results: Sequence[Result]) -> None:
    """Rates by attribute (of the vehicle asked about) and by hand, a column for each part."""
    parts = {name: part(results, name) for name in PARTS}
    print("descriptions: " + ", ".join(f"{name} {len(found) or 'none'}" for name, found in parts.items()))
    parts = {name: found for name, found in parts.items() if found}
    if not parts:
        return
    seen = {key.attribute for result in results for key in result.meant | result.found}
    picks = {**{name: _about(name) for name in ATTRIBUTES if name in seen}, **SUMS}
    _table("attribute", parts, {name: _rates_of(pick) for name, pick in picks.items()})
    hands = sorted({result.line.hand for result in results})
    _table("hand", parts, {hand: _rates_by(hand) for hand in hands})
    whole = (f"{name} {sum(r.meant == r.found for r in found)} of {len(found)}" for name, found in parts.items())
    print("read without any mistake: " + ", ".join(whole))


def _about(attribute: str) -> Pick:
    return lambda keys: only(keys, (attribute,))


def _rates_of(pick: Pick) -> Callable[[Sequence[Result]], Rates]:
    return lambda results: of(results, pick)


def _rates_by(hand: str) -> Callable[[Sequence[Result]], Rates]:
    return lambda results: of(result for result in results if result.line.hand == hand)


def _table(
    title: str, parts: Mapping[str, Sequence[Result]], rows: Mapping[str, Callable[[Sequence[Result]], Rates]]
) -> None:
    print(f"\n{'':16}" + "".join(f"{name:>34}" for name in parts))
    print(f"{title:16}" + f"{'cues':>8}{'precision':>11}{'recall':>8}{'F1':>7}" * len(parts))
    for name, count in rows.items():
        print(f"{name:16}" + "".join(_cells(count(results)) for results in parts.values()))


def _cells(found: Rates) -> str:
    return f"{found.meant:8}" + "".join(
        f"{'–' if math.isnan(value) else f'{value:.3f}':>{width}}"
        for value, width in ((found.precision, 11), (found.recall, 8), (found.f1, 7))
    )


def misses(results: Iterable[Result]) -> None:
    """What was read otherwise than annotated, but for the lines that are only counted."""
    for result in results:
        if result.meant != result.found and not result.line.hidden:
            print(f"\n{result.line.where} {result.line.text}")
            _list("missed", result.meant - result.found)
            _list("instead", result.found - result.meant)


def traps(fired: Iterable[tuple[Result, Keys]]) -> None:
    """The traps that were read as cues, all of them."""
    for result, keys in fired:
        print(f"\n{result.line.where} {result.line.text}")
        _list("trap", keys)


def sides_and_masks(results: Sequence[Result]) -> None:
    """Sides turned round and strings not masked, by part; texts but for the lines that are only counted."""
    for title, faults in (
        ("sides turned round", {result.line.where: result.flips for result in results}),
        ("not masked", {result.line.where: result.bare for result in results}),
    ):
        counts = (f"{name} {sum(len(faults[r.line.where]) for r in part(results, name))}" for name in PARTS)
        print(f"{title}: " + ", ".join(counts))
        for result in results:
            for fault in () if result.line.hidden else faults[result.line.where]:
                print(f"   {result.line.where} {fault}: {result.line.text}")
    annotated = sum(len(result.line.masked) for result in results)
    print(f"strings to be masked: {annotated}; spans masked beside: {sum(result.beside for result in results)}")


def agreement(lines: Sequence[Line], second: Sequence[Line]) -> None:
    """F1 of two annotations of the same texts: no reader can be expected above it."""
    first = {line.text: keys_of(line.said) for line in lines}
    pairs = [(first[line.text], keys_of(line.said)) for line in second if line.text in first]
    for line in second:
        if line.text not in first:
            print(f"{line.where}: this text is in no set; it is left out of the agreement")
    if not pairs:
        print("agreement of two annotations: no data (no second.jsonl, or none of its texts in a set)")
        return
    sums = {name: rates((pick(one), pick(other)) for one, other in pairs).f1 for name, pick in SUMS.items()}
    print(f"agreement of two annotations, F1 over {len(pairs)} texts: " + _named(sums))


def texts(results: Sequence[Result]) -> None:
    """How varied the texts are, and how fast they were read."""
    shares = {name: distinct_share(result.line.text for result in part(results, name)) for name in PARTS}
    print("share of distinct word 4-grams: " + _named(shares | {"all": distinct_share(r.line.text for r in results)}))
    if results:
        took = 1000 * np.array([result.seconds for result in results])
        print(
            f"reading a description: mean {took.mean():.2f} ms, "
            f"95 % under {np.quantile(took, 0.95):.2f} ms, slowest {took.max():.1f} ms"
        )


def _named(values: Mapping[str, float]) -> str:
    return ", ".join(f"{name} {'no data' if math.isnan(value) else f'{value:.3f}'}" for name, value in values.items())


def _list(title: str, keys: Keys) -> None:
    for key in sorted(keys):
        whose = "" if key.vehicle == ASKED else "other vehicle: "
        print(f"   {title:8} {whose}{key.attribute} {'not ' if key.denied else ''}{' or '.join(key.values)}")
