"""The guides of the newest edition, as asked for and as answered."""

from marshmallow import Schema, fields, validate

from catalog.domain.sources import KIND
from schemas.answer_parts import EditionShort, many, texts, told
from schemas.cue_requests import whole_text
from schemas.part_requests import part_fields
from schemas.request_fields import FlagInQuery, Request

_SORTS = ("key", "title", "issued", "facts")


class SourcesRequest(Request):
    """Which guides."""

    words = fields.String(
        load_default="",
        validate=[validate.Length(max=64, error="Longer than {max} characters."), whole_text],
        metadata={"description": "Only with these words in number, title or publisher.", "cure": "Give a few words."},
    )
    kind = fields.String(
        load_default="",
        validate=validate.OneOf(("", *KIND.keys), error="Must be one of: {choices}."),
        metadata={"description": "Only of this kind.", "cure": "Leave it out for all."},
    )
    sort = fields.String(
        load_default="key",
        validate=validate.OneOf(_SORTS, error="Must be one of: {choices}."),
        metadata={"description": "By number, title, day of issue or facts.", "cure": "Leave it out for the number."},
    )
    offset, limit = part_fields()


class SourceRowAnswer(Schema):
    """A guide."""

    key = told(fields.String, "NUMBER/ISSUE, as a fact cites it.")
    title = told(fields.String, "Its title.")
    kind = told(fields.String, "What kind of source.")
    issued = told(fields.String, "Its day of issue.", format="date")
    pages = fields.Integer(required=True, allow_none=True, metadata={"description": "How many pages; null for none."})
    sha256 = told(fields.String, "The hash it states of its file; empty for none.")
    facts = told(fields.Integer, "Facts that cite it.", minimum=0)
    records = told(fields.Integer, "Records that cite it.", minimum=0)
    file = told(fields.String, "Hash of its stored file; empty where none is stored.")


class SourcesAnswer(Schema):
    """A part of the guides."""

    edition = fields.Nested(EditionShort, required=True)
    total = told(fields.Integer, "How many were asked for.", minimum=0)
    sources = many(SourceRowAnswer, "The guides, in the order asked for.")
    cautions = texts("What must be said with this answer; show it with the answer.")


class SourceFileRequest(Request):
    """What the file is called, and whether it is said to be the guide's."""

    name = fields.String(
        required=True,
        validate=[validate.Length(min=1, max=120, error="Not a name of {min} to {max} characters."), whole_text],
        error_messages={"required": "Missing.", "null": "Null is not a name.", "invalid": "Not text."},
        metadata={"description": "What the file is called.", "cure": "Add name, such as guide.pdf."},
    )
    stated_anew = FlagInQuery(
        load_default=False,
        metadata={
            "description": "That it is the guide's file, where the source states no hash that says so.",
            "cure": "Give true or false.",
        },
    )


class SourceFileAnswer(Schema):
    """A guide's file that is stored."""

    key = told(fields.String, "NUMBER/ISSUE, as a fact cites it.")
    hash = told(fields.String, "Its SHA-256, lower-case hex.")
    media_type = told(fields.String, "As its first bytes tell, never its name.")
    address = told(fields.String, "Where a browser opens it; add #page=N for a page.")
