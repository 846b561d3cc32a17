"""An edition's records and sources as documents, one after the other."""

from collections.abc import Iterator
from typing import Any

from catalog.errors import NotFound
from catalog.services.house import House
from catalog.store.engine import read
from catalog.store.read import edition as stored_edition
from catalog.store.read import latest, members


def export_records(house: House, *, edition: int | None = None) -> Iterator[dict[str, Any]]:
    """{"kind", "key", "edition", "revision", "document"} of every source, then every record, by key.

    Documents are as stored. Raises NotFound.
    """
    with read(house.engine) as conn:
        found = latest(conn) if edition is None else stored_edition(conn, edition)
        if found is None:
            raise NotFound(
                f"There is no edition {edition or ''}".strip() + ".", cure="List them: chockbook edition list"
            )
        for kind in ("source", "record"):
            for member in members(conn, found.number, kind):
                yield {
                    "kind": kind,
                    "key": member.key,
                    "edition": found.number,
                    "revision": member.revision,
                    "document": member.document,
                }
