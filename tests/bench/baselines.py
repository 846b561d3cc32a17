"""Other ways of finding records by the raw words of a description: same notes, same process."""

import sqlite3
import tempfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from rapidfuzz import fuzz, process
from whoosh import index
from whoosh.query import Or, Term
from whoosh.scoring import BM25F

from catalog.search.library import FIELDS, write_library
from catalog.search.port import TextDocument
from catalog.search.tokens import tokenise

Search = Callable[[str], object]
LIMIT = 10


def fts5(notes: Sequence[str]) -> Search:
    """SQLite's full-text index in memory: any of the words, best ten by its own bm25."""
    connection = sqlite3.connect(":memory:")
    connection.execute("CREATE VIRTUAL TABLE notes USING fts5(text)")
    connection.executemany("INSERT INTO notes (text) VALUES (?)", [(note,) for note in notes])
    connection.execute("INSERT INTO notes (notes) VALUES ('optimize')")  # one segment: its fastest form
    statement = f"SELECT rowid FROM notes WHERE notes MATCH ? ORDER BY rank LIMIT {LIMIT}"

    def search(text: str) -> object:
        words = "".join(char if char.isalnum() else " " for char in text).split()
        return connection.execute(statement, (" OR ".join(f'"{word}"' for word in words),)).fetchall()

    return search


@contextmanager
def text_library(notes: Sequence[str], codes: Sequence[str]) -> Iterator[Search]:
    """The text library's own searcher over the index the product builds: any of the words, best ten by BM25F."""
    with tempfile.TemporaryDirectory() as folder:
        documents = [TextDocument("record", c, c, None, note) for c, note in zip(codes, notes, strict=True)]
        for _ in write_library(Path(folder) / "library", documents):
            pass
        opened = index.open_dir(str(Path(folder) / "library"))
        with opened.searcher(weighting=BM25F()) as searcher:

            def search(text: str) -> object:
                words = {token.text for token in tokenise(text)}
                query = Or([Term(field, word) for word in sorted(words) for field in FIELDS])
                return [hit.docnum for hit in searcher.search(query, limit=LIMIT)]

            yield search
        opened.close()


def closest(notes: Sequence[str]) -> Search:
    """rapidfuzz's token-set ratio against every note, best ten."""
    return lambda text: process.extract(text, notes, scorer=fuzz.token_set_ratio, limit=LIMIT)
