"""Small documents and shorthands for the tests of the store."""

import random
from typing import Any

from sqlalchemy import Engine

from catalog.domain.codes import mint
from catalog.store.engine import write
from catalog.store.publish import Publication, go_back, publish

ALPHA, BRAVO, CHARLIE = sorted(mint(random.Random(number).choice) for number in range(3))
GUIDE, NEXT_ISSUE, OTHER_GUIDE = "OVR-11/1", "OVR-11/2", "TSK-4/1"

# A day, in microseconds, some way after 1970.
DAY = 86_400_000_000


def record(words: str = "", source: str = GUIDE) -> dict[str, Any]:
    """A record document that says `words` and cites a source."""
    return {
        "format": 1,
        "identity": {"make": "Ovren", "model": "Talisk", "years": {"from": 2021}, "src": [f"{source}:3"]},
        "notes": [{"id": "a", "lang": "en", "text": words or "Nothing special.", "src": [source]}],
    }


def guide(key: str = GUIDE, title: str = "Rescue guide") -> dict[str, Any]:
    """A source document whose number and issue are its key's."""
    number, issue = key.split("/")
    return {"kind": "guide", "number": number, "issue": int(issue), "title": title}


def put(engine: Engine, day: int, **what: Any) -> int:
    """Publish at the start of a day, with author and reason where not given."""
    publication = Publication(**{"author": "Ada Quill", "reason": f"Day {day}", **what})
    with write(engine) as conn:
        return publish(conn, publication, day * DAY)


def back(engine: Engine, day: int, to_edition: int) -> int:
    """Go back to an edition at the start of a day."""
    with write(engine) as conn:
        return go_back(conn, to_edition, "Ada Quill", "The change was wrong.", day * DAY)
