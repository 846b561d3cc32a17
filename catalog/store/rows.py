"""What the store hands out: plain, frozen rows. Times are UTC microseconds since 1970."""

import hashlib
import json
from dataclasses import dataclass
from typing import Any, NamedTuple

from catalog.errors import IntegrityError


@dataclass(frozen=True, slots=True)
class StoredEdition:
    """A published edition. hash, prev: lower-case hex."""

    number: int
    prev: str
    hash: str
    published_at_us: int
    author: str
    reason: str


@dataclass(frozen=True, slots=True)
class StoredRevision:
    """One revision of a record. content: the canonical bytes as stored. base: what was edited."""

    code: str
    seq: int
    hash: str
    prev: str
    base: str
    format: int
    content: bytes
    content_hash: str
    author: str
    time_us: int
    reason: str
    update: str

    @property
    def document(self) -> dict[str, Any]:
        """The document as stored, in its own format. Raises IntegrityError."""
        return document_of(self.content, self.content_hash, f"revision {self.seq} of {self.code}")


@dataclass(frozen=True, slots=True)
class Interval:
    """The editions from_edition up to, not including, to_edition; None: listed still.

    close_reason: why the member was withdrawn at to_edition; None when it was changed.
    """

    from_edition: int
    to_edition: int | None
    close_reason: str | None


@dataclass(frozen=True, slots=True)
class RevisionHistory:
    """A revision with the intervals it was listed in: more than one after going back."""

    revision: StoredRevision
    listed: tuple[Interval, ...]


@dataclass(frozen=True, slots=True)
class Member:
    """A member of an edition with its content. revision: the hash the edition covers."""

    kind: str
    key: str
    revision: str
    content: bytes
    content_hash: str

    @property
    def document(self) -> dict[str, Any]:
        """The document as stored. Raises IntegrityError."""
        return document_of(self.content, self.content_hash, f"{self.kind} {self.key}")


@dataclass(frozen=True)
class StoredDoubt:
    """A doubt. edition: the one published with it. path: see catalog.domain.doubt. revision: the one that said it."""

    edition: int
    code: str
    path: str
    revision: str
    author: str
    time_us: int
    reason: str


class Change(NamedTuple):
    """What differs for one member: revision hashes, None on the side where it is not listed.

    close_reason: why it was withdrawn; None otherwise, and always when looking backwards.
    """

    kind: str
    key: str
    old: str | None
    new: str | None
    close_reason: str | None


def document_of(content: bytes, content_hash: str, name: str) -> dict[str, Any]:
    """Parse stored bytes that still have the hash they were stored with. Raises IntegrityError."""
    if hashlib.sha256(content).hexdigest() != content_hash:
        raise IntegrityError(
            f"The stored bytes of {name} are not those that were published.",
            cure="Do not use it. Run chockbook verify, and restore the database from a copy.",
        )
    document: dict[str, Any] = json.loads(content)
    return document


class StoreFault(NamedTuple):
    """Something that is not as it was published. kind: a member's, "edition", "trail" or "file".

    key: code, source, vocabulary, edition or number of the entry. seq: of the revision; 0 where it is not about one.
    """

    kind: str
    key: str
    seq: int
    problem: str
