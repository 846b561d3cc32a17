"""What the rest of the house knows of the text index."""

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, NamedTuple, Protocol

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from catalog.search.notes import NoteChange, Notes

Kind = Literal["record", "guide"]
Snippet = tuple[tuple[str, bool], ...]


@dataclass(frozen=True, slots=True)
class TextDocument:
    """One searchable note. key: record code or source key. page: of a guide. lang: BCP 47 tag."""

    kind: Kind
    key: str
    title: str
    page: int | None
    text: str
    lang: str = "en"


@dataclass(frozen=True, slots=True)
class TextHit:
    """One note found. score: BM25F, comparable within one query only; never a confidence.

    snippet: pieces (text, is_match) of the note, whole sentences where they fit.
    """

    kind: Kind
    key: str
    title: str
    page: int | None
    score: float
    snippet: Snippet
    lang: str = "en"


class DocumentKey(NamedTuple):
    """Which note a row of the impacts belongs to."""

    kind: Kind
    key: str
    page: int | None


@dataclass(frozen=True, slots=True, eq=False)
class Impacts:
    """Every term's score in every document, as compressed sparse rows.

    terms: sorted, T of them. indptr: (T + 1,) int64. docs, scores: (nnz,) int32 and float64;
    row t is docs[indptr[t]:indptr[t + 1]], ascending. documents: one key per document number.
    A description's score is the sum of the rows of its distinct terms.
    """

    terms: tuple[str, ...]
    indptr: NDArray[np.int64]
    docs: NDArray[np.int32]
    scores: NDArray[np.float64]
    documents: tuple[DocumentKey, ...]

    def row(self, term: str) -> tuple[NDArray[np.int32], NDArray[np.float64]]:
        """(document numbers, scores) of a folded term; both empty when no document has it."""
        at = bisect_left(self.terms, term)
        if at == len(self.terms) or self.terms[at] != term:
            return self.docs[:0], self.scores[:0]
        span = slice(self.indptr[at], self.indptr[at + 1])
        return self.docs[span], self.scores[span]

    def beginning(self, prefix: str) -> tuple[str, ...]:
        """The terms that begin with a prefix, sorted."""
        first = bisect_left(self.terms, prefix)
        last = first
        while last < len(self.terms) and self.terms[last].startswith(prefix):
            last += 1
        return self.terms[first:last]


class TextIndex(Protocol):
    """A read-only text index of one edition; safe to share between threads."""

    def find(self, query: str, limit: int) -> tuple[int, tuple[TextHit, ...]]:
        """(how many notes match, the best `limit` of them). Never raises for any text."""
        ...

    def impacts(self) -> Impacts:
        """The scores behind `find`, for the evidence engine."""
        ...

    def note(self, number: int) -> TextDocument:
        """One note of the index, by its number among the impacts' documents."""
        ...

    def notes(self) -> Iterator[TextDocument]:
        """Every note of the index, as it was handed in."""
        ...

    def changed(self, change: "NoteChange") -> "Notes":
        """Its notes once some members' are others, without reading those that stay."""
        ...
