"""The text library itself: its schema, its analyser, writing one index. Only this room imports it."""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any

from whoosh import fields, index
from whoosh.analysis import Analyzer
from whoosh.analysis import Token as LibraryToken
from whoosh.util.numeric import byte_to_length, length_to_byte

from catalog.search.port import TextDocument
from catalog.search.tokens import Token, tokenise

# A word of the title counts twice (our choice, no source).
TITLE_BOOST = 2.0
FIELDS = ("title", "text")
BOOSTS = (TITLE_BOOST, 1.0)


@lru_cache(maxsize=8)
def tokens_of(text: str) -> tuple[Token, ...]:
    """The text's tokens; the last few are kept, since a note's are both counted and written."""
    return tokenise(text)


def kept_length(words: int) -> int:
    """A field's length as the library keeps it: in one byte."""
    return int(byte_to_length(length_to_byte(words)))


class PortableAnalyser(Analyzer):  # type: ignore[misc]  # the library is untyped
    """Our tokeniser in the shape the library calls."""

    def __call__(self, value: str, **wanted: Any) -> Iterator[LibraryToken]:
        shared = LibraryToken(**{"removestops": False, **wanted})
        first = wanted.get("start_pos", 0)
        for position, token in enumerate(tokens_of(value), start=first):
            shared.text = token.text
            shared.boost = 1.0
            shared.pos = position
            shared.startchar, shared.endchar = token.start, token.end
            yield shared


def write_library(folder: Path, notes: Sequence[TextDocument]) -> Iterator[tuple[list[str], list[str]]]:
    """Write an index of the notes, in this order, into a new folder; yields the words of each note's fields.

    The index is written once all has been taken.
    """
    folder.mkdir(parents=True)
    made = index.create_in(str(folder), _schema())
    writer = made.writer()
    for note in notes:
        title, text = ([token.text for token in tokens_of(value)] for value in (note.title, note.text))
        writer.add_document(
            kind=note.kind, key=note.key, page=note.page, lang=note.lang, title=note.title, text=note.text
        )
        yield title, text
    writer.commit()
    made.close()


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
