"""How well descriptions find their record: `python -m tests.eval.resolve [--set FILE] [--json FILE]`.

A set is JSON Lines, one description per line:
  {"text": "white pickup, port left rear", "code": "QK7-M2T", "driving_side": "left"}
code is the record that is meant, or null for a vehicle that is not in the catalogue; driving_side
is optional (default left). Codes are those of the demo catalogue's newest edition, or of the
catalogue named by CHOCKBOOK_DATA / CHOCKBOOK_DATABASE with `--house`.

Beside us, on the same raw words: the prior alone, and the text library's own OR search over every
note and guide of the catalogue (records ranked by their notes; it has no probabilities, so only
its success is compared). Success is tie-aware: a record that ties with k others counts 1/k.
"""

import argparse
import json
import math
import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from catalog.config import Settings
from catalog.resolve.chance import WORDS
from catalog.search.port import Impacts
from catalog.search.tokens import tokenise
from catalog.services.house import House, open_house
from catalog.services.resolving import Description, resolve_description
from tests.eval.demo import demo_house
from tests.eval.gates import Gate, report

OWN = Path(__file__).parent / "sets" / "resolve.jsonl"


@dataclass(frozen=True, slots=True)
class Case:
    """One described vehicle and what came back. rank_share: tie-aware chance of being within k."""

    code: str | None
    true_probability: float
    top_probability: float
    top_right: bool
    unlisted: float
    within: Mapping[int, float]
    text_within: Mapping[int, float]


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.eval.resolve", description=__doc__)
    parser.add_argument("--set", type=Path, default=OWN, help="JSON Lines to score")
    parser.add_argument("--house", action="store_true", help="score the catalogue in CHOCKBOOK_DATA")
    parser.add_argument("--json", type=Path, help="write the gates here")
    options = parser.parse_args(argv)
    rows = [json.loads(line) for line in options.set.read_text(encoding="utf-8").splitlines() if line.strip()]
    if options.house:
        return _run(open_house(Settings.from_environment(os.environ)), rows, options.json)
    with demo_house() as house:
        return _run(house, rows, options.json)


def _run(house: House, rows: Sequence[Mapping[str, Any]], out: Path | None) -> int:
    cases = [_case(house, row) for row in rows]
    listed = [case for case in cases if case.code is not None]
    size = len(house.shelf.current().codes)
    rate = house.settings.unlisted_rate
    prior = [-math.log((1 - rate) / size if case.code else rate) for case in cases]
    ours = [-math.log(max(case.true_probability, 1e-12)) for case in cases]
    difference = np.array(prior) - np.array(ours)
    spread = 1.96 * float(difference.std(ddof=1)) / math.sqrt(len(cases))
    print(
        f"{len(cases)} descriptions, {len(listed)} of listed vehicles, {size} records, "
        f"edition {house.shelf.current().number}\n"
    )
    print(f"{'':26}{'s@1':>7}{'s@3':>7}{'s@10':>7}{'NLL':>8}")
    print(
        f"{'possible vehicles':26}"
        + "".join(f"{_mean(listed, 'within', k):7.3f}" for k in (1, 3, 10))
        + f"{np.mean(ours):8.3f}"
    )
    print(
        f"{'text library, same words':26}"
        + "".join(f"{_mean(listed, 'text_within', k):7.3f}" for k in (1, 3, 10))
        + f"{'–':>8}"
    )
    print(f"{'prior alone':26}" + "".join(f"{min(1, k / size):7.3f}" for k in (1, 3, 10)) + f"{np.mean(prior):8.3f}\n")
    _words(cases)
    gates = [
        Gate("success@3 against the text library", _mean(listed, "within", 3), _mean(listed, "text_within", 3)),
        Gate("NLL gained on the prior, lower 95 % bound", float(difference.mean()) - spread, 0.0),
        Gate("right where nearly sure or very likely", _right(cases, 0.85), 0.85),
    ]
    return report("resolve", gates, out)


def _case(house: House, row: Mapping[str, Any]) -> Case:
    answer = resolve_description(house, Description(row["text"], None, row.get("driving_side", "left")))
    code = row["code"]
    chances = {candidate.code: candidate.chance.probability for candidate in answer.candidates}
    size = len(house.shelf.current().codes)
    if not chances:
        chances = dict.fromkeys(house.shelf.current().codes, (1 - answer.unlisted.probability) / size)
    if code is not None and code not in chances:
        raise SystemExit(f"{code} is not in the catalogue: {row['text']!r}")
    own = chances[code] if code else answer.unlisted.probability
    top = max([*chances.values(), answer.unlisted.probability])
    scores = _text_scores(house.shelf.current().text.impacts(), row["text"])
    return Case(
        code=code,
        true_probability=own,
        top_probability=top,
        top_right=math.isclose(own, top),
        unlisted=answer.unlisted.probability,
        within={k: within(chances, code, k) for k in (1, 3, 10)},
        text_within={k: within({c: scores.get(c, 0.0) for c in chances}, code, k) for k in (1, 3, 10)},
    )


def _text_scores(impacts: Impacts, text: str) -> dict[str, float]:
    """The text library's own score of each record's note for the raw words (its rows, summed)."""
    total = np.zeros(len(impacts.documents))
    for term in sorted({token.text for token in tokenise(text)}):
        documents, scores = impacts.row(term)
        total[documents] += scores
    return {key.key: float(total[at]) for at, key in enumerate(impacts.documents) if key.kind == "record"}


def within(scores: Mapping[str, float], code: str | None, k: int) -> float:
    """Chance of being among the first k when ties are broken at random; 0 for no code."""
    if code is None:
        return 0.0
    own = scores[code]
    better = sum(score > own + 1e-12 for score in scores.values())
    tied = sum(abs(score - own) <= 1e-12 for score in scores.values())
    return min(1.0, max(0.0, (k - better) / tied))


def _mean(cases: Sequence[Case], name: str, k: int) -> float:
    return float(np.mean([getattr(case, name)[k] for case in cases])) if cases else 0.0


def _right(cases: Sequence[Case], floor: float) -> float:
    sure = [case.top_right for case in cases if case.top_probability >= floor]
    return float(np.mean(sure)) if sure else 1.0


def _words(cases: Sequence[Case]) -> None:
    print(f"{'word of the first':18}{'times':>7}{'right':>8}   (expert parameters: not calibrated)")
    upper = 1.01
    for bound, name in WORDS:
        held = [case.top_right for case in cases if bound <= case.top_probability < upper]
        upper = bound
        if held:
            print(f"{name:18}{len(held):7}{np.mean(held):8.2f}")
    print()


if __name__ == "__main__":
    raise SystemExit(main())
