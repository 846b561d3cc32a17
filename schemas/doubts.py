"""Doubts and the newest edition, as asked for and as answered."""

from marshmallow import Schema, fields, validate

from schemas.answer_parts import DoubtAnswer, EditionShort, Time, many, texts, told
from schemas.cue_requests import whole_text
from schemas.part_requests import part_fields
from schemas.request_fields import Digits, Request

_LAST = 2**31 - 1


class DoubtRequest(Request):
    """Which fact is doubted, and why."""

    code = fields.String(
        required=True,
        validate=[validate.Length(min=1, max=16, error="Not a code."), whole_text],
        metadata={"description": "The record's code.", "cure": "Give a code such as QK7-M3M."},
    )
    path = fields.String(
        required=True,
        validate=[validate.Length(min=1, max=200, error="Not a path."), whole_text],
        metadata={
            "description": "A fact, such as ports[a].place; a whole item, such as ports[a]; complete.LIST; notes.ID.",
            "cure": "Name the fact as the record's history does.",
        },
    )
    reason = fields.String(
        required=True,
        validate=[validate.Length(min=1, max=400, error="Not between 1 and 400 characters."), whole_text],
        metadata={"description": "Why, in words; crews read it.", "cure": "Say why in at most 400 characters."},
    )
    revision = fields.String(
        load_default="",
        validate=[validate.Length(max=64, error="Not a hash."), whole_text],
        metadata={
            "description": "Hash of the revision you looked at: if the fact has changed since, nothing is done (409).",
            "cure": "Give the hash from the record's answer, or leave it out.",
        },
    )


class DoubtedAnswer(Schema):
    """What a doubt led to."""

    edition = told(fields.Integer, "The edition published with it.", minimum=1)
    doubts = many(DoubtAnswer, "The doubts that stand of this record.")


class DoubtsAnswer(Schema):
    """The doubts that stand, newest first."""

    edition = fields.Nested(EditionShort, required=True)
    doubts = many(DoubtAnswer, "Every doubt that stands.")
    cautions = texts("What must be said with this answer; show it with the answer.")


class NewestRequest(Request):
    """Since when to look."""

    since = Digits(
        load_default=0,
        validate=validate.Range(min=0, max=_LAST, error="Not between {min} and {max}."),
        metadata={"description": "The edition that is known already; 0 for none.", "cure": "Give an edition's number."},
    )

    device = fields.String(
        load_default="",
        validate=validate.Regexp(r"^([A-Za-z0-9_-]{16,64})?(?![\\s\\S])", error="Not a device's random id."),
        metadata={
            "description": "A random id the device drew itself, 16 to 64 letters, digits, - and _. With it is counted "
            "that the device has edition `since`.",
            "cure": "Draw 24 random letters and digits once and keep them, or leave it out.",
        },
    )


class NewestDoubt(Schema):
    """A fact doubted since."""

    code = told(fields.String, "The record's code.")
    title = told(fields.String, "The vehicle.")
    path = told(fields.String, "What is doubted.")
    label = told(fields.String, "The same in words.")
    since = told(Time, "Since when.", format="date-time")
    edition = told(fields.Integer, "The edition published with it.", minimum=1)
    reason = told(fields.String, "Why.")


class NewestAnswer(Schema):
    """The newest edition, and which facts were doubted in editions later than `since`. Costs next to nothing."""

    number = told(fields.Integer, "Its number.", minimum=1)
    hash = told(fields.String, "Its hash.")
    published_at = told(Time, "When it was published, UTC.", format="date-time")
    doubts = many(NewestDoubt, "Doubts that stand, of editions later than `since`, newest first.")


def _path_field() -> fields.String:
    return fields.String(
        required=True,
        validate=[validate.Length(min=1, max=200, error="Not a path."), whole_text],
        metadata={
            "description": "A fact, such as ports[a].place; a whole item, such as ports[a]; complete.LIST; notes.ID.",
            "cure": "Name the fact as the record's history does.",
        },
    )


class FactHistoryRequest(Request):
    """Which fact, and which part of its history."""

    path = _path_field()
    offset, limit = part_fields()


class EditionSpanAnswer(Schema):
    """Editions, half-open."""

    since = fields.Integer(required=True, data_key="from", metadata={"description": "The first of them.", "minimum": 1})
    until = fields.Integer(
        required=True, allow_none=True, data_key="to", metadata={"description": "The first after; null for none yet."}
    )


