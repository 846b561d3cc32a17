"""Guide updates, what is decided of them, the checks before publishing and the watch list, as answered."""

from collections.abc import Mapping
from typing import Any

from marshmallow import Schema, fields

from catalog.domain.facts import Fact
from catalog.domain.record import attribute_at
from catalog.domain.sources import Source
from schemas.answer_parts import CAUTIONS, Time, many, texts, told
from schemas.written import written_fact

_SIDE = "A fact with its state, or the text of an identity field, an order or a note."


class UpdateAnswer(Schema):
    """A guide update in a list."""

    number = told(fields.Integer, "Its number.", minimum=1)
    name = told(fields.String, "The file, or what it is for.")
    origin = told(fields.String, "import, crew report, restore or page.")
    author = told(fields.String, "Who brought it in.")
    time = told(Time, "When, UTC.", format="date-time")
    records = told(fields.Integer, "How many records it changes.", minimum=0)
    state = told(fields.String, "open, published or set aside.")
    edition = fields.Integer(
        required=True, allow_none=True, metadata={"description": "The last edition published with some of it, or null."}
    )
    critical = told(fields.Integer, "Safety-critical changes: each needs two persons.", minimum=0)
    less = told(fields.Integer, "Changes that leave crews less cautious.", minimum=0)


class UpdatesAnswer(Schema):
    """Guide updates."""

    updates = many(UpdateAnswer, "Those asked for.")
    total = told(fields.Integer, "How many there are of such.", minimum=0)
    cautions = texts(CAUTIONS)


class RecordLineAnswer(Schema):
    """A record of an update; counts as of what was brought."""

    code = told(fields.String, "The record's code.")
    title = told(fields.String, "Make, model, variant.")
    action = told(fields.String, "added, changed or withdrawn.")
    state = told(fields.String, "open, accepted, rejected, accepted in part, published or nothing left.")
    changes = told(fields.Integer, "Fields that differ.", minimum=0)
    critical = told(fields.Integer, "Of those safety-critical.", minimum=0)
    less = told(fields.Integer, "Of those that leave crews less cautious.", minimum=0)
    more = told(fields.Integer, "Of those that leave crews more cautious.", minimum=0)
    moved = told(fields.Boolean, "Whether something else is listed by now than it was made against.")


class RemarkAnswer(Schema):
    """What somebody said or did."""

    kind = told(fields.String, "comment, set aside or reopen.")
    author = told(fields.String, "Who.")
    time = told(Time, "When, UTC.", format="date-time")
    words = told(fields.String, "What was said.")


class UpdateViewAnswer(Schema):
    """One guide update with the records asked for."""

    update = fields.Nested(UpdateAnswer, attribute="summary", required=True)
    states = told(fields.Dict, "How many records stand how.")
    records = fields.List(
        fields.Nested(RecordLineAnswer),
        attribute="lines",
        required=True,
        metadata={"description": "Those asked for, most pressing first unless asked otherwise."},
    )
    total = told(fields.Integer, "How many there are of such.", minimum=0)
    findings = fields.List(
        fields.Dict(), required=True, metadata={"description": "What was found in its file, as the import said it."}
    )
    sources = texts("Sources it brings, NUMBER/ISSUE.")
    remarks = many(RemarkAnswer, "What was said of the update as a whole.")
    cautions = texts(CAUTIONS)


class SaidAnswer(Schema):
    """A comment."""

    author = told(fields.String, "Who.")
    words = told(fields.String, "What was said.")


class ChangeAnswer(Schema):
    """One field of a record."""

    path = told(fields.String, "Which field, such as ports[a].place.")
    change = told(fields.String, "Names exactly this change; send it back with a decision.")
    old = told(fields.Raw, f"What is listed now. {_SIDE}")
    new = told(fields.Raw, f"What the update says. {_SIDE}")
    made_against = told(
        fields.Raw, f"Where somebody else changed the field since: what this was made against; null otherwise. {_SIDE}"
    )
    caution = told(fields.String, "less cautious, more cautious or neutral.")
    why = told(fields.String, "In a few words.")
    critical = told(fields.Boolean, "Whether it needs two persons.")
    state = told(fields.String, "open, accepted or rejected.")
    decided_by = told(fields.String, "Who decided; empty where nobody did.")
    hands = texts("Who brought or edited it: where it is critical, none of them can accept it.")
    cell = told(fields.String, "Where in the file it came from; empty where nothing says so.")
    comments = many(SaidAnswer, "What was said of it.")


