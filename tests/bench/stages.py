"""One description to its answer, timed by stage, under three states of the caches."""

import itertools
import time
from collections.abc import Sequence

from catalog.resolve import evidence
from catalog.resolve.evidence import Evidence, gather
from catalog.resolve.explain import why
from catalog.resolve.field import Field
from catalog.resolve.labels import cue_label
from catalog.resolve.lexicon import Lexicon
from catalog.resolve.names import lexicon_of
from catalog.resolve.posterior import posterior
from catalog.resolve.reading.reader import read
from tests.bench.timing import Times

STAGES = ("reading", "evidence", "posterior, first ten", "explanation")
CANDIDATES = STAGES[1:3]
Staged = dict[str, Times]


def answer(text: str, field: Field, lexicon: Lexicon) -> tuple[list[float], tuple[Evidence, ...]]:
    """The seconds of each stage, and the evidence."""
    marks = [time.thread_time()]
    reading = read(text, lexicon, "left")
    marks.append(time.thread_time())
    found = gather(reading.cues, field.tables, field.parameters)
    marks.append(time.thread_time())
    result = posterior(found, field)
    shown = result.order(10).tolist()
    marks.append(time.thread_time())
    for cue in reading.cues:
        cue_label(cue, field.tables)
    for place in shown:
        why(place, result, field)
    marks.append(time.thread_time())
    return [late - early for early, late in itertools.pairwise(marks)], found


def forget(lexicon: Lexicon) -> None:
    """Empty everything that a description leaves behind for the next one."""
    evidence._categorical.cache_clear()
    lexicon._memo.clear()


def never_heard(field: Field, others: Sequence[str], texts: Sequence[str], rounds: int) -> tuple[Staged, Staged]:
    """(new, again): descriptions never heard before, by a process that has answered others; then the same again.

    Every round begins with empty caches and the others. The best of the rounds per text and stage.
    """
    lexicon = lexicon_of(field.tables)
    new, again = ([[float("inf")] * len(STAGES) for _ in texts] for _ in range(2))
    for _ in range(rounds):
        forget(lexicon)
        for text in others:
            answer(text, field, lexicon)
        for best in (new, again):
            for place, text in enumerate(texts):
                _keep(best, place, answer(text, field, lexicon)[0])
    return _staged(new), _staged(again)


def cold(field: Field, texts: Sequence[str], rounds: int) -> Staged:
    """Every description as if it were the first that the process hears of this edition."""
    lexicon = lexicon_of(field.tables)
    best = [[float("inf")] * len(STAGES) for _ in texts]
    for _ in range(rounds):
        for place, text in enumerate(texts):
            forget(lexicon)
            _keep(best, place, answer(text, field, lexicon)[0])
    return _staged(best)


def _keep(best: list[list[float]], place: int, spent: list[float]) -> None:
    best[place] = [min(pair) for pair in zip(best[place], spent, strict=True)]


def _staged(best: list[list[float]]) -> Staged:
    return {name: Times([row[n] for row in best]) for n, name in enumerate(STAGES)}
