"""The notes of one index in order, each known by its digest; the words only of those that must be counted.

Of an edition in which little changed most notes need not be looked at again: their keys and digests are taken from the
index before it.
"""

import hashlib
import json
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from catalog.search.port import DocumentKey, Impacts, TextDocument

DIGESTS = "digests.npy"


@dataclass(frozen=True, slots=True, eq=False)
class Notes:
    """D notes, ordered by kind, key and page. keys, digests: of each. note: reads one by its place.

    before: the scores of the index they were changed from, if any.
    """

    keys: Sequence[DocumentKey]
    digests: Sequence[bytes]
    note: Callable[[int], TextDocument]
    before: Impacts | None = None


def notes_of(documents: Iterable[TextDocument]) -> Notes:
    """The notes handed in, in order."""
    ordered = sorted(documents, key=_order)
    keys = [DocumentKey(note.kind, note.key, note.page) for note in ordered]
    return Notes(keys, [digest(note) for note in ordered], ordered.__getitem__)


@dataclass(frozen=True, slots=True, eq=False)
class NoteChange:
    """Which members' notes are others now. touched: (kind, key) of each. fresh: all notes they have now."""

    touched: frozenset[tuple[str, str]]
    fresh: Sequence[TextDocument]


def changed_notes(folder: Path, impacts: Impacts, change: NoteChange, before: Callable[[int], TextDocument]) -> Notes:
    """The notes of an index once some members' are others.

    folder, impacts: of the checked index before. before: reads one of its notes.
    """
    keys = impacts.documents
    digests = read_digests(folder / DIGESTS)
    fresh = sorted(change.fresh, key=_order)
    # A member's notes are all kept or all fresh, so within a member either order stands.
    merged = [(key.kind, key.key, n, -1) for n, key in enumerate(keys) if (key.kind, key.key) not in change.touched]
    merged += [(note.kind, note.key, -1, n) for n, note in enumerate(fresh)]
    merged.sort()
    made_keys, made_digests = [], []
    for kind, key, old, new in merged:
        made_keys.append(keys[old] if new < 0 else DocumentKey(kind, key, fresh[new].page))
        made_digests.append(digests[old] if new < 0 else digest(fresh[new]))

    def note(place: int) -> TextDocument:
        _, _, old, new = merged[place]
        return before(old) if new < 0 else fresh[new]

    return Notes(made_keys, made_digests, note, impacts)


def read_digests(path: Path) -> list[bytes]:
    """The digests a file of them holds, in order."""
    held = np.load(path, allow_pickle=False).tobytes()
    return [held[at : at + 32] for at in range(0, len(held), 32)]


def digest(note: TextDocument) -> bytes:
    """SHA-256 of all of a note."""
    return hashlib.sha256(
        json.dumps([note.kind, note.key, note.title, note.page, note.text, note.lang]).encode()
    ).digest()


def _order(note: TextDocument) -> tuple[object, ...]:
    return (note.kind, note.key, note.page or 0, note.title, note.text, note.lang)