class FactStepAnswer(Schema):
    """A revision in which the fact came to say something else."""

    seq = told(fields.Integer, "The revision's number.", minimum=1)
    hash = told(fields.String, "The revision's hash.")
    author = told(fields.String, "Who changed it.")
    time = told(Time, "When, UTC.", format="date-time")
    reason = told(fields.String, "Why.")
    update = told(fields.String, "The guide update it came with; empty for none.")
    said = told(fields.String, "What it says from then on, in words; empty where it is not stated.")
    src = texts("The guide pages it rests on.")
    editions = many(EditionSpanAnswer, "The editions that say it.")
    doubt = fields.Nested(
        DoubtAnswer, required=True, allow_none=True, metadata={"description": "The doubt that took it back, or null."}
    )


class FactHistoryAnswer(Schema):
    """The history of one fact, newest first."""

    code = told(fields.String, "The record's code.")
    title = told(fields.String, "The vehicle.")
    path = told(fields.String, "The fact.")
    label = told(fields.String, "The same in words.")
    total = told(fields.Integer, "How many times it came to say something else.", minimum=0)
    steps = many(FactStepAnswer, "What it said, newest first; those asked for.")
    cautions = texts("What must be said with this answer; show it with the answer.")


class ShownRequest(Request):
    """Which fact, as which edition says it."""

    path = _path_field()
    edition = Digits(
        load_default=0,
        validate=validate.Range(min=0, max=_LAST, error="Not between {min} and {max}."),
        metadata={"description": "As this edition says it; left out, the newest.", "cure": "Give an edition's number."},
    )


class ShownBrief(Schema):
    """A brief that rests on it."""

    id = told(fields.String, "Its id.")
    incident = told(fields.String, "Its incident.")
    letter = told(fields.String, "Its letter.")
    title = told(fields.String, "What it is about.")
    edition = told(fields.Integer, "The edition it was composed from.", minimum=1)
    composed_at = told(Time, "When, UTC.", format="date-time")
    composed_by = told(fields.String, "By whom.")
    sent = told(fields.Integer, "How often it was given out.", minimum=0)
    opened = told(fields.Integer, "How often it was opened.", minimum=0)
    recalled = told(fields.Boolean, "Whether it was recalled.")


class ShownDevice(Schema):
    """A device that had it."""

    device = told(fields.String, "Its random id.")
    edition = told(fields.Integer, "The edition it had.", minimum=1)
    first_day = told(fields.Date, "First seen with it, UTC.", format="date")
    last_day = told(fields.Date, "Last seen with it, UTC.", format="date")


class NoticeAnswer(Schema):
    """What holders of briefs were told."""

    words = told(fields.String, "The words.")
    author = told(fields.String, "By whom.")
    time = told(Time, "When, UTC.", format="date-time")


class ShownAnswer(Schema):
    """Who was shown a fact."""

    code = told(fields.String, "The record's code.")
    path = told(fields.String, "The fact.")
    label = told(fields.String, "The same in words.")
    edition = told(fields.Integer, "As this edition says it.", minimum=1)
    said = told(fields.String, "What it says there, in words; empty where it is not stated.")
    editions = many(EditionSpanAnswer, "All editions that say just that.")
    briefs = many(ShownBrief, "Briefs that rest on it, newest first.")
    device_count = told(fields.Integer, "How many devices had one of these editions.", minimum=0)
    devices = many(ShownDevice, "At most 200 of them, those seen last first.")
    notices = many(NoticeAnswer, "What holders were told of it.")


class TellRequest(Request):
    """What holders are told."""

    path = _path_field()
    words = fields.String(
        required=True,
        validate=[validate.Length(min=1, max=400, error="Not between 1 and 400 characters."), whole_text],
        metadata={"description": "Read on the page of each brief.", "cure": "Say it in at most 400 characters."},
    )
    edition = fields.Integer(
        required=True,
        strict=True,
        validate=validate.Range(min=1, max=_LAST, error="Not between {min} and {max}."),
        metadata={"description": "The edition that says what is put right.", "cure": "Give an edition's number."},
    )


class ToldAnswer(Schema):
    """How many briefs are marked."""

    briefs = told(fields.Integer, "Briefs that rest on the fact as that edition says it.", minimum=0)
