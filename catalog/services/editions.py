"""Editions, and what differs between two of them."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from sqlalchemy import Connection

from catalog.domain.delta import difference
from catalog.domain.record import Record, attribute_at
from catalog.domain.sources import source_from_document
from catalog.errors import BadInput
from catalog.services.compiling import record_of, stored_edition_view
from catalog.services.house import House
from catalog.services.narrowing import with_words
from catalog.services.remembered import Remembered
from catalog.services.views import EditionView, MemberChange
from catalog.store.changes import changes
from catalog.store.engine import read
from catalog.store.read import edition as edition_of
from catalog.store.read import editions, record_counts, revisions_of, sources_of
from catalog.store.rows import Change, StoredRevision
from catalog.store.tables import KINDS, RECORD, SOURCE

# Differences of more records are not put in order of weight: each would have to be worked out for any page of them.
MOST_WEIGHED = 200
# Changes whose documents are in memory at a time.
_BATCH = 200
MOST_KEPT = 4  # differences that are remembered


def list_editions(house: House) -> tuple[EditionView, ...]:
    """Every published edition, first to last."""
    with read(house.engine) as conn:
        counts = record_counts(conn)
        return tuple(stored_edition_view(edition, counts[edition.number]) for edition in editions(conn))


@dataclass(frozen=True, slots=True)
class ChangesAsked:
    """kind: of member, one of `catalog.store.tables.KINDS`; "" for all. words: all in key or title."""

    kind: str = ""
    words: str = ""
    offset: int = 0
    limit: int = 50


@dataclass(frozen=True, slots=True)
class ChangesPart:
    """Some of what differs. counts: members that differ, by kind, of all. total: of those asked for. weighed: whether
    they stand in order of weight (do not use, safety-critical, the rest); else do not use first, then by code."""

    changes: tuple[MemberChange, ...]
    total: int
    counts: Mapping[str, int]
    weighed: bool


def edition_changes(house: House, a: int, b: int) -> tuple[MemberChange, ...]:
    """What differs from edition a to edition b; 0 stands for before the first. Raises NotFound."""
    return changes_listed(house, a, b)[0]


def changes_listed(
    house: House, a: int, b: int, offset: int = 0, limit: int | None = None
) -> tuple[tuple[MemberChange, ...], int]:
    """Some of it, and how much there is: records, then sources, then vocabularies, do not use first, then by key; only
    what is handed out is compared. limit: None for all. Raises NotFound."""
    with read(house.engine) as conn:
        found = _ordered(conn, a, b)
        part = found[offset : None if limit is None else offset + limit]
        return tuple(_described(conn, part)), len(found)


def changes_part(house: House, a: int, b: int, asked: ChangesAsked) -> ChangesPart:
    """Some of what differs from edition a to edition b: records, then sources, then vocabularies. Only what is handed
    out is compared, unless few records differ. Raises BadInput, NotFound, Unavailable."""
    if asked.kind not in ("", *KINDS):
        raise BadInput(f"kind is {asked.kind!r}.", cure=f"Use one of: {', '.join(KINDS)}.")
    said = with_words(asked.words)
    titles = house.shelf.current().titles if asked.words else {}
    with read(house.engine) as conn:
        found = _ordered(conn, a, b)
        counts = {kind: sum(change.kind == kind for change in found) for kind in KINDS}
        if asked.words and counts[SOURCE]:
            titles = {**titles, **_source_titles(conn, found)}
        kept = [
            change
            for change in found
            if asked.kind in ("", change.kind) and said(f"{change.key} {titles.get(change.key, '')}")
        ]
        weighed = sum(change.kind == RECORD for change in kept) <= MOST_WEIGHED
        records = [change for change in kept if change.kind == RECORD] if weighed else []
        named = (*_named(conn, a, b), *(one.key for one in records))
        first = _weighed.of(named, lambda: tuple(sorted(_described(conn, records), key=weight)))
        rest = kept[len(records) :]
        start, end = asked.offset, asked.offset + asked.limit
        after = rest[max(0, start - len(first)) : max(0, end - len(first))]
        shown = (*first[start:end], *_described(conn, after))
    return ChangesPart(shown, len(kept), counts, weighed)


def _ordered(conn: Connection, a: int, b: int) -> tuple[Change, ...]:
    """What differs, by kind, do not use first, then by key; kept, since editions never change. Raises NotFound."""

    def make() -> tuple[Change, ...]:
        order = {kind: place for place, kind in enumerate(KINDS)}
        found = changes(conn, a, b)
        return tuple(sorted(found, key=lambda one: (order[one.kind], one.close_reason is None, one.key)))

    return _found.of(_named(conn, a, b), make)


def _named(conn: Connection, a: int, b: int) -> tuple[str, str]:
    """What names two editions whatever database they are in; 0 is named by nothing. Raises NotFound."""
    hashes = {number: known.hash if (known := edition_of(conn, number)) else "" for number in (a, b)}
    if any(number and not digest for number, digest in hashes.items()):
        changes(conn, a, b)  # says which there are
    return hashes[a], hashes[b]


_found: Remembered[tuple[Change, ...]] = Remembered(MOST_KEPT)
_weighed: Remembered[tuple[MemberChange, ...]] = Remembered(MOST_KEPT)


def weight(change: MemberChange) -> tuple[int, str]:
    """What sorts the changes of records: do not use, then safety-critical, then the rest."""
    facts = change.delta.facts if change.delta else ()
    critical = any(attribute_at(fact.path).critical for fact in facts)
    return 0 if change.action == "withdrawn" else 1 if critical else 2, change.title


def _source_titles(conn: Connection, found: Iterable[Change]) -> Mapping[str, str]:
    stored = sources_of(conn, [change.key for change in found if change.kind == SOURCE])
    return {key: source_from_document(member.document).title for key, member in stored.items()}


def _described(conn: Connection, found: Iterable[Change]) -> Iterator[MemberChange]:
    found = tuple(found)
    for start in range(0, len(found), _BATCH):
        some = found[start : start + _BATCH]
        hashes = [digest for one in some if one.kind == RECORD for digest in (one.old, one.new) if digest]
        revisions = {one.hash: one for one in revisions_of(conn, hashes)}
        titles = _source_titles(conn, some)
        for change in some:
            if change.kind == RECORD:
                yield _record_change(change, revisions)
            else:
                title = titles.get(change.key, change.key) if change.kind == SOURCE else change.key
                yield MemberChange(change.kind, change.key, title, _action(change), change.close_reason or "")


def _record_change(change: Change, revisions: Mapping[str, StoredRevision]) -> MemberChange:
    old, _ = _record(revisions, change.old)
    new, reason = _record(revisions, change.new)
    shown = new or old
    title = shown.identity.title if shown else change.key
    if change.close_reason is not None:
        return MemberChange("record", change.key, title, "withdrawn", change.close_reason)
    delta = difference(old, new) if old and new else None
    return MemberChange("record", change.key, title, _action(change), reason, delta)


def _record(revisions: Mapping[str, StoredRevision], digest: str | None) -> tuple[Record | None, str]:
    stored = revisions.get(digest) if digest else None
    return (None, "") if stored is None else (record_of(stored.document), stored.reason)


def _action(change: Change) -> str:
    if change.old is None:
        return "added"
    return "withdrawn" if change.new is None else "changed"
