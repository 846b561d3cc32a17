"""The trail of who did what: one chain of entries, each covering the one before it.

hash = sha256(canonical {seq, prev, time, actor, via, action, subject, detail}); the first entry's prev is ZERO.
"""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any

from catalog.domain.canonical import content_hash


@dataclass(frozen=True, slots=True)
class TrailEntry:
    """One act. time: UTC microseconds since 1970. actor: the account's name, "" where nobody was signed in.

    via: page, token or terminal. subject: what it was done to. detail: as canonical JSON allows.
    """

    seq: int
    prev: str
    time: int
    actor: str
    via: str
    action: str
    subject: str
    detail: Mapping[str, Any]

    @property
    def hash(self) -> str:
        return content_hash(asdict(self))
