"""The text library behind the port: BM25F, stored notes, phrases.

Scores are reckoned once, when the index is built; a search sums them (see ranking.py) and asks
the library only for the notes of the page shown and for words side by side. The library's
query language is not reachable from outside.
"""

import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
from whoosh import index
from whoosh.query import Or, Phrase

from catalog.search.building import CHANGES, IMPACTS, LIBRARY, WHERE, build_index
from catalog.search.impacts import load_impacts
from catalog.search.library import FIELDS
from catalog.search.notes import NoteChange, Notes, changed_notes
from catalog.search.port import Impacts, TextDocument, TextHit
from catalog.search.queries import parse
from catalog.search.ranking import rank
from catalog.search.snippets import snippet

__all__ = ["WhooshIndex", "build_index", "open_index"]


class WhooshIndex:
    """A TextIndex over one folder. Everything is mapped when it is made, so the folder may be
    deleted under it; one reader, kept by a lock, since the library's readers hold a position."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._impacts = load_impacts(folder / IMPACTS)
        where = np.load(folder / WHERE, allow_pickle=False)
        # Each note's number in the library's index (0) or in that of the changes (1), and back.
        self._place = [(0, number) if number >= 0 else (1, -1 - number) for number in where.tolist()]
        self._number = {place: number for number, place in enumerate(self._place)}
        folders = [folder / LIBRARY, *([folder / CHANGES] if (where < 0).any() else [])]
        self._searchers = [index.open_dir(str(each)).searcher() for each in folders]
        self._lock = threading.Lock()

    def impacts(self) -> Impacts:
        return self._impacts

    def find(self, query: str, limit: int) -> tuple[int, tuple[TextHit, ...]]:
        ranked = rank(self._impacts, parse(query), self._holders)
        shown = slice(0, max(limit, 0))
        hits = zip(ranked.documents[shown].tolist(), ranked.scores[shown].tolist(), strict=True)
        return len(ranked.documents), tuple(self._hit(number, score, ranked.terms) for number, score in hits)

    def note(self, number: int) -> TextDocument:
        note = self._stored(number)
        return TextDocument(note["kind"], note["key"], note["title"], note.get("page"), note["text"], note["lang"])

    def notes(self) -> Iterator[TextDocument]:
        return map(self.note, range(len(self._place)))

    def changed(self, change: NoteChange) -> Notes:
        return changed_notes(self._folder, self._impacts, change, self.note)

    def _holders(self, phrase: tuple[str, ...]) -> list[int]:
        """The documents whose title or text has the words side by side."""
        wanted = Or([Phrase(field, list(phrase)) for field in FIELDS])
        with self._lock:
            found = [
                (which, number)
                for which, searcher in enumerate(self._searchers)
                for number in searcher.docs_for_query(wanted)
            ]
        return [self._number[place] for place in found if place in self._number]

    def _stored(self, number: int) -> dict[str, Any]:
        which, inside = self._place[number]
        with self._lock:
            found: dict[str, Any] = self._searchers[which].stored_fields(inside)
        return found

    def _hit(self, number: int, score: float, terms: frozenset[str]) -> TextHit:
        note = self._stored(number)
        return TextHit(
            kind=note["kind"],
            key=note["key"],
            title=note["title"],
            page=note.get("page"),
            score=score,
            snippet=snippet(note["text"], terms),
            lang=note["lang"],
        )


def open_index(folder: Path) -> WhooshIndex:
    """Open what build_index wrote. It unpickles: check the folder against its manifest first."""
    return WhooshIndex(folder)
