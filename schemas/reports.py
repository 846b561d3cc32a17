"""Crew reports and the work list, as asked for and as answered."""

from marshmallow import Schema, fields, validate

from schemas.answer_parts import Time, many, told
from schemas.cue_requests import whole_text
from schemas.part_requests import part_fields
from schemas.request_fields import Request

_ID = validate.Regexp(r"^[A-Za-z0-9_-]{16,64}(?![\s\S])", error="Not a random id.")
_DRAWN = "Draw 24 random letters and digits."


class ReportRequest(Request):
    """What a crew saw that the record does not say."""

    id = fields.String(
        required=True,
        validate=_ID,
        metadata={
            "description": "Random, of this report alone: sent again under it, it is stored once.",
            "cure": _DRAWN,
        },
    )
    device = fields.String(
        required=True, validate=_ID, metadata={"description": "The device's own random id.", "cure": _DRAWN}
    )
    code = fields.String(
        required=True,
        validate=[validate.Length(min=1, max=16, error="Not a code."), whole_text],
        metadata={"description": "The record's code.", "cure": "Give a code such as QK7-M3M."},
    )
    path = fields.String(
        load_default="",
        validate=[validate.Length(max=200, error="Not a path."), whole_text],
        metadata={
            "description": "The fact it is about, such as ports[a].place; left out, the record as a whole.",
            "cure": "Name the fact as the record's history does, or leave it out.",
        },
    )
    revision = fields.String(
        required=True,
        validate=validate.Regexp(r"^[0-9a-f]{64}(?![\s\S])", error="Not a revision's hash."),
        metadata={"description": "Hash of the revision they had before them.", "cure": "Take it from the record."},
    )
    words = fields.String(
        required=True,
        validate=[
            validate.Length(min=1, max=1000, error="Not between 1 and 1,000 characters."),
            validate.Regexp(r"^[\s\S]*\S", error="Nothing is said."),
            whole_text,
        ],
        metadata={
            "description": "What was seen. Name no person; numbers, plates, names and addresses found are blanked.",
            "cure": "Say it in at most 1,000 characters.",
        },
    )


class ReportAnswer(Schema):
    """That it was kept."""

    id = told(fields.String, "The report's id.")
    again = told(fields.Boolean, "Whether it was there already.")


class PhotoRequest(Request):
    """Whose photo the body is."""

    device = fields.String(
        required=True,
        validate=_ID,
        metadata={"description": "The device that sent the report.", "cure": "Give the id the report was sent with."},
    )


class WorkRequest(Request):
    """Which entries."""

    kind = fields.String(
        load_default="",
        validate=validate.OneOf(
            ("", "report", "cues", "unread", "stale", "silent"), error="Must be one of: {choices}."
        ),
        metadata={"description": "Only of this kind.", "cure": "Leave it out for all."},
    )
    state = fields.String(
        load_default="open",
        validate=validate.OneOf(("open", "closed", "drafted"), error="Must be one of: {choices}."),
        metadata={"description": "What became of them.", "cure": "Leave it out for open ones."},
    )
    words = fields.String(
        load_default="",
        validate=[validate.Length(max=64, error="Longer than {max} characters."), whole_text],
        metadata={"description": "Only entries with these words.", "cure": "Give a few words."},
    )
    offset, limit = part_fields()


class WorkEntryAnswer(Schema):
    """An entry."""

    id = told(fields.String, "KIND/KEY.")
    kind = told(fields.String, "report, cues, unread, stale or silent.")
    title = told(fields.String, "In words.")
    detail = told(fields.String, "More of it.")
    code = told(fields.String, "The record, empty for none.")
    path = told(fields.String, "The fact a report is about, empty for none.")
    revision = told(fields.String, "The revision a crew had, empty for none.")
    time = Time(allow_none=True, metadata={"description": "When a report came, UTC; null otherwise."})
    state = told(fields.String, "open, closed or drafted.")
    reason = told(fields.String, "Why it was closed.")
    by = told(fields.String, "Who decided last.")
    update = told(fields.String, "The draft's update, empty for none.")
    photo = told(fields.String, "Of a report: there, taken away, or empty where none came with it.")


class WorkAnswer(Schema):
    """A part of the work list."""

    total = told(fields.Integer, "How many were asked for.", minimum=0)
    entries = many(WorkEntryAnswer, "Crew reports first, newest first; then by weight.")


class WorkDecisionRequest(Request):
    """What is done about an entry."""

    entry = fields.String(
        required=True,
        validate=[validate.Length(min=3, max=200, error="Not an entry."), whole_text],
        metadata={"description": "KIND/KEY.", "cure": "Take it from the list."},
    )
    action = fields.String(
        required=True,
        validate=validate.OneOf(("close", "open", "draft"), error="Must be one of: {choices}."),
        metadata={"description": "close, open again, or make a draft change of it.", "cure": "Give one of the three."},
    )
    reason = fields.String(
        load_default="",
        validate=[validate.Length(max=400, error="Longer than {max} characters."), whole_text],
        metadata={"description": "Why; needed to close and to open.", "cure": "Say why in a few words."},
    )
    code = fields.String(
        load_default="",
        validate=[validate.Length(max=16, error="Not a code."), whole_text],
        metadata={"description": "For a draft of an entry that names no record: the record.", "cure": "Give a code."},
    )
