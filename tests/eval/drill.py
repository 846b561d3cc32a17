"""A shift at the desk: `python -m tests.eval.drill [--set FILE] [--list] [--json FILE]`.

Calls written by hand (drill_scripts.py) are typed in, one thing said after the other. After each the desk puts one
question, and the caller's answer to it is fed as well; when all is said, up to three more. Measured over all calls,
by kind of call:

  things said until the facts of the brief are right: for the four facts a crew acts on first (how it is switched off,
  where the charge port is, how and where high voltage is cut off, where not to cut) the likeliest value is the
  vehicle's, from then on to the end of the call;
  same_on_all_wrong: facts that cost most (weight 3) shown as the same on all at the end, and not so on the vehicle;
  protective_missing: the most protective value among the vehicles that it may be is not shown beside a fact that
  differs, or the brief offers a charge port without its condition;
  wrong_vehicle: the brief at the end does not say its letter, or holds a vehicle "about even" or likelier that looks as
  only the other one does; beside it, in how many calls anything of the other one was weighed for ours;
  vehicles not in the catalogue that are shown as a record with "very likely" or more, at the end and at any moment.

A call's facts are not independent: the exact bounds over facts are what they would be if they were. `--list` names
every call that missed something.
"""

import argparse
from collections.abc import Sequence
from pathlib import Path

from catalog.resolve.calibration.bounds import exact_bounds
from seed_demo.cards.__main__ import newest_records
from tests.eval.drill_desk import Marks, catalogues, marks
from tests.eval.drill_scripts import KINDS, OWN, read_calls
from tests.eval.gates import Gate, report

SAME_WRONG = 0.02


def table(made: Sequence[Marks]) -> None:
    """A row for each kind of call, and one for all."""
    print(f"{'':16}{'calls':>6}{'said':>6}  right after (median)  never  {'same on all':>12}{'wrong':>6}  sure  ever")
    for kind in (*KINDS, "all"):
        rows = [each for each in made if kind in (each.call.kind, "all")]
        if not rows:
            continue
        after = sorted(each.until for each in rows if each.until is not None)
        spoken = sum(len(each.call.utterances) for each in rows) / len(rows)
        shown, wrong = sum(each.shown for each in rows), sum(len(each.wrong) for each in rows)
        middle = f"{after[len(after) // 2]}" if after else "-"
        print(
            f"{kind:16}{len(rows):6}{spoken:6.1f}  {middle:>20}  {len(rows) - len(after):5}  {shown:12}{wrong:6}"
            f"{sum(each.sure for each in rows):6}{sum(each.ever for each in rows):6}"
        )


def gates(made: Sequence[Marks]) -> list[Gate]:
    """The gates, with their bounds printed."""
    shown, wrong = sum(each.shown for each in made), sum(len(each.wrong) for each in made)
    low, high = exact_bounds(wrong, shown)
    print(f"same on all and wrong: {wrong} of {shown}, exact bounds {low:.4f} to {high:.4f}")
    mixed = sum(bool(each.mixed) for each in made)
    print(f"something of the other vehicle weighed for ours: {mixed} of {sum(bool(e.call.other) for e in made)} calls")
    unlisted = [each for each in made if not each.call.listed]
    for name, count in (("at the end", sum(e.sure for e in unlisted)), ("ever", sum(e.ever for e in unlisted))):
        low, high = exact_bounds(count, len(unlisted))
        print(f"not in the catalogue, very likely a record {name}: {count} of {len(unlisted)}, {low:.3f} to {high:.3f}")
    return [
        Gate("same_on_all_wrong", wrong / shown if shown else float("nan"), SAME_WRONG, most=True),
        Gate("protective_missing", sum(len(each.missing) for each in made), 0, most=True),
        Gate("wrong_vehicle", sum(len(each.taken) for each in made), 0, most=True),
    ]


def _what(each: Marks) -> tuple[tuple[str, list[str]], ...]:
    return (("wrong", each.wrong), ("missing", each.missing), ("mixed", each.mixed), ("taken", each.taken))


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(
        prog="python -m tests.eval.drill", description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--set", type=Path, default=OWN, help="calls of your own (form: tests/eval/drill_scripts.py)")
    parser.add_argument("--list", action="store_true", help="name every call that missed something")
    parser.add_argument("--json", type=Path)
    options = parser.parse_args(argv)
    calls = read_calls(options.set, sorted(newest_records()))
    with catalogues(calls) as where:
        made = [marks(call, where) for call in calls]
    table(made)
    if options.list:
        for each in made:
            for what, things in _what(each):
                if things:
                    print(f"{each.call.id}: {what}: {'; '.join(things)}")
            if each.until is None:
                print(f"{each.call.id}: the first facts are never right")
    return report("eval.drill", gates(made), options.json)


if __name__ == "__main__":
    raise SystemExit(main())
