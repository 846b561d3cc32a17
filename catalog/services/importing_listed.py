"""What is listed now, as far as an import needs it for every record: hashes and who each is."""

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any, TypeVar

from sqlalchemy import Connection

from catalog.domain.documents import identity_from
from catalog.domain.folding import fold
from catalog.domain.record import Identity
from catalog.domain.sources import Source, source_from_document
from catalog.domain.vin import matches
from catalog.store import read as store
from catalog.store.tables import RECORD, SOURCE

T = TypeVar("T")
_IDENTITY = b'"identity":'
_decode = json.JSONDecoder().raw_decode


@dataclass(frozen=True, slots=True)
class ListedRecord:
    """One listed record. revision, content_hash: of the document as stored."""

    code: str
    revision: str
    content_hash: str
    identity: Identity


@dataclass(frozen=True, eq=False)
class Listed:
    """An edition. number: 0 before the first. sources: without their texts."""

    number: int
    records: Mapping[str, ListedRecord]
    withdrawn: Mapping[str, str]
    sources: Mapping[str, Source]
    source_hashes: Mapping[str, str]

    @cached_property
    def by_who(self) -> Mapping[tuple[object, ...], tuple[str, ...]]:
        """Codes by who they are: made when first asked for, since most files give codes."""
        made: dict[tuple[object, ...], list[str]] = {}
        for one in self.records.values():
            made.setdefault(who(one.identity), []).append(one.code)
        return {key: tuple(codes) for key, codes in made.items()}

    def with_vin(self, patterns: Iterable[str]) -> dict[str, str]:
        """Codes of records one of whose VIN patterns fits one of these, with that pattern."""
        asked = [pattern for pattern in patterns if not pattern.startswith("???")]
        return {
            one.code: vin
            for one in (self.records.values() if asked else ())
            for vin in one.identity.vins
            if any(matches(vin, pattern) for pattern in asked)
        }


def who(identity: Identity) -> tuple[object, ...]:
    """What makes two records the same vehicle: make, model, variant, years and propulsion."""
    names = tuple(fold(text or "") for text in (identity.make, identity.model, identity.variant))
    return (*names, identity.years, identity.propulsion)


def read_listed(conn: Connection) -> Listed:
    """What the newest edition lists."""
    newest = store.latest(conn)
    if newest is None:
        return Listed(0, {}, {}, {}, {})
    records = {}
    for member in store.members(conn, newest.number, RECORD):
        identity = identity_from(_identity_of(member.content))
        records[member.key] = ListedRecord(member.key, member.revision, member.content_hash, identity)
    sources, hashes = {}, {}
    for member in store.members(conn, newest.number, SOURCE):
        sources[member.key] = without_texts(member.document)
        hashes[member.key] = member.content_hash
    return Listed(newest.number, records, store.withdrawals(conn, newest.number), sources, hashes)


def without_texts(document: Mapping[str, Any]) -> Source:
    """A source as far as references to it need it."""
    return source_from_document({key: value for key, value in document.items() if key != "sections"})


def _identity_of(content: bytes) -> dict[str, Any]:
    """The identity in a stored document, without reading all of it.

    Inside a text a quotation mark would stand behind a backslash, so these bytes are the key wherever they first are.
    """
    found: dict[str, Any] = _decode(content[content.index(_IDENTITY) + len(_IDENTITY) :].decode())[0]
    return found
