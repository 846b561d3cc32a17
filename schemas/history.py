"""What the API answers about change: the revisions of a record, the differences of two editions."""

from collections.abc import Iterable, Mapping
from typing import Any

from marshmallow import Schema, fields

from catalog.domain.delta import RecordDelta
from catalog.domain.record import attribute_at
from catalog.domain.sources import Source, parse_reference
from schemas.answer_parts import CAUTIONS, EditionShort, Time, many, texts, told
from schemas.written import written_fact

Sources = Mapping[str, Source]


def _fact(description: str) -> fields.Raw:
    reference = [{"$ref": "#/components/schemas/Fact"}]
    return fields.Raw(required=True, metadata={"description": description, "allOf": reference})


class FactChangeAnswer(Schema):
    """One fact before and after; not_stated where nobody says anything."""

    path = told(fields.String, "Which fact, such as ports[a].door.mechanism.")
    label = told(fields.String, "The fact's name.")
    old = _fact("Before.")
    new = _fact("After.")


class PlainChangeAnswer(Schema):
    """An identity field, the order of a list, or a note before and after, as text."""

    path = told(fields.String, "What it is.")
    old = told(fields.String, "Before; empty when there was none.")
    new = told(fields.String, "After; empty when there is none.")


class DeltaAnswer(Schema):
    """Everything that differs, in document order."""

    facts = many(FactChangeAnswer, "Facts that differ.")
    plain = many(PlainChangeAnswer, "What else differs.")


class ListedAnswer(Schema):
    """Editions in which a revision was listed, half-open."""

    since = fields.Integer(
        required=True, data_key="from", metadata={"description": "First edition that lists it.", "minimum": 1}
    )
    until = fields.Integer(
        required=True,
        allow_none=True,
        data_key="to",
        metadata={"description": "First edition after that which does not; null while it is listed."},
    )


class RevisionAnswer(Schema):
    """One revision of a record."""

    seq = told(fields.Integer, "Number of the revision, from 1.", minimum=1)
    hash = told(fields.String, "SHA-256 of its link of the chain.")
    prev = told(fields.String, "Hash of the revision before; zeros for the first.")
    author = told(fields.String, "Who made it.")
    time = told(Time, "When, UTC.", format="date-time")
    reason = told(fields.String, "Why.")
    editions = many(ListedAnswer, "Editions that listed it.")
    changes = fields.Nested(DeltaAnswer, required=True)


class HistoryAnswer(Schema):
    """The revisions of a record, newest first."""

    code = told(fields.String, "The record's code.")
    total = told(fields.Integer, "How many revisions there are.", minimum=0)
    revisions = many(RevisionAnswer, "Those asked for, newest first.")
    cautions = texts(CAUTIONS)


class MemberChangeAnswer(Schema):
    """What happened to one record, source or vocabulary."""

    kind = told(fields.String, "record, source, vocabulary or rules.")
    key = told(fields.String, "Record code, or the source's number/issue.")
    title = told(fields.String, "What it is.")
    action = told(fields.String, "What happened.", enum=["added", "changed", "withdrawn"])
    reason = told(fields.String, "The reason given; empty where none was.")
    changes = fields.Nested(
        DeltaAnswer, required=True, allow_none=True, metadata={"description": "Facts, for a changed record."}
    )


class ChangesAnswer(Schema):
    """What differs between two editions."""

    since = fields.Nested(EditionShort, required=True, data_key="from")
    until = fields.Nested(EditionShort, required=True, data_key="to")
    total = told(fields.Integer, "How many members differ.", minimum=0)
    changes = many(MemberChangeAnswer, "What happened to each member; those asked for.")
    cautions = texts(CAUTIONS)


def history_view(code: str, revisions: Iterable[Any], total: int, sources: Sources) -> dict[str, Any]:
    """What HistoryAnswer dumps. revisions: services' RevisionView; total: of them all. sources: cited by it."""
    rows = [
        {
            **{name: getattr(view, name) for name in ("seq", "hash", "prev", "author", "time", "reason")},
            "editions": [{"since": since, "until": until} for since, until in view.editions],
            "changes": delta_view(view.changes, sources),
        }
        for view in revisions
    ]
    return {"code": code, "total": total, "revisions": rows}


def changes_view(since: Any, until: Any, changes: Iterable[Any], total: int, sources: Sources) -> dict[str, Any]:
    """What ChangesAnswer dumps. since, until: EditionViews. changes: services' MemberChange; total: of them all."""
    rows = [
        {
            **{name: getattr(change, name) for name in ("kind", "key", "title", "action", "reason")},
            "changes": None if change.delta is None else delta_view(change.delta, sources),
        }
        for change in changes
    ]
    return {"since": since, "until": until, "total": total, "changes": rows}


def delta_view(delta: RecordDelta, sources: Sources) -> dict[str, Any]:
    """What DeltaAnswer dumps."""
    rows = []
    for change in delta.facts:
        attr = attribute_at(change.path)
        old, new = (written_fact(attr, fact, sources) for fact in (change.old, change.new))
        rows.append({"path": change.path, "label": attr.label, "old": old, "new": new})
    return {"facts": rows, "plain": delta.plain}


def cited(deltas: Iterable[RecordDelta | None]) -> tuple[str, ...]:
    """The key of every source the facts of these deltas rest on, without repeats."""
    facts = (fact for delta in deltas if delta for change in delta.facts for fact in (change.old, change.new))
    return tuple(dict.fromkeys(parse_reference(ref).key for fact in facts for ref in fact.sources()))
