"""Record documents that passed the gate in this process, by their content hash: checked once, however often asked.

What passes depends on the bytes and the program alone, and a process is one program.
"""

import hashlib
import threading
from collections.abc import Mapping
from typing import Any

from catalog.domain.canonical import unchecked_bytes
from catalog.domain.findings import Severity
from catalog.domain.record import Record
from schemas.findings import Finding
from schemas.record import check_record

_MOST = 50_000  # some megabytes


class Passed:
    """Thread-safe."""

    def __init__(self) -> None:
        self._looks: dict[str, bool] = {}
        self._lock = threading.Lock()

    def check(self, document: dict[str, Any], digest: str) -> tuple[Record, tuple[Finding, ...]]:
        """As `check_record`, remembered. digest: `hash_of` the document. Raises Invalid."""
        made = check_record(document)
        with self._lock:
            self._looks[digest] = any(finding.severity is Severity.LOOK for finding in made[1])
            if len(self._looks) > _MOST:
                del self._looks[next(iter(self._looks))]
        return made

    def needs_look(self, document: dict[str, Any], digest: str) -> bool:
        """Whether something in it needs a look; looked for only where these bytes have not passed yet. Raises Invalid.

        digest: `hash_of` the document.
        """
        known = self._looks.get(digest)
        if known is not None:
            return known
        return any(finding.severity is Severity.LOOK for finding in self.check(document, digest)[1])


def hash_of(document: Mapping[str, Any]) -> str:
    """The content hash of what the gate lets through, without the walk of `content_hash`; "" of what has no bytes."""
    return bytes_and_hash(document)[1]


def bytes_and_hash(document: Mapping[str, Any]) -> tuple[bytes, str]:
    """The canonical bytes of what the gate lets through, with their hash; b"" and "" of what has none."""
    try:
        written = unchecked_bytes(document)
    except (ValueError, TypeError, RecursionError):
        return b"", ""
    return written, hashlib.sha256(written).hexdigest()