class RecordReviewAnswer(Schema):
    """One record of an update, most pressing change first."""

    update = told(fields.Integer, "The update's number.", minimum=1)
    code = told(fields.String, "The record's code.")
    title = told(fields.String, "Make, model, variant.")
    action = told(fields.String, "added, changed or withdrawn.")
    reason = told(fields.String, "Why, as the update says.")
    state = told(fields.String, "open, accepted, rejected, accepted in part or nothing left.")
    base = told(fields.String, "Hash of the revision its changes stand on; zeros for none.")
    listed = told(fields.String, "Hash of the revision listed now or last; zeros for none.")
    moved = told(fields.Boolean, "Whether the two differ: it must be brought up to what is listed before it counts.")
    change = told(fields.String, "Names all of it as it is; send it back with a decision of the whole.")
    changes = many(ChangeAnswer, "Field by field.")
    comments = many(SaidAnswer, "What was said of the record.")
    cautions = texts(CAUTIONS)


class GateAnswer(Schema):
    """One check."""

    key = told(fields.String, "schema, chains, sources, watch list or simulated.")
    title = told(fields.String, "What it is called.")
    outcome = told(fields.String, "passed, needs a look or blocks.")
    words = told(fields.String, "What was found, in one line.")
    details = texts("What exactly, the first fifty.")


class GatesAnswer(Schema):
    """The checks before a publication."""

    updates = fields.List(fields.Integer(), required=True, metadata={"description": "Of what would be published."})
    edition = told(fields.Integer, "The edition they were made against.", minimum=1)
    records = told(fields.Integer, "Records that would be new or changed.", minimum=0)
    withdrawn = told(fields.Integer, "Records that would be set to do not use.", minimum=0)
    gates = many(GateAnswer, "The checks.")
    cautions = texts(CAUTIONS)


class PublishedAnswer(Schema):
    """What was published."""

    edition = told(fields.Integer, "The new edition's number.", minimum=1)
    cautions = texts(CAUTIONS)


class ChangeFileAnswer(Schema):
    """The lines of a change file."""

    lines = fields.List(
        fields.Dict(),
        required=True,
        metadata={"description": "The header, a line for each member that is closed or opened, the end."},
    )


class WatchAnswer(Schema):
    """One entry of the watch list."""

    number = told(fields.Integer, "Its number.", minimum=1)
    name = told(fields.String, "What it is called.")
    cues = texts("What was understood, as phrases that read back to it.")
    code = told(fields.String, "The record it must find.")
    title = told(fields.String, "Make, model, variant.")
    rank = told(fields.Integer, "Among so many first.", minimum=1, maximum=10)
    author = told(fields.String, "Who put it there.")
    time = told(Time, "When, UTC.", format="date-time")


class WatchListAnswer(Schema):
    """The watch list."""

    watched = many(WatchAnswer, "By number.")
    cautions = texts(CAUTIONS)


def record_view(review: Any) -> dict[str, Any]:
    """What RecordReviewAnswer dumps. review: the services' RecordReview."""
    record, sources = review.record, review.sources
    return {
        **{name: getattr(record, name) for name in ("code", "title", "action", "reason", "state", "base")},
        "update": review.summary.number,
        "listed": record.now,
        "moved": record.stale,
        "change": record.of,
        "changes": [_change(one, sources) for one in record.changes],
        "comments": record.comments,
    }


def gates_view(checked: Any) -> dict[str, Any]:
    """What GatesAnswer dumps. checked: the services' Checked."""
    return {
        "updates": list(checked.candidate.numbers),
        "edition": checked.before,
        "records": checked.candidate.records,
        "withdrawn": checked.candidate.withdrawn,
        "gates": checked.gates.gates,
    }


def _change(one: Any, sources: Mapping[str, Source]) -> dict[str, Any]:
    path = one.change.path
    return {
        "path": path,
        "change": one.of,
        "old": _side(path, one.change.old, sources),
        "new": _side(path, one.change.new, sources),
        "made_against": None if one.before is None else _side(path, one.before, sources),
        "caution": str(one.change.weighed.caution),
        "why": one.change.weighed.why,
        "critical": one.change.weighed.critical,
        "state": one.state,
        "decided_by": one.decision.author if one.decision else "",
        "hands": sorted(one.hands),
        "cell": one.cell,
        "comments": one.comments,
    }


def _side(path: str, side: Fact | str, sources: Mapping[str, Source]) -> Any:
    return side if isinstance(side, str) else written_fact(attribute_at(path), side, sources)
