"""Bringing in a proposal: a guide update, a crew report turned into a change, the restoring of a doubted fact.

Nothing of the catalogue changes by it. What was brought is stored whole and never altered; review and publication
are decisions beside it.
"""

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Connection

from catalog.domain import codes
from catalog.domain.canonical import NotCanonical, canonical_bytes, content_hash
from catalog.domain.chain import ZERO
from catalog.domain.record import Record
from catalog.domain.roles import Right
from catalog.errors import BadInput
from catalog.services.acting import Actor, require
from catalog.services.change_sets import tally_of
from catalog.services.clock import now_us
from catalog.services.compiling import record_of
from catalog.services.house import House
from catalog.services.passed import hash_of
from catalog.services.trail import note
from catalog.store import read as store
from catalog.store.engine import read, write
from catalog.store.turn import take_turn
from catalog.store.updates import NewUpdate, add_update, pack, update_by_digest
from schemas.source import load_source

Document = Mapping[str, Any]

ORIGINS = ("import", "crew report", "restore", "page")


@dataclass(frozen=True, slots=True)
class ProposedRecord:
    """What is said of one record.

    base: hash of the revision it was made against; ZERO for a new record. document: the whole record as it should
    be; None: it is not to be used any more, for `reason`. cells: fact path -> "sheet!row:column" it came from.
    """

    code: str
    base: str
    document: Document | None
    reason: str
    cells: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Proposed:
    """file_hash: SHA-256 of the file, or of what stands for one. origin: one of ORIGINS. sources: documents by
    "NUMBER/ISSUE". findings: what was found in it, JSON-able, in order. file: its bytes."""

    name: str
    file_hash: str
    origin: str
    records: tuple[ProposedRecord, ...]
    sources: Mapping[str, Document] = field(default_factory=dict)
    findings: tuple[Mapping[str, Any], ...] = ()
    file: bytes = b""


def propose(house: House, actor: Actor | None, proposed: Proposed) -> str:
    """As `propose_once`; its id alone."""
    return propose_once(house, actor, proposed)[0]


def propose_once(house: House, actor: Actor | None, proposed: Proposed) -> tuple[str, bool]:
    """Store a proposal; its id, as a number in text, and whether it was there already: the same is stored once.

    Raises NotSignedIn, Forbidden, BadInput (nothing in it, a document that does not pass the gate, "do not use"
    without a reason or of a record that was never there).
    """
    who = require(actor, Right.UPDATE)
    hashes = _check(house, proposed)
    with read(house.engine) as conn:
        bases = {one.base: _base(conn, one) for one in proposed.records}
    rows = _rows(proposed, bases, hashes)
    brought = sorted([one.code, one.base, hashes[one.code]] for one in proposed.records)
    digest = content_hash([proposed.file_hash, brought])
    now = now_us()
    with write(house.engine) as conn:
        known = update_by_digest(conn, digest)
        if known is not None:
            return str(known), True
        turn = take_turn(conn, now)
        known = update_by_digest(conn, digest)  # another bringing of it came between
        if known is not None:
            return str(known), True
        number = add_update(
            conn,
            NewUpdate(
                digest=digest,
                name=proposed.name,
                origin=proposed.origin,
                author=who.name,
                time_us=now,
                edition=turn.number - 1 or None,
                file_hash=proposed.file_hash,
                file=proposed.file,
                sources=proposed.sources,
                findings=proposed.findings,
            ),
            rows,
        )
        verb = "import" if proposed.origin == "import" else "propose"
        note(conn, who, verb, f"update {number}", {"name": proposed.name, "records": len(rows)})
    return str(number), False


def _check(house: House, proposed: Proposed) -> dict[str, str]:
    """The content hash of each document, by code; ZERO for do not use."""
    if proposed.origin not in ORIGINS:
        raise BadInput(f"origin is {proposed.origin!r}.", cure=f"Use one of: {', '.join(ORIGINS)}.")
    if not proposed.name.strip():
        raise BadInput("The update has no name.", cure="Name it by its file or by what it is for.")
    if not proposed.records and not proposed.sources:
        raise BadInput("Nothing in it differs from what is listed.", cure="There is nothing to review.")
    hashes: dict[str, str] = {}
    for one in proposed.records:
        if codes.parse(one.code) != one.code:
            raise BadInput(f"{one.code!r} is not a record code.", cure="Check the code: six characters.")
        if one.code in hashes:
            raise BadInput(f"{one.code} is in the update twice.", cure="Join what is said of it.")
        if not one.reason.strip():
            raise BadInput(f"{one.code} comes without a reason.", cure='Say why; "do not use" tells it to crews.')
        hashes[one.code] = ZERO
        if one.document is not None:
            document = dict(one.document)
            hashes[one.code] = hash_of(document)
            house.passed.needs_look(document, hashes[one.code])
        elif one.base == ZERO:
            raise BadInput(f"{one.code} was never listed, so it cannot be set to do not use.")
    for key, told in proposed.sources.items():
        source = load_source(dict(told))
        if source.key != key:
            raise BadInput(f"The source given as {key} calls itself {source.key}.")
    try:
        canonical_bytes([dict(one) for one in proposed.findings])
    except NotCanonical as error:
        raise BadInput(f"A finding cannot be stored: {error}.") from error
    return hashes


def _base(conn: Connection, one: ProposedRecord) -> Record | None:
    if one.base == ZERO:
        return None
    stored = store.revision(conn, one.base)
    if stored is None or stored.code != one.code:
        raise BadInput(
            f"{one.code} was made against a revision that is not one of its own.",
            cure="Make it against what is listed now.",
        )
    return record_of(stored.document)


def _rows(
    proposed: Proposed, bases: Mapping[str, Record | None], hashes: Mapping[str, str]
) -> Sequence[Mapping[str, Any]]:
    made = []
    for one in proposed.records:
        base = bases[one.base]
        document = None if one.document is None else dict(one.document)
        record = None if document is None else record_of(document)
        tally = tally_of(base, record)
        shown = record or base
        made.append(
            {
                "code": one.code,
                "title": shown.identity.title if shown else one.code,
                "action": "withdrawn" if document is None else "added" if base is None else "changed",
                "base": one.base,
                "document": None if document is None else pack(document),
                "content_hash": hashes[one.code],
                "reason": one.reason,
                "cells": pack(dict(one.cells)),
                "changes": tally.changes,
                "critical": tally.critical,
                "less": tally.less,
                "more": tally.more,
            }
        )
    # Most pressing first: what leaves crews less cautious, then more, then other critical changes, then the rest.
    made.sort(key=lambda row: (not row["less"], not row["more"], not row["critical"], row["title"], row["code"]))
    return [{**row, "place": place} for place, row in enumerate(made)]


def file_hash(content: bytes) -> str:
    """How a file is known."""
    return hashlib.sha256(content).hexdigest()
