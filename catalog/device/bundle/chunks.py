"""Many small documents in chunks that stay the same where their documents do.

Where a chunk ends is decided by the key that ends it, not by counting, so that one document more or less changes the
chunk it is in and perhaps the next; a least and a most length keep them near even.
"""

import hashlib
import json
from collections.abc import Iterable, Iterator

from catalog.device.bundle.part import Part

LEAST, MOST = 8, 32
_ONE_IN = 8  # keys that end a chunk; with the least length sixteen documents are usual


def chunks(use: str, documents: Iterable[tuple[str, bytes]]) -> Iterator[Part]:
    """Parts {key: document} in the order given, each under its first key. documents: (key, JSON)."""
    held: list[tuple[str, bytes]] = []
    for key, document in documents:
        held.append((key, document))
        if (len(held) >= LEAST and _ends(key)) or len(held) == MOST:
            yield _chunk(use, held)
            held = []
    if held:
        yield _chunk(use, held)


def _ends(key: str) -> bool:
    return hashlib.sha256(key.encode()).digest()[0] % _ONE_IN == 0


def _chunk(use: str, held: list[tuple[str, bytes]]) -> Part:
    rows = (json.dumps(key).encode() + b":" + document for key, document in held)
    return Part(use, held[0][0], b"{" + b",\n".join(rows) + b"}")
