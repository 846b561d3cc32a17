"""How often each probability word was right: `python -m tests.eval.words [--small] [--set FILE] [--json FILE]`.

Every row that a page shows at first counts: three vehicles and "not in this catalogue". Simulated raw text of
2,000 generated records (--small: 600), of vehicles the temperature was not fitted to; and descriptions written by
hand of the demo catalogue: ours, and those of every --set file (format: see tests.eval.search). A word's gate is by
how much the exact 95 % bounds of its share miss what it is used for; a word never shown has no gate.
"""

import argparse
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from catalog.resolve.calibration.isotonic import levels, reliability
from catalog.resolve.calibration.measure import Measured, mean_and_error, measure
from catalog.resolve.calibration.words import WordRate, promised, word_rates
from catalog.resolve.field import Field
from catalog.resolve.parameters import shipped
from tests.eval.demo import demo_house
from tests.eval.gates import Gate, report
from tests.eval.search_ground import KINDS, RATE, labels_of, simulation
from tests.eval.search_written import OWN, written

RECORDS, DESCRIPTIONS, SMALL_RECORDS, SMALL_DESCRIPTIONS = 2000, 2000, 600, 500


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.eval.words", description=__doc__)
    parser.add_argument("--small", action="store_true", help="fewer records and descriptions")
    parser.add_argument("--set", type=Path, action="append", default=[], help="descriptions written by hand")
    parser.add_argument("--json", type=Path)
    options = parser.parse_args(argv)
    records, count = (SMALL_RECORDS, SMALL_DESCRIPTIONS) if options.small else (RECORDS, DESCRIPTIONS)
    gates = list(_told("simulated", _simulated(records, count)))
    with demo_house() as house:
        compiled = house.shelf.current()
        field = Field(compiled.tables, shipped(), RATE)
        for path in (OWN, *options.set):
            gates += _told(path.stem, measure(labels_of(written(path, field.tables), field.tables), field))
    print()
    return report("words", gates, options.json)


def _simulated(records: int, count: int) -> Measured:
    simulated = simulation(records)
    queries = simulated.queries(KINDS["I raw text"], count)
    return measure(labels_of(queries, simulated.ground.tables), replace(simulated.ground.field, parameters=shipped()))


def _told(name: str, found: Measured) -> Iterator[Gate]:
    nll, error = mean_and_error(found.nll)
    print(f"\n{name}: {len(found.nll)} descriptions, surprise {nll:.3f} nats (standard error {error:.3f})")
    print(f"{'word':12} {'used for':>12} {'shown':>6} {'right':>6} {'share':>6}   exact 95 %")
    for rate in word_rates(found.rows):
        low, high = promised(rate.word)
        share = f"{rate.right / rate.shown:6.2f}   {rate.low:.3f} to {rate.high:.3f}" if rate.shown else "     -"
        print(f"{rate.word:12} {f'{low:g} to {high:g}':>12} {rate.shown:6} {rate.right:6} {share}")
        if rate.shown:
            yield Gate(f"word_{rate.word.replace(' ', '_')}_{name}", _miss(rate), 0.0, most=True)
    out = [step for step in levels(reliability(found.firsts)) if not step.low - 1e-9 <= step.seen <= step.high + 1e-9]
    said = ", ".join(f"{step.first:.2f} to {step.last:.2f}: {step.right} of {step.shown}" for step in out)
    print(f"first answers outside the band of chance: {said or 'none'}")


def _miss(rate: WordRate) -> float:
    low, high = promised(rate.word)
    return max(0.0, rate.low - high, low - rate.high)


if __name__ == "__main__":
    raise SystemExit(main())
