"""How one record of an update stands: what it would change now, what was decided of each change, what is accepted.

Pure: worked out from what was brought, the decisions in their order, and what is listed now. A decision counts only
for exactly the change it was made of (`of`), so an edit or another listed value asks for a new one.
"""

import json
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from catalog.domain.canonical import content_hash
from catalog.domain.caution import Caution, Weighed
from catalog.domain.chain import ZERO
from catalog.domain.documents import record_from_document
from catalog.domain.facts import Fact
from catalog.domain.patching import ORDER, fields_of, patch_between, patched
from catalog.domain.record import Record
from catalog.domain.upgrade import upgrade
from catalog.services.change_sets import FieldChange, field_changes
from catalog.services.review_records import Document, Matter, ReviewChange, ReviewRecord
from catalog.store.tables_updates import ACCEPT, COMMENT, EDIT, REBASE, REJECT
from catalog.store.updates import StoredDecision

WITHDRAWN = "do not use"  # stands for a path where the whole record goes
_WITHDRAWN = Weighed(Caution.MORE, "crews go by the steps for any vehicle", critical=True)


def whole_of(code: str, base: str, digest: str) -> str:
    """Names a record of an update as a whole. digest: content hash of its document, ZERO for do not use."""
    return content_hash([code, base, digest])


def field_of(code: str, path: str, old: Any, new: Any) -> str:
    """Names one change. old, new: as the document holds them; None for nothing."""
    return content_hash([code, path, [] if old is None else [old], [] if new is None else [new]])


def stand(matter: Matter) -> ReviewRecord:
    """How it stands."""
    stored = matter.change
    base, was_listed, document = _base(matter)
    stale = matter.now.hash != base or matter.now.listed is not was_listed
    gone = matter.now.hash != ZERO and not matter.now.listed
    if stored.document is None:
        return _withdrawal(matter, base, stale=stale, gone=gone)
    before = _document(matter.base.document)
    patch = {**patch_between(before, stored.document), **_edits(matter)}
    ground = _document(matter.now.document) if stale else document
    merged = _merged(ground, patch)
    # Named by what it stands on, also where something else is listed by now: the decision made of it stays with it.
    whole = _merged(document, patch) if stale else merged
    of = whole_of(stored.code, base, content_hash(whole) if whole else ZERO)
    changes = tuple(_changes(matter, patch, ground, merged, of))
    return ReviewRecord(
        code=stored.code,
        title=stored.title,
        action=stored.action,
        reason=stored.reason,
        base=base,
        now=matter.now.hash,
        stale=stale,
        gone=gone,
        of=of,
        changes=changes,
        document=merged,
        accepted=_accepted(ground, merged, changes),
        wanted=_wanted(matter.decisions),
        comments=_comments(matter.decisions, None),
    )


def _base(matter: Matter) -> tuple[str, bool, Document | None]:
    """(hash, whether it was listed, document) of what the changes stand on: the base, or what it was brought up to."""
    found = matter.base.hash, matter.base.listed, _document(matter.base.document)
    for decision in matter.decisions:
        if decision.kind == REBASE:
            digest = decision.content["base"]
            found = digest, decision.content["listed"], _document(matter.bases[digest])
    return found


def _document(document: Document | None) -> Document | None:
    return None if document is None else upgrade(dict(document))


def _edits(matter: Matter) -> dict[str, Any]:
    """What edits put in a field's place; the last one counts. An empty list: the field goes."""
    return {
        str(decision.path): decision.content[0] if decision.content else None
        for decision in matter.decisions
        if decision.kind == EDIT
    }


def _merged(ground: Document | None, patch: Mapping[str, Any]) -> Document | None:
    try:
        return patched(ground, patch)
    except KeyError:  # no record is left to change
        return None


