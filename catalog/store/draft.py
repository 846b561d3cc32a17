"""Publishing, the checking half: from documents to the rows a publication adds.

Nothing is written here. Documents come validated (schemas); what is checked is what keeps the
store true: canonical JSON, what a change was made against, sources that exist and never change.
"""

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import islice
from typing import Any

from sqlalchemy import Connection, and_, func, select

from catalog.domain.chain import ZERO, Entry
from catalog.domain.documents import references
from catalog.domain.sources import parse_reference
from catalog.errors import BadInput, Conflict
from catalog.store.publication import Document, Publication, content_of
from catalog.store.tables import RECORD, SOURCE, revisions, sources, vocabularies
from catalog.store.turn import Members, Turn

Row = dict[str, Any]

# Bound values in one query; below the smallest limit either database has had.
_CHUNK = 500


@dataclass(frozen=True, slots=True)
class Drafts:
    """Revisions to add in a turn, and the records that are new with them. before: listed now."""

    turn: Turn
    before: Members
    records: list[Row] = field(default_factory=list)
    revisions: list[Row] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class DraftMembers:
    """Sources or vocabularies given: the hash of each by key, and the rows to add for the new ones."""

    members: dict[str, str]
    rows: list[Row]


def draft_revisions(conn: Connection, publication: Publication, drafts: Drafts) -> Drafts:
    """Add a revision for every document that differs from what is listed; returns `drafts`."""
    codes = sorted({*publication.records, *publication.withdrawn})
    tails = dict(_tails(conn, codes))
    listed = {code: drafts.before.get((RECORD, code)) for code in codes}
    for code in sorted(publication.withdrawn):
        if listed[code] is None:
            raise BadInput(f"{code} is not listed, so it cannot be withdrawn.")
    contents = dict(_content_hashes(conn, [revision for revision in listed.values() if revision]))
    for code in codes:
        tail = tails.get(code)
        base = listed[code] or (tail[1] if tail else ZERO)
        _check_base(publication.bases, code, base)
        if code not in publication.records:
            continue
        content = content_of(publication.records[code], code)
        content_hash = hashlib.sha256(content).hexdigest()
        if contents.get(listed[code] or "") == content_hash:
            continue
        if tail is None:
            drafts.records.append({"code": code, "created_us": drafts.turn.time_us})
        entry = Entry(
            code=code,
            seq=tail[0] + 1 if tail else 1,
            prev=tail[1] if tail else ZERO,
            base=base,
            format=_format(code, publication.records[code]),
            content_hash=content_hash,
            author=publication.author,
            time=drafts.turn.time_us,
            reason=publication.reasons.get(code, publication.reason),
            update=publication.update,
        )
        drafts.revisions.append(_row(entry, content))
    return drafts


def draft_sources(conn: Connection, documents: Mapping[str, Document]) -> DraftMembers:
    """Hash the sources given. Raises BadInput, and Conflict where an issue's content changed."""
    made = DraftMembers({}, [])
    known = {
        row.key: row.hash
        for keys in _chunks(documents)
        for row in conn.execute(select(sources.c.key, sources.c.hash).where(sources.c.key.in_(keys)))
    }
    for key, document in sorted(documents.items()):
        own = f"{document.get('number')}/{document.get('issue')}"
        if own != key:
            raise BadInput(f"The source given as {key} calls itself {own}.", cure="Use its number and issue as key.")
        content = content_of(document, f"Source {key}")
        revision = hashlib.sha256(content).hexdigest()
        if known.get(key, revision) != revision:
            raise Conflict(
                f"Source {key} was published before with other content, and a published issue never changes.",
                cure="Publish it as the next issue, or leave it out.",
            )
        made.members[key] = revision
        if key not in known:
            made.rows.append({"key": key, "hash": revision, "content": content})
    return made


def draft_vocabularies(conn: Connection, documents: Mapping[str, Document]) -> DraftMembers:
    """Hash the vocabularies given. Raises BadInput."""
    made = DraftMembers({}, [])
    contents: dict[str, tuple[str, bytes]] = {}
    for key, document in sorted(documents.items()):
        content = content_of(document, f"Vocabulary {key}")
        revision = hashlib.sha256(content).hexdigest()
        made.members[key] = revision
        contents[revision] = (key, content)
    known = {
        row.hash
        for hashes in _chunks(contents)
        for row in conn.execute(select(vocabularies.c.hash).where(vocabularies.c.hash.in_(hashes)))
    }
    made.rows.extend(
        {"hash": revision, "key": key, "content": content}
        for revision, (key, content) in contents.items()
        if revision not in known
    )
    return made


def check_citations(documents: Mapping[str, Document], after: Members) -> None:
    """Refuse a record that cites a source which will not be listed beside it. Raises BadInput."""
    for code, document in sorted(documents.items()):
        for text in set(references(document)):
            try:
                key = parse_reference(text).key
            except ValueError as error:
                raise BadInput(f"{code}: {error}.") from error
            if (SOURCE, key) not in after:
                raise BadInput(
                    f"{code} cites {text}, but source {key} is not in the catalogue.",
                    cure="Publish the source in the same publication.",
                )


def _check_base(bases: Mapping[str, str] | None, code: str, base: str) -> None:
    if bases is None or bases.get(code, ZERO) == base:
        return
    raise Conflict(
        f"{code} has moved on since this change was made.",
        cure="Look at what is listed now, and make the change again.",
    )


def _format(code: str, document: Document) -> int:
    version = document.get("format")
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        raise BadInput(f"{code} does not say which format it is in.", cure='Records begin with {"format": 1, ...}.')
    return version


def _row(entry: Entry, content: bytes) -> Row:
    return {
        "hash": entry.hash,
        "code": entry.code,
        "seq": entry.seq,
        "prev": entry.prev,
        "base": entry.base,
        "format": entry.format,
        "content": content,
        "content_hash": entry.content_hash,
        "author": entry.author,
        "time_us": entry.time,
        "reason": entry.reason,
        "update_id": entry.update,
    }


def _tails(conn: Connection, codes: list[str]) -> Iterator[tuple[str, tuple[int, str]]]:
    """The last revision of each code's chain: (code, (seq, hash))."""
    for chunk in _chunks(codes):
        last = (
            select(revisions.c.code, func.max(revisions.c.seq).label("seq"))
            .where(revisions.c.code.in_(chunk))
            .group_by(revisions.c.code)
            .subquery()
        )
        tail = and_(revisions.c.code == last.c.code, revisions.c.seq == last.c.seq)
        for row in conn.execute(select(revisions.c.code, revisions.c.seq, revisions.c.hash).join(last, tail)):
            yield row.code, (row.seq, row.hash)


def _content_hashes(conn: Connection, hashes: list[str]) -> Iterator[tuple[str, str]]:
    for chunk in _chunks(hashes):
        for row in conn.execute(select(revisions.c.hash, revisions.c.content_hash).where(revisions.c.hash.in_(chunk))):
            yield row.hash, row.content_hash


def _chunks(values: Iterable[str]) -> Iterator[list[str]]:
    rest = iter(values)
    while chunk := list(islice(rest, _CHUNK)):
        yield chunk
