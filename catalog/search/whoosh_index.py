"""The text library behind the port: BM25F, stored notes, phrases. Nothing else imports it.

Scores are read out once, when the index is built; a search sums them (see ranking.py) and asks
the library only for the notes of the page shown and for words side by side. The library's
query language is not reachable from outside.
"""

import threading
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from whoosh import fields, index
from whoosh.analysis import Analyzer
from whoosh.analysis import Token as LibraryToken
from whoosh.query import Or, Phrase
from whoosh.scoring import BM25F

from catalog.search.impacts import load_impacts, read_impacts, save_impacts
from catalog.search.port import Impacts, TextDocument, TextHit
from catalog.search.queries import parse
from catalog.search.ranking import rank
from catalog.search.snippets import snippet
from catalog.search.tokens import tokenise

# A word of the title counts twice (our choice, no source).
TITLE_BOOST = 2.0
FIELDS = ("title", "text")
_LIBRARY = "library"
_IMPACTS = "impacts"


class PortableAnalyser(Analyzer):  # type: ignore[misc]  # the library is untyped
    """Our tokeniser in the shape the library calls."""

    def __call__(self, value: str, **wanted: Any) -> Iterator[LibraryToken]:
        shared = LibraryToken(**{"removestops": False, **wanted})
        first = wanted.get("start_pos", 0)
        for position, token in enumerate(tokenise(value), start=first):
            shared.text = token.text
            shared.boost = 1.0
            shared.pos = position
            shared.startchar, shared.endchar = token.start, token.end
            yield shared


class WhooshIndex:
    """A TextIndex over one folder. Everything is mapped when it is made, so the folder may be
    deleted under it; one reader, kept by a lock, since the library's readers hold a position."""

    def __init__(self, folder: Path) -> None:
        self._impacts = load_impacts(folder / _IMPACTS)
        self._searcher = index.open_dir(str(folder / _LIBRARY)).searcher()
        self._lock = threading.Lock()

    def impacts(self) -> Impacts:
        return self._impacts

    def find(self, query: str, limit: int) -> tuple[int, tuple[TextHit, ...]]:
        ranked = rank(self._impacts, parse(query), self._holders)
        shown = slice(0, max(limit, 0))
        hits = zip(ranked.documents[shown].tolist(), ranked.scores[shown].tolist(), strict=True)
        return len(ranked.documents), tuple(self._hit(number, score, ranked.terms) for number, score in hits)

    def _holders(self, phrase: tuple[str, ...]) -> list[int]:
        """The documents whose title or text has the words side by side."""
        wanted = Or([Phrase(field, list(phrase)) for field in FIELDS])
        with self._lock:
            return list(self._searcher.docs_for_query(wanted))

    def _hit(self, number: int, score: float, terms: frozenset[str]) -> TextHit:
        with self._lock:
            note = self._searcher.stored_fields(number)
        return TextHit(
            kind=note["kind"],
            key=note["key"],
            title=note["title"],
            page=note.get("page"),
            score=score,
            snippet=snippet(note["text"], terms),
            lang=note["lang"],
        )


def build_index(folder: Path, documents: Iterable[TextDocument]) -> None:
    """Write an index into an empty or missing folder. Documents are ordered by kind, key and page."""
    library = folder / _LIBRARY
    library.mkdir(parents=True)
    made = index.create_in(str(library), _schema())
    writer = made.writer()
    ordered = sorted(documents, key=lambda note: (note.kind, note.key, note.page or 0, note.title, note.text))
    for note in ordered:
        writer.add_document(
            kind=note.kind, key=note.key, page=note.page, lang=note.lang, title=note.title, text=note.text
        )
    writer.commit()
    with made.searcher(weighting=BM25F()) as searcher:
        save_impacts(folder / _IMPACTS, read_impacts(searcher, FIELDS, ordered))
    made.close()


def open_index(folder: Path) -> WhooshIndex:
    """Open what build_index wrote. It unpickles: check the folder against its manifest first."""
    return WhooshIndex(folder)


def _schema() -> fields.Schema:
    words = PortableAnalyser()
    return fields.Schema(
        kind=fields.STORED,
        key=fields.STORED,
        page=fields.STORED,
        lang=fields.STORED,
        title=fields.TEXT(analyzer=words, stored=True, field_boost=TITLE_BOOST),
        text=fields.TEXT(analyzer=words, stored=True),
    )
