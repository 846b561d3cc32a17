"""The time reading takes: `python -m tests.bench.reading [--json FILE]`.

Processor time of one reading of each text, the best of a few, beside a plain baseline in the same run: the
text in small letters, cut into words by a regular expression, each looked up in a dictionary of all the
words the reader knows. Texts: the hand-written set `first.jsonl`; and 20,000 characters of this and that,
among it what is meant to be slow. The reader must be linear, so the longest text is also read at a quarter
of its length.
"""

import argparse
import json
import random
import re
import time
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from catalog.domain.folding import fold_name
from catalog.resolve.lexicon import Lexicon, Name
from catalog.resolve.reading.phrases import phrase_table
from catalog.resolve.reading.reader import read
from catalog.resolve.reading.words import common_words
from tests.bench.timing import timed
from tests.eval.gates import Gate, report

OWN = Path(__file__).parents[1] / "eval" / "readings" / "first.jsonl"
LONG = 20_000
SEED = 20261125
_WORD = re.compile(r"[a-z0-9]+")


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench.reading", description=__doc__)
    parser.add_argument("--json", type=Path)
    options = parser.parse_args(argv)
    rows = [json.loads(line) for line in OWN.read_text(encoding="utf-8").splitlines()]
    lines = [row["text"] for row in rows]
    lexicon = _lexicon(rows)

    def reader(text: str) -> object:
        lexicon.forget()
        return read(text, lexicon, "left")

    began = time.perf_counter()
    reader("a word nobody knows: qzx")
    print(f"tables loaded in {time.perf_counter() - began:.2f} s (wall clock, once a process)\n")
    baseline = _baseline()
    ours, plain = timed(reader, lines, 5), timed(baseline, lines, 5)
    print(f"{len(lines)} hand-written lines, {_median([len(line) for line in lines])} characters at the median")
    print(f"{'':28}{'median ms':>11}{'p95 ms':>9}")
    print(f"{'reading':28}{ours.median * 1e3:11.3f}{ours.p95 * 1e3:9.3f}")
    print(f"{'cut and looked up':28}{plain.median * 1e3:11.3f}{plain.p95 * 1e3:9.3f}")
    print(f"reading takes {ours.median / plain.median:.0f} times the baseline\n")
    worst, growth = _long_texts(lines, reader, baseline)
    gates = [
        Gate("a line, median ms", ours.median * 1e3, 0.5, most=True),
        Gate("20,000 characters of anything, worst ms", worst * 1e3, 100.0, most=True),
        Gate("four times the text takes, times", growth, 5.0, most=True),
    ]
    return report("bench.reading", gates, options.json)


def _lexicon(rows: Sequence[Mapping[str, object]]) -> Lexicon:
    names: dict[tuple[str, str], None] = {}
    for row in rows:
        listed = row.get("names", [])
        assert isinstance(listed, list)
        names |= {(str(shown), str(kind)): None for shown, kind in listed}
    return Lexicon(Name(fold_name(shown), shown, kind) for shown, kind in names)


def _baseline() -> Callable[[str], object]:
    known = {word: place for place, word in enumerate([*phrase_table().ids, *common_words()])}
    return lambda text: [known.get(word) for word in _WORD.findall(text.lower())]


def _long_texts(
    lines: Sequence[str], reader: Callable[[str], object], baseline: Callable[[str], object]
) -> tuple[float, float]:
    """The worst time of one long text, and how much longer a text four times as long takes, at the worst."""
    print(f"{LONG} characters{'':13}{'ms':>8}{'plain ms':>10}{'a quarter, ms':>15}")
    worst = growth = 0.0
    for name, text in _anything(lines).items():
        whole = min(timed(reader, [text], 3).seconds)
        quarter = min(timed(reader, [text[: LONG // 4]], 3).seconds)
        plain = min(timed(baseline, [text], 3).seconds)
        print(f"{name:28}{whole * 1e3:8.1f}{plain * 1e3:10.2f}{quarter * 1e3:15.1f}")
        worst, growth = max(worst, whole), max(growth, whole / max(quarter, 0.002))
    print()
    return worst, growth


def _anything(lines: Sequence[str]) -> Mapping[str, str]:
    chance = random.Random(SEED)
    words: list[str] = sorted(common_words())
    letters = "abcdefghijklmnopqrstuvwxyz     "
    strange = (word + chance.choice(letters[:26]) * 2 for word in chance.choices(words, k=LONG // 4))
    made = {
        "descriptions": " ".join([*lines] * 4),
        "descriptions, no stops": " ".join([*lines] * 4).replace(".", "").replace(",", ""),
        "common words": " ".join(chance.choices(words, k=LONG // 4)),
        "misspelt words": " ".join(strange),
        "letters by chance": "".join(chance.choices(letters, k=LONG)),
        "one long word": "a" * LONG,
        "emoji": "🚗" * LONG,
        "another script": "белый фургон " * (LONG // 12),
        "digits": "1 " * (LONG // 2),
        "numbers to ring": "07700 900123 " * (LONG // 13),
        "marks": "?!.," * (LONG // 4),
        "apostrophes": "a'" * (LONG // 2),
        "ages": "21 plate " * (LONG // 9),
        "places": "port left " * (LONG // 10),
        "alternatives": "left or right rear " * (LONG // 18),
        "viewpoints": "port on my left as you look at it " * (LONG // 33),
        "other vehicles": "hit by a red bus " * (LONG // 17),
        "corrections": "white sorry black " * (LONG // 18),
        "hedges": "maybe white " * (LONG // 12),
        "questions": "van? no " * (LONG // 8),
        "denials": "no " * (LONG // 3),
        "spelled out": "x-ray nine quebec alpha " * (LONG // 24),
        "people": "my name is Dave Smith 14 Green Street " * (LONG // 38),
    }
    return {name: (text * 2)[:LONG] for name, text in made.items()}


def _median(values: Sequence[int]) -> int:
    return sorted(values)[len(values) // 2]


if __name__ == "__main__":
    raise SystemExit(main())