def _changes(
    matter: Matter, patch: Mapping[str, Any], ground: Document | None, merged: Document | None, of: str
) -> Iterator[ReviewChange]:
    code = matter.change.code
    had, has = fields_of(ground), fields_of(merged)
    started, theirs = fields_of(_document(matter.base.document)), had
    original = _record(_document(matter.base.document))
    named = _named(_record(ground), _record(merged), had, has)
    for change in named:
        path = change.path
        mine = field_of(code, path, had.get(path), has.get(path))
        contested = path in patch and started.get(path) != theirs.get(path)
        yield ReviewChange(
            change=change,
            of=mine,
            hands=_hands(matter, path),
            cell=_cell(matter.change.cells, path),
            decision=_decision(matter.decisions, path, mine, of),
            comments=_comments(matter.decisions, path),
            before=_told(original, path, started) if contested else None,
        )


def _named(
    old: Record | None, new: Record | None, had: Mapping[str, Any], has: Mapping[str, Any]
) -> tuple[FieldChange, ...]:
    """Every change by name, also those that read alike and differ in what is stored."""
    found = field_changes(old, new)
    named = {change.path for change in found}
    rest = [
        FieldChange(path, _json(had.get(path)), _json(has.get(path)), Weighed(Caution.NEUTRAL, "reads the same", True))
        for path in dict.fromkeys([*had, *has])
        if had.get(path) != has.get(path) and path not in named and not path.startswith(ORDER)
    ]
    return (*found, *rest)


def _json(value: Any) -> str:
    return "" if value is None else json.dumps(value, ensure_ascii=False, sort_keys=True)


def _record(document: Document | None) -> Record | None:
    return None if document is None else record_from_document(document)


def _told(record: Record | None, path: str, fields: Mapping[str, Any]) -> Fact | str:
    if record is not None and path in record.facts:
        return record.facts[path]
    return _json(fields.get(path)) or "not stated"


def _hands(matter: Matter, path: str | None) -> frozenset[str]:
    edited = {one.author for one in matter.decisions if one.kind == EDIT and path in (None, one.path)}
    return frozenset({matter.author, *edited})


def _decision(decisions: Sequence[StoredDecision], path: str, mine: str, of: str) -> StoredDecision | None:
    found = None
    for one in decisions:
        if one.kind in (ACCEPT, REJECT) and (one.of == mine if one.path == path else one.path is None and one.of == of):
            found = one
    return found


def _wanted(decisions: Sequence[StoredDecision]) -> bool:
    last = {one.path: one.kind for one in decisions if one.kind in (ACCEPT, REJECT)}
    return ACCEPT in last.values()


def _comments(decisions: Sequence[StoredDecision], path: str | None) -> tuple[StoredDecision, ...]:
    return tuple(one for one in decisions if one.kind == COMMENT and one.path == path)


def _cell(cells: Mapping[str, str], path: str) -> str:
    """Where a field came from; of one that goes, or of an order, there may be nothing."""
    return cells.get(path, "")


def _accepted(ground: Document | None, merged: Document | None, changes: Sequence[ReviewChange]) -> Document | None:
    taken = [one.change.path for one in changes if one.accepted]
    if not taken or merged is None:
        return None
    if len(taken) == len(changes):
        return merged
    whole = patch_between(ground, merged)
    return _merged(ground, {path: whole[path] for path in taken})


def _withdrawal(matter: Matter, base: str, *, stale: bool, gone: bool) -> ReviewRecord:
    code, reason = matter.change.code, matter.change.reason
    of = whole_of(code, base, ZERO)
    mine = field_of(code, WITHDRAWN, base, reason)
    change = ReviewChange(
        change=FieldChange(WITHDRAWN, "listed", reason, _WITHDRAWN),
        of=mine,
        hands=_hands(matter, None),
        cell="",
        decision=_decision(matter.decisions, WITHDRAWN, mine, of),
        comments=(),
    )
    return ReviewRecord(
        code=code,
        title=matter.change.title,
        action=matter.change.action,
        reason=reason,
        base=base,
        now=matter.now.hash,
        stale=stale,
        gone=gone,
        of=of,
        changes=(change,),
        document=None,
        accepted=None,
        wanted=_wanted(matter.decisions),
        comments=_comments(matter.decisions, None),
    )
