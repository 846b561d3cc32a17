"""Reading documents of earlier formats.

Stored bytes are never rewritten; pure upgraders, one per format, run on read. An optional new
attribute needs none. There is one format so far, so the chain is empty.
"""

from collections.abc import Callable, Mapping
from typing import Any

from catalog.domain.record import FORMAT
from catalog.errors import BadInput

Document = dict[str, Any]
Upgrader = Callable[[Document], Document]

# Format n -> the function that makes format n + 1 of it, without touching its argument.
UPGRADERS: Mapping[int, Upgrader] = {}


class TooNew(BadInput):
    """The document was written by a later program than this one."""


def upgrade(document: Document, upgraders: Mapping[int, Upgrader] = UPGRADERS, current: int = FORMAT) -> Document:
    """The document in the current format; the same object when it is already.

    document: holds "format". Raises TooNew for a later format, KeyError naming a missing step.
    """
    version = document["format"]
    if version > current:
        raise TooNew(
            f"format {version} is newer than {current}, the newest this program reads",
            cure="Update the program on this machine, then read the document again.",
        )
    for step in range(version, current):
        document = {**upgraders[step](document), "format": step + 1}
    return document
