"""The text index as the rest of the house relies on it, over an invented handful of notes."""

import gc
import itertools
import random
import shutil
import threading
from pathlib import Path

import numpy as np
import pytest

from catalog.search.port import TextDocument, TextHit, TextIndex
from catalog.search.tokens import tokenise
from catalog.search.whoosh_index import build_index, open_index

NOTES = (
    TextDocument("record", "QK7-M2T", "Ostrel Vanto", None, "Cut loop behind the front panel. The pack stays live."),
    TextDocument(
        "record", "B3D-FGH", "Ostrel Vanto Prime", None, "Service plug under the rear seat; the cable is orange."
    ),
    TextDocument(
        "guide", "ZZT-11/1", "Guide to the Ostrel Vanto", 4, "Chock the wheels first. Pack, pack again, cut here."
    ),
    TextDocument(
        "guide", "ZZT-11/1", "Guide to the Ostrel Vanto", 5, "Loop before cut. 400V battery, batteries in pairs."
    ),
    TextDocument("guide", "ZZT-12/3", "Anleitung Düvel", 2, "Schleife trennen, nicht den Türgriff lösen.", "de"),
)


@pytest.fixture(scope="module")
def index(tmp_path_factory: pytest.TempPathFactory) -> TextIndex:
    folder = tmp_path_factory.mktemp("text") / "index"
    build_index(folder, NOTES)
    return open_index(folder)


def found(index: TextIndex, query: str, limit: int = 20) -> list[tuple[str, int | None]]:
    total, hits = index.find(query, limit)
    assert len(hits) == min(total, limit)
    return [(hit.key, hit.page) for hit in hits]


def shown(hit: TextHit) -> str:
    return "".join(f"[{text}]" if is_match else text for text, is_match in hit.snippet)


def test_a_word_of_the_text_or_the_title(index: TextIndex) -> None:
    assert found(index, "orange") == [("B3D-FGH", None)]
    assert found(index, "prime") == [("B3D-FGH", None)]


def test_a_hit_says_what_it_is(index: TextIndex) -> None:
    _, (hit,) = index.find("SCHLEIFE", 5)
    assert (hit.kind, hit.key, hit.title, hit.page, hit.lang) == ("guide", "ZZT-12/3", "Anleitung Düvel", 2, "de")
    assert shown(hit) == "[Schleife] trennen, nicht den Türgriff lösen."
    assert hit.score > 0


def test_accents_may_be_left_out_or_typed(index: TextIndex) -> None:
    assert found(index, "duvel turgriff") == found(index, "Düvel Türgriff") == [("ZZT-12/3", 2)]


def test_a_note_with_more_of_the_words_comes_first(index: TextIndex) -> None:
    assert found(index, "service plug loop")[0] == ("B3D-FGH", None)
    assert ("QK7-M2T", None) in found(index, "service plug loop")


def test_hits_are_best_first(index: TextIndex) -> None:
    _, hits = index.find("cut pack vanto", 20)
    assert [hit.score for hit in hits] == sorted((hit.score for hit in hits), reverse=True)


def test_the_total_counts_beyond_the_limit(index: TextIndex) -> None:
    total, hits = index.find("vanto", 1)
    assert total == 4
    assert len(hits) == 1
    assert index.find("vanto", 0) == index.find("vanto", -1) == (4, ())


def test_the_last_word_may_be_unfinished(index: TextIndex) -> None:
    total, (hit,) = index.find("400 batt", 5)
    assert total == 1
    assert shown(hit) == "Loop before cut. [400]V [battery], [batteries] in pairs."
    assert found(index, "batt 400") == [("ZZT-11/1", 5)]  # found by 400 alone
    assert found(index, "batt absent") == []


def test_one_letter_is_not_completed(index: TextIndex) -> None:
    assert found(index, "b") == []


def test_quotation_marks_keep_words_side_by_side(index: TextIndex) -> None:
    assert found(index, '"cut loop"') == [("QK7-M2T", None)]
    assert found(index, '"pack pack"') == [("ZZT-11/1", 4)]
    assert found(index, '"ostrel vanto prime"') == [("B3D-FGH", None)]
    assert found(index, '"loop cut"') == []
    assert found(index, '"cut absent"') == []


def test_every_quotation_must_be_there(index: TextIndex) -> None:
    assert found(index, '"cut loop" "pack stays"') == [("QK7-M2T", None)]
    assert found(index, '"cut loop" "chock the wheels"') == []


def test_a_quotation_narrows_what_the_other_words_find(index: TextIndex) -> None:
    assert found(index, 'vanto "chock the"') == [("ZZT-11/1", 4)]


def test_a_quotation_does_not_run_from_title_into_text(index: TextIndex) -> None:
    assert found(index, '"prime service"') == []


@pytest.mark.parametrize(
    "query",
    [
        "", "   ", "*", "?", "AND (", "OR NOT", ")(", '"', '""', "'", "title:", "text:*", "[a TO", "~~^^2", "cut^",
        "/.*/", "\x00", "\ud800", "\n\t", "-" * 2000, "🚒", "{\\", "<>", "^", "loop~9", "NOT", "key:QK7", "'s",
    ],
)  # fmt: skip
def test_no_text_is_refused(index: TextIndex, query: str) -> None:
    total, hits = index.find(query, 20)
    assert total >= len(hits)


@pytest.mark.parametrize("query", ["", "*", "-" * 2000, "( ) : ^ ~", "kind:guide", "title:prime*x"])
def test_there_is_no_query_language(index: TextIndex, query: str) -> None:
    words = " ".join(token.text for token in tokenise(query))
    assert index.find(query, 20) == index.find(words, 20)
    assert found(index, "*") == []


