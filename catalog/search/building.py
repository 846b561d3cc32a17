"""Writing a text index: all of it, or only what differs from an earlier one.

library/    the text library's index of every note, as of some earlier edition or this one
changes/    its index of the notes that came since; may be missing
where.npy   (D,) int32: each note's number in library, or -1 - its number in changes
digests.npy, base.npy   (D, 32) and (B, 32) uint8: SHA-256 of each note, and of each in library
impacts/    counts and scores of exactly this index's notes: equal bytes whichever way it was written
"""

import hashlib
import json
import shutil
from collections.abc import Iterable, Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from catalog.search.counts import Counts, count, joined
from catalog.search.impacts import impacts_of, load_counts, save_impacts
from catalog.search.library import BOOSTS, FIELDS, kept_length, tokens_of, write_library
from catalog.search.port import TextDocument

LIBRARY, CHANGES, IMPACTS = "library", "changes", "impacts"
WHERE, DIGESTS, BASE = "where.npy", "digests.npy", "base.npy"
# More than one note in so many new, or gone: the library is written afresh, so that searches stay fast.
_FEW = 20


def build_index(folder: Path, documents: Iterable[TextDocument], earlier: Path | None = None) -> None:
    """Write an index into an empty or missing folder. Documents are ordered by kind, key and page.

    earlier: an index whose files were checked; what it has need not be written again.
    """
    notes = sorted(documents, key=lambda note: (note.kind, note.key, note.page or 0, note.title, note.text))
    digests = [_digest(note) for note in notes]
    folder.mkdir(parents=True, exist_ok=True)
    base = _usable(earlier, digests)
    if earlier is None or base is None:
        counts = count(write_library(folder / LIBRARY, notes), len(FIELDS))
        base, where = digests, np.arange(len(notes), dtype=np.int32)
    else:
        shutil.copytree(earlier / LIBRARY, folder / LIBRARY)
        where = _added(folder, notes, digests, base)
        counts = _counted(earlier, notes, digests)
    np.save(folder / WHERE, where, allow_pickle=False)
    np.save(folder / DIGESTS, _packed(digests), allow_pickle=False)
    np.save(folder / BASE, _packed(base), allow_pickle=False)
    save_impacts(folder / IMPACTS, impacts_of(counts, notes, BOOSTS, kept_length), counts)


def _usable(earlier: Path | None, digests: Sequence[bytes]) -> list[bytes] | None:
    """The digests of the earlier library's notes, if most are here still and little is new."""
    if earlier is None:
        return None
    base = _unpacked(earlier / BASE)
    shared = len(set(base) & set(digests))
    return base if _FEW * max(len(base) - shared, len(digests) - shared) <= len(base) else None


def _added(
    folder: Path, notes: Sequence[TextDocument], digests: Sequence[bytes], base: Sequence[bytes]
) -> NDArray[np.int32]:
    """Write what is not in the library into an index of its own; where each note stands."""
    number = {digest: place for place, digest in enumerate(base)}
    fresh = [place for place, digest in enumerate(digests) if digest not in number]
    where = np.array([number.get(digest, 0) for digest in digests], dtype=np.int32)
    where[fresh] = -1 - np.arange(len(fresh), dtype=np.int32)
    if fresh:
        for _ in write_library(folder / CHANGES, [notes[place] for place in fresh]):
            pass
    return where


def _counted(earlier: Path, notes: Sequence[TextDocument], digests: Sequence[bytes]) -> Counts:
    """The counts of these notes, most of them taken from an earlier index."""
    number = {digest: place for place, digest in enumerate(digests)}
    before = _unpacked(earlier / DIGESTS)
    places = np.array([number.get(digest, -1) for digest in before], dtype=np.int32)
    known = set(before)
    fresh = [place for place, digest in enumerate(digests) if digest not in known]
    words = (
        [[token.text for token in tokens_of(value)] for value in (notes[place].title, notes[place].text)]
        for place in fresh
    )
    new = count(words, len(FIELDS))
    return joined(load_counts(earlier / IMPACTS), places, new, np.array(fresh, dtype=np.int32))


def _digest(note: TextDocument) -> bytes:
    return hashlib.sha256(
        json.dumps([note.kind, note.key, note.title, note.page, note.text, note.lang]).encode()
    ).digest()


def _packed(digests: Sequence[bytes]) -> NDArray[np.uint8]:
    return np.frombuffer(b"".join(digests), dtype=np.uint8).reshape(-1, 32)


def _unpacked(path: Path) -> list[bytes]:
    return [bytes(row) for row in np.load(path, allow_pickle=False)]
