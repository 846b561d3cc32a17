"""Words that often stay unread, for the steward: counted once a description, written outside requests.

A request only adds to a tally in memory. Every few seconds a thread hashes what is there under a key of
this data folder and adds it to the database; a word itself is written once three separate descriptions
held it. No description, and nothing that could be put together to one, is ever written.

Separate means: nobody says of a text twice that it is finished (the API's `settled`, a pressed button, the
desk's line when it is emptied or left), and what comes again within this process is not counted again:
neither a text, known by a hash under a key that dies with the process, nor a word of the same line.
"""

import hashlib
import hmac
import secrets
import threading
from collections import Counter, OrderedDict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, TypeVar

from catalog.errors import ChockbookError
from catalog.services.counting import flush_counts
from catalog.services.keys import key_of
from catalog.services.writing_later import keep_writing
from catalog.store import unread
from catalog.store.engine import read, write

if TYPE_CHECKING:
    from catalog.services.house import House

EVERY = 10.0  # seconds between writes
MOST_LISTED = 200
_REMEMBERED = 4096  # texts and lines a process remembers having counted
_MOST_WAITING = 5000  # words waiting to be written; more are not counted
KEY = "unread.key"
_KEY_BYTES = 32

_T = TypeVar("_T")


@dataclass(frozen=True, slots=True)
class UnreadWord:
    """A word and in how many separate descriptions it stayed unread."""

    word: str
    descriptions: int


@dataclass(eq=False)
class Tally:
    """What one process has counted and not written yet."""

    waiting: Counter[str] = field(default_factory=Counter)
    _texts: "OrderedDict[bytes, None]" = field(default_factory=OrderedDict, repr=False)
    _lines: "OrderedDict[bytes, set[str]]" = field(default_factory=OrderedDict, repr=False)
    _key: bytes = field(default_factory=lambda: secrets.token_bytes(_KEY_BYTES), repr=False)
    _lock: threading.Lock = field(default_factory=threading.Lock, repr=False)

    def note(self, text: str, words: frozenset[str], line: str = "") -> None:
        """Count the unread words of a finished description.

        line: a random name of the line it was typed in, where it may come again longer; its words count once.
        """
        with self._lock:
            if not words or not _first(self._texts, self._hashed(" ".join(text.split())), None):
                return
            counted: set[str] = set()
            if line and not _first(self._lines, self._hashed(line), counted):
                counted = self._lines[self._hashed(line)]
            for word in words - counted:
                if word in self.waiting or len(self.waiting) < _MOST_WAITING:
                    self.waiting[word] += 1
            counted |= words

    def take(self) -> Counter[str]:
        """Everything that waits, which then waits no more."""
        with self._lock:
            taken, self.waiting = self.waiting, Counter()
        return taken

    def put_back(self, words: Counter[str]) -> None:
        """What could not be written."""
        with self._lock:
            self.waiting.update(words)

    def _hashed(self, text: str) -> bytes:
        return hashlib.blake2b(text.encode(), key=self._key, digest_size=16).digest()


def _first(kept: "OrderedDict[bytes, _T]", key: bytes, value: _T) -> bool:
    """Keep the key, the oldest making room; whether it was not there yet."""
    if key in kept:
        return False
    kept[key] = value
    while len(kept) > _REMEMBERED:
        kept.popitem(last=False)
    return True


def flush(house: "House") -> int:
    """Write what waits; how many words that were. Raises Unavailable, having put all back."""
    taken = house.tally.take()
    if not taken:
        return 0
    try:
        key = key_of(house.settings.data, KEY)  # words are hashed under it
        with write(house.engine) as conn:
            unread.count(conn, {_digest(key, word): (word, more) for word, more in taken.items()})
    except (ChockbookError, OSError):
        house.tally.put_back(taken)
        raise
    return len(taken)


def often_unread(
    house: "House", limit: int = MOST_LISTED, offset: int = 0, part: str = ""
) -> tuple[tuple[UnreadWord, ...], int]:
    """Words that stayed unread in three separate descriptions or more and hold a part, the most frequent first: those
    from an offset on, and how many there are. Raises Unavailable."""
    with read(house.engine) as conn:
        found = tuple(UnreadWord(*row) for row in unread.often(conn, limit, offset, part))
        return found, unread.often_total(conn, part)


def keep_counts(house: "House", stop: threading.Event) -> threading.Thread:
    """Start a daemon thread that writes what waits, until `stop` is set and once more then."""

    def write_all() -> None:
        flush(house)
        flush_counts(house)

    return keep_writing("Counts", write_all, EVERY, stop)


def _digest(key: bytes, word: str) -> str:
    return hmac.new(key, word.encode(), hashlib.sha256).hexdigest()
