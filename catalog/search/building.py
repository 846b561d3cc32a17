"""Writing a text index: all of it, or only what differs from an earlier one.

library/    the text library's index of every note, as of some earlier edition or this one
changes/    its index of the notes that came since; may be missing
where.npy   (D,) int32: each note's number in library, or -1 - its number in changes
digests.npy, base.npy   (D, 32) and (B, 32) uint8: SHA-256 of each note, and of each in library
impacts/    counts and scores of exactly this index's notes: equal bytes whichever way it was written
"""

from collections.abc import Iterable, Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from catalog.search.counts import Counts, count, joined
from catalog.search.impacts import impacts_of, load_counts, save_impacts
from catalog.search.library import BOOSTS, FIELDS, kept_length, tokens_of, write_library
from catalog.search.notes import DIGESTS, Notes, notes_of, read_digests
from catalog.search.port import TextDocument
from catalog.search.sharing import share_folder

LIBRARY, CHANGES, IMPACTS = "library", "changes", "impacts"
WHERE, BASE = "where.npy", "base.npy"
# More than one note in so many new, or gone: the library is written afresh, so that searches stay fast.
_FEW = 20


def build_index(folder: Path, documents: Iterable[TextDocument] | Notes, earlier: Path | None = None) -> None:
    """Write an index into an empty or missing folder. Documents are ordered by kind, key and page.

    earlier: an index whose files were checked; what it has need not be written again. Its library is shared, not
    copied: files of an index are never changed.
    """
    notes = documents if isinstance(documents, Notes) else notes_of(documents)
    digests = notes.digests
    folder.mkdir(parents=True, exist_ok=True)
    kept = _usable(earlier, digests)
    if earlier is None or kept is None:
        every = [notes.note(place) for place in range(len(digests))]
        counts, where = (
            count(write_library(folder / LIBRARY, every), len(FIELDS)),
            np.arange(len(every), dtype=np.int32),
        )
    else:
        share_folder(earlier / LIBRARY, folder / LIBRARY)
        counts, where = _counted(earlier, notes), _added(folder, notes, kept)
    np.save(folder / WHERE, where, allow_pickle=False)
    np.save(folder / DIGESTS, _packed(digests), allow_pickle=False)
    np.save(folder / BASE, _packed(digests if kept is None else kept), allow_pickle=False)
    save_impacts(folder / IMPACTS, impacts_of(counts, notes.keys, BOOSTS, kept_length), counts)


def _usable(earlier: Path | None, digests: Sequence[bytes]) -> list[bytes] | None:
    """The digests of the earlier library's notes, if most are here still and little is new."""
    if earlier is None:
        return None
    base = read_digests(earlier / BASE)
    shared = len(set(base) & set(digests))
    return base if _FEW * max(len(base) - shared, len(digests) - shared) <= len(base) else None


def _added(folder: Path, notes: Notes, base: Sequence[bytes]) -> NDArray[np.int32]:
    """Write what is not in the library into an index of its own; where each note stands."""
    number = {digest: place for place, digest in enumerate(base)}
    fresh = [place for place, digest in enumerate(notes.digests) if digest not in number]
    where = np.array([number.get(digest, 0) for digest in notes.digests], dtype=np.int32)
    where[fresh] = -1 - np.arange(len(fresh), dtype=np.int32)
    if fresh:
        for _ in write_library(folder / CHANGES, [notes.note(place) for place in fresh]):
            pass
    return where


def _counted(earlier: Path, notes: Notes) -> Counts:
    """The counts of these notes, most of them taken from an earlier index."""
    number = {digest: place for place, digest in enumerate(notes.digests)}
    before = read_digests(earlier / DIGESTS)
    places = np.array([number.get(digest, -1) for digest in before], dtype=np.int32)
    known = set(before)
    fresh = [place for place, digest in enumerate(notes.digests) if digest not in known]
    words = (
        [[token.text for token in tokens_of(value)] for value in (n.title, n.text)] for n in map(notes.note, fresh)
    )
    new = count(words, len(FIELDS))
    return joined(load_counts(earlier / IMPACTS, notes.before), places, new, np.array(fresh, dtype=np.int32))


def _packed(digests: Sequence[bytes]) -> NDArray[np.uint8]:
    return np.frombuffer(b"".join(digests), dtype=np.uint8).reshape(-1, 32)
