"""The impacts equal what the text library itself answers.

Source: whoosh 2.7.4, `Searcher.search` of an Or of plain terms with its own BM25F.
"""

import random
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from whoosh import index as library
from whoosh.query import Or, Term
from whoosh.scoring import BM25F
from whoosh.searching import Searcher

from catalog.search.library import FIELDS
from catalog.search.port import Impacts, TextDocument
from catalog.search.whoosh_index import build_index, open_index

CHANCE = random.Random(20261125)
# Pronounceable invented words, the first ones said most often.
WORDS = [
    a + b for a in ("ka", "lo", "mi", "ru", "te", "vo", "zan", "pel") for b in ("ba", "dri", "fen", "go", "lu", "sti")
]
WEIGHTS = [1 / (rank + 1) for rank in range(len(WORDS))]
QUERIES = [CHANCE.sample(WORDS, k=CHANCE.randint(1, 5)) for _ in range(150)]


def note(number: int) -> TextDocument:
    title = " ".join(CHANCE.choices(WORDS, WEIGHTS, k=CHANCE.randint(1, 4)))
    text = " ".join(CHANCE.choices(WORDS, WEIGHTS, k=CHANCE.randint(3, 120)))
    return TextDocument("guide", f"ZZT-{number:03}/1", title, 1, text)


NOTES = [note(number) for number in range(400)]


def library_scores(searcher: Searcher, words: list[str]) -> dict[int, float]:
    """Every matching document's score, by the library's own search."""
    wanted = Or([Term(field, word) for word in words for field in FIELDS])
    return {hit.docnum: hit.score for hit in searcher.search(wanted, limit=None)}


def summed(impacts: Impacts, words: list[str]) -> dict[int, float]:
    scores = np.zeros(len(impacts.documents))
    for word in words:
        docs, row = impacts.row(word)
        scores[docs] += row
    return {int(number): float(scores[number]) for number in np.flatnonzero(scores)}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("impacts") / "index"
    build_index(made, NOTES)
    return made


def test_every_score_of_every_query_equals_the_library_s(folder: Path) -> None:
    impacts = open_index(folder).impacts()
    assert impacts.scores.dtype == np.float64
    with library.open_dir(str(folder / "library")).searcher(weighting=BM25F()) as searcher:
        for words in QUERIES:
            expected = library_scores(searcher, words)
            got = summed(impacts, words)
            assert got.keys() == expected.keys()
            assert got == pytest.approx(expected, abs=1e-9, rel=0)


def test_the_first_ten_come_in_the_library_s_order(folder: Path) -> None:
    """Equal scores (to 1e-9) may stand in either order; documents as far apart may not."""
    made = open_index(folder)
    ours = made.impacts()
    with library.open_dir(str(folder / "library")).searcher(weighting=BM25F()) as searcher:
        for words in QUERIES:
            expected = library_scores(searcher, words)
            _, hits = made.find(" ".join(words), 10)
            best = sorted(expected.values(), reverse=True)[:10]
            assert [hit.score for hit in hits] == pytest.approx(best, abs=1e-9, rel=0)
            by_key = {ours.documents[number].key: score for number, score in expected.items()}
            assert [by_key[hit.key] for hit in hits] == pytest.approx(best, abs=1e-9, rel=0)


@pytest.mark.parametrize("changed", [1, 12])
def test_an_index_of_which_a_little_changed_reads_the_same(tmp_path: Path, folder: Path, changed: int) -> None:
    """Twice in a row, with notes changed, gone and come back; scores are those of the whole index."""
    for step, gone in enumerate((0, changed, 0)):
        notes = [*NOTES[gone:], *(replace(one, text=f"{one.text} lobalo{gone}") for one in NOTES[:changed])]
        earlier = tmp_path / str(step - 1) if step else folder
        build_index(tmp_path / str(step), notes, earlier)
        build_index(tmp_path / f"{step}-afresh", notes)
        assert (tmp_path / str(step) / "changes").exists()
        for path in sorted((tmp_path / f"{step}-afresh" / "impacts").iterdir()):
            assert path.read_bytes() == (tmp_path / str(step) / "impacts" / path.name).read_bytes(), path.name
        made, whole = open_index(tmp_path / str(step)), open_index(tmp_path / f"{step}-afresh")
        assert list(made.notes()) == list(whole.notes())
        for words in QUERIES[:50]:
            for query in (" ".join(words), f'"{" ".join(words[:2])}"', "lobalo0"):
                assert made.find(query, 10) == whole.find(query, 10)
