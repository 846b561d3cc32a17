"""The chain of one record's revisions.

hash = sha256(canonical {code, seq, prev, base, format, content_hash, author, time, reason,
update}). `prev` is chain order, `base` what was edited. The first revision's prev and base are
ZERO; `update` names the guide update it came with, "" when none.
"""

from dataclasses import asdict, dataclass

from catalog.domain.canonical import content_hash

ZERO = "0" * 64


@dataclass(frozen=True, slots=True)
class Entry:
    """One link. time: UTC microseconds since 1970. content_hash: of the stored document."""

    code: str
    seq: int
    prev: str
    base: str
    format: int
    content_hash: str
    author: str
    time: int
    reason: str
    update: str = ""

    @property
    def hash(self) -> str:
        return content_hash(asdict(self))


@dataclass(frozen=True, slots=True)
class EditionEntry:
    """What an edition's hash covers: everything it says.

    members: (kind, key, revision hash). closed: (kind, key, reason) of what was withdrawn in it;
    the reason is what a crew is told, so it is covered as the members are.
    """

    number: int
    prev: str
    time: int
    author: str
    reason: str
    members: tuple[tuple[str, str, str], ...]
    closed: tuple[tuple[str, str, str], ...] = ()

    @property
    def hash(self) -> str:
        return content_hash(
            {
                "number": self.number,
                "prev": self.prev,
                "time": self.time,
                "author": self.author,
                "reason": self.reason,
                "members": [list(member) for member in sorted(self.members)],
                "closed": [list(member) for member in sorted(self.closed)],
            }
        )