@pytest.mark.parametrize(
    ("query", "total"),
    [("a" * 2000, 0), ("cut " * 500, 3), ('"cut loop" ' * 200, 1), (" ".join(f"w{n}" for n in range(500)), 0)],
)
def test_a_very_long_query_is_answered(index: TextIndex, query: str, total: int) -> None:
    assert index.find(query, 20)[0] == total


def test_a_repeated_word_counts_once(index: TextIndex) -> None:
    assert index.find("cut cut CUT", 5) == index.find("cut", 5)


def test_impacts_are_the_scores_of_a_single_word(index: TextIndex) -> None:
    impacts = index.impacts()
    assert list(impacts.terms) == sorted(impacts.terms)
    assert len(impacts.indptr) == len(impacts.terms) + 1
    assert impacts.indptr[-1] == len(impacts.docs) == len(impacts.scores)
    for term in impacts.terms:
        docs, scores = impacts.row(term)
        assert (np.diff(docs) > 0).all()
        assert (scores > 0).all()
        _, hits = index.find(term, 20)
        by_key = {(hit.kind, hit.key, hit.page): hit.score for hit in hits}
        keys = [impacts.documents[number] for number in docs]
        assert by_key == {(key.kind, key.key, key.page): score for key, score in zip(keys, scores, strict=True)}
    assert impacts.row("absent")[0].size == 0


def test_the_impacts_hold_every_word_of_every_note(index: TextIndex) -> None:
    impacts = index.impacts()
    for number, key in enumerate(impacts.documents):
        (note,) = [n for n in NOTES if (n.kind, n.key, n.page) == (key.kind, key.key, key.page)]
        written = {token.text for token in tokenise(f"{note.title} {note.text}")}
        held = {term for term in impacts.terms if number in impacts.row(term)[0]}
        assert held == written


def test_the_order_of_the_notes_given_does_not_matter(index: TextIndex, tmp_path: Path) -> None:
    build_index(tmp_path / "other", reversed(NOTES))
    other = open_index(tmp_path / "other")
    for query in ("vanto", "cut", "pack loop"):
        assert other.find(query, 20) == index.find(query, 20)


def test_equal_notes_give_equal_impact_files(tmp_path: Path) -> None:
    for name in ("one", "two"):
        build_index(tmp_path / name, NOTES)
    files = sorted((tmp_path / "one" / "impacts").iterdir())
    assert len(files) == 6
    for file in files:
        assert file.read_bytes() == (tmp_path / "two" / "impacts" / file.name).read_bytes()


def test_equal_scores_keep_the_order_of_keys(tmp_path: Path) -> None:
    notes = [TextDocument("guide", f"ZZT-{n}/1", "Same", 1, "Same words.") for n in (14, 12, 13, 11)]
    build_index(tmp_path / "index", notes)
    assert [key for key, _ in found(open_index(tmp_path / "index"), "same")] == [f"ZZT-{n}/1" for n in (11, 12, 13, 14)]


def test_quotations_find_exactly_what_reading_along_finds(tmp_path: Path) -> None:
    chance = random.Random(7)
    texts = [" ".join(chance.choices(("cut", "loop", "pack"), k=chance.randint(1, 9))) for _ in range(60)]
    build_index(
        tmp_path / "index", [TextDocument("record", f"{n:02}", "note", None, text) for n, text in enumerate(texts)]
    )
    index = open_index(tmp_path / "index")
    for length in (1, 2, 3, 4):
        for words in itertools.product(("cut", "loop", "pack"), repeat=length):
            phrase = " ".join(words)
            expected = [f"{n:02}" for n, text in enumerate(texts) if f" {phrase} " in f" {text} "]
            assert sorted(key for key, _ in found(index, f'"{phrase}"', 60)) == expected


def test_an_empty_index_finds_nothing(tmp_path: Path) -> None:
    build_index(tmp_path / "index", ())
    empty = open_index(tmp_path / "index")
    assert empty.find('cut "cut loop" lo', 5) == (0, ())
    assert empty.impacts().terms == ()


def test_notes_without_text_or_title_are_kept(tmp_path: Path) -> None:
    notes = (TextDocument("record", "A", "", None, "bare words"), TextDocument("record", "B", "named", None, ""))
    build_index(tmp_path / "index", notes)
    made = open_index(tmp_path / "index")
    assert found(made, "bare") == [("A", None)]
    assert found(made, "named") == [("B", None)]
    assert made.find("named", 1)[1][0].snippet == ()


def test_it_answers_after_its_folder_is_gone(tmp_path: Path) -> None:
    build_index(tmp_path / "index", NOTES)
    index = open_index(tmp_path / "index")
    shutil.rmtree(tmp_path / "index")
    assert found(index, '"cut loop"') == [("QK7-M2T", None)]
    assert len(found(index, "vanto")) == 4


def test_nothing_is_left_open(tmp_path: Path) -> None:
    build_index(tmp_path / "index", NOTES)
    index = open_index(tmp_path / "index")
    index.find("cut", 5)
    del index
    gc.collect()  # an unclosed file would warn, and warnings are errors


def test_threads_share_one_index(index: TextIndex) -> None:
    queries = ["vanto", '"cut loop"', "pack", "400 batt", '"chock the wheels"', "orange"]
    alone = {query: index.find(query, 20) for query in queries}
    wrong: list[str] = []

    def ask(shift: int) -> None:
        for turn in range(60):
            query = queries[(turn + shift) % len(queries)]
            if index.find(query, 20) != alone[query]:
                wrong.append(query)

    threads = [threading.Thread(target=ask, args=(shift,)) for shift in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert wrong == []
