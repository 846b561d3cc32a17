"""The invented catalogue: makes, models, guides and people that do not exist, with a history.

May import: catalog.domain and the standard library. Only the command line's demo (and tests)
import this room. README.md beside this file says how the documents are laid out.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from seed_demo.files import read_editions, read_families, read_sources
from seed_demo.merge import changed

Document = dict[str, Any]


@dataclass(frozen=True, slots=True)
class DemoEdition:
    """One edition as it is to be published.

    published_at: aware, UTC. records: code -> whole document, for records new or changed in it.
    reasons: code -> why, for the same codes. withdrawn: code -> why it must not be used.
    sources: key -> document, for sources new in it.
    """

    number: int
    published_at: datetime
    author: str
    reason: str
    records: Mapping[str, Document]
    reasons: Mapping[str, str]
    withdrawn: Mapping[str, str]
    sources: Mapping[str, Document]


@dataclass(frozen=True, slots=True)
class Demo:
    """The catalogue's editions, first to last."""

    editions: tuple[DemoEdition, ...]


def load() -> Demo:
    """Read the package's documents. Raises ValueError naming the file or path that does not fit."""
    families, sources = read_families(), read_sources()
    latest: dict[str, Document] = {}
    editions = []
    for stored in read_editions():
        edition = _edition(stored, families, sources, latest)
        latest |= edition.records
        editions.append(edition)
    return Demo(tuple(editions))


def _edition(
    stored: Document, families: Mapping[str, Document], sources: Mapping[str, Document], latest: Mapping[str, Document]
) -> DemoEdition:
    records = {entry["code"]: families[entry["code"]] for entry in stored.get("adds", ())}
    reasons = {entry["code"]: entry["reason"] for entry in stored.get("adds", ())}
    for change in stored.get("changes", ()):
        code = change["code"]
        records[code] = changed(latest[code], change)
        reasons[code] = change["reason"]
    return DemoEdition(
        number=stored["number"],
        published_at=datetime.fromisoformat(stored["published_at"]),
        author=stored["author"],
        reason=stored["reason"],
        records=records,
        reasons=reasons,
        withdrawn={entry["code"]: entry["reason"] for entry in stored.get("withdraw", ())},
        sources={key: sources[key] for key in stored.get("sources", ())},
    )
