"""What the API accepts: one schema per operation, refusing what it does not know."""

from collections.abc import Mapping, Sequence
from typing import Any

from marshmallow import ValidationError, fields, validate, validates_schema

from schemas.cue_requests import cues_field, struck_field, whole_text
from schemas.part_requests import part_fields
from schemas.question_answers import answers_field, caller_field, excluded_field
from schemas.request_fields import Digits, Flag, Instant, Request, Whole, loaded

LONGEST_TEXT = 2000
LONGEST_QUERY = 200
LAST_EDITION = 2**31 - 1  # what every database's integer column holds
FORMS_OF_EXPORT = ("jsonl", "xlsx", "csv")
INCLUDES = ("why", "facts", "groups", "questions")


def _shorter(longest: int) -> validate.Length:
    return validate.Length(max=longest, error="Longer than {max} characters.")


_ONE_OF = "Must be one of: {choices}."
_AT_LEAST = "Must be {min} or more."
_BETWEEN = "Must be {min} to {max}."


class NoArguments(Request):
    """Operations that take nothing but their path."""


class ReadRequest(Request):
    """A description to read, with what somebody said of its reading."""

    text = fields.String(
        load_default="",
        validate=[_shorter(LONGEST_TEXT), whole_text],
        error_messages={"null": "Null is not text.", "invalid": "Not text."},
        metadata={
            "description": "The description as it was said, at most 2,000 characters (code points). It is not stored.",
            "cure": f"Send the description as text of at most {LONGEST_TEXT:,} characters; keep what tells vehicles "
            "apart: body, names, badges, where it plugs in.",
        },
    )
    settled = Flag(
        load_default=False,
        error_messages={"null": "Null is neither."},
        metadata={
            "description": "The description is finished: its unread words may be counted for the steward, each once. "
            "Leave it out while somebody is still typing, and never send it twice for one description.",
            "cure": "Give true or false, or leave it out for false.",
        },
    )
    cues = cues_field()
    struck = struck_field()
    driving_side = fields.String(
        validate=validate.OneOf(("left", "right"), error=_ONE_OF),
        error_messages={"null": "Null is not a side.", "invalid": "Not text."},
        metadata={
            "description": "The side of the road traffic keeps to; decides nearside, offside and kerb side only. "
            "Left out: the site's setting.",
            "cure": "Give left or right, or leave it out for the site's setting.",
        },
    )


def load_amendments(cues: Sequence[Any], struck: Sequence[Any]) -> dict[str, Any]:
    """The `cues` and `struck` of a request, from elsewhere than a request. Raises BadInput for the first fault."""
    return loaded(ReadRequest(only=("cues", "struck")), {"cues": cues, "struck": struck})


class ResolveRequest(ReadRequest):
    """A description, cues, or both, to find the vehicle of."""

    limit = Whole(
        load_default=10,
        validate=validate.Range(min=1, error=_AT_LEAST),
        error_messages={"null": "Null is not a number."},
        metadata={
            "description": "How many possible vehicles to list at most; beyond the catalogue means all.",
            "cure": "Give a whole number from 1, or leave it out for 10.",
        },
    )
    include = fields.List(
        fields.String(validate=validate.OneOf(INCLUDES, error=_ONE_OF), error_messages={"invalid": "Not text."}),
        load_default=(),
        error_messages={"null": "Null is not a list.", "invalid": "Not a list."},
        metadata={
            "description": 'What to add. "why": every term of the explanation in bits, per possible vehicle. "facts": '
            'what can be said of each fact of a brief over all of them. "groups": those that look alike, merged. '
            '"questions": what to ask next.',
            "cure": f"Give a list of: {', '.join(INCLUDES)}. Or leave it out.",
        },
    )
    answers = answers_field()
    excluded = excluded_field()
    caller = caller_field()


def _edition() -> Digits:
    return Digits(
        validate=validate.Range(min=1, max=LAST_EDITION, error=_BETWEEN),
        metadata={
            "description": "An edition's number.",
            "cure": "Give an edition's number, as /api/v1/editions lists them, or leave it out for the newest.",
        },
    )


class ExportRequest(Request):
    """Which edition as which kind of file."""

    format = fields.String(
        load_default="jsonl",
        validate=validate.OneOf(FORMS_OF_EXPORT, error=_ONE_OF),
        metadata={
            "description": "JSON Lines, a workbook, or a zip of CSV files.",
            "cure": f"Use one of: {', '.join(FORMS_OF_EXPORT)}.",
        },
    )
    edition = _edition()


class RecordRequest(Request):
    """Which state of a record."""

    cure = "Leave one of them out."

    edition = _edition()
    at = Instant(
        metadata={
            "description": "What the catalogue said at this instant (RFC 3339, with its zone). Not a model year.",
            "cure": "Write it with its zone, such as 2026-03-01T09:30:00Z; in an address a + of the zone is "
            "written %2B.",
        },
    )

    @validates_schema
    def _one(self, data: Mapping[str, Any], **kwargs: Any) -> None:
        if "edition" in data and "at" in data:
            raise ValidationError("Both edition and at are given, and they may disagree.")


class LookalikesRequest(Request):
    """Who looks, and how many to list."""

    observer = fields.String(
        load_default="caller",
        validate=validate.OneOf(("caller", "crew"), error=_ONE_OF),
        error_messages={"null": "Null is not an observer.", "invalid": "Not text."},
        metadata={
            "description": "Who looks: a caller is asked only for what is seen from where they stand; a crew is at "
            "the vehicle.",
            "cure": "Give caller or crew, or leave it out for caller.",
        },
    )
    limit = Digits(
        load_default=5,
        validate=validate.Range(min=1, max=50, error=_BETWEEN),
        metadata={
            "description": "How many look-alikes to list at most.",
            "cure": "Give a whole number from 1 to 50, or leave it out for 5.",
        },
    )


class RecordsRequest(Request):
    """Which part of the list of records."""

    edition = _edition()
    limit = Digits(
        load_default=100,
        validate=validate.Range(min=1, max=500, error=_BETWEEN),
        metadata={
            "description": "How many records to list at most.",
            "cure": "Give a whole number from 1 to 500, or leave it out for 100.",
        },
    )
    after = fields.String(
        error_messages={"null": "Null is not a code."},
        metadata={
            "description": "List the records after this code; an answer's `next` says which.",
            "cure": "Give the code that the previous answer named in next.",
        },
    )


class ChangesRequest(Request):
    """Up to which edition, and which part of what differs."""

    to = Digits(
        required=True,
        validate=validate.Range(min=1, max=LAST_EDITION, error=_BETWEEN),
        error_messages={"required": "Missing."},
        metadata={
            "description": "The edition to compare with.",
            "cure": "Add ?to= with an edition's number, as /api/v1/editions lists them.",
        },
    )
    offset, limit = part_fields(100, 500)


class FindRequest(Request):
    """Words to look for in notes and guides."""

    q = fields.String(
        required=True,
        validate=[validate.Length(min=1, error="Empty."), _shorter(LONGEST_QUERY), whole_text],
        error_messages={"required": "Missing."},
        metadata={
            "description": "The words to look for in every note and guide.",
            "cure": f"Give one or more words, at most {LONGEST_QUERY} characters. Descriptions of a vehicle go to "
            "POST /api/v1/resolve, which keeps them out of addresses.",
        },
    )
    limit = Digits(
        load_default=20,
        validate=validate.Range(min=1, max=100, error=_BETWEEN),
        metadata={
            "description": "How many hits to list at most.",
            "cure": "Give a whole number from 1 to 100, or leave it out for 20.",
        },
    )


class SayingsRequest(Request):
    """Which sayings are wanted."""

    about = fields.String(
        load_default="",
        validate=[_shorter(60), whole_text],
        metadata={"description": "Only rows about this attribute.", "cure": "Use an attribute named in an answer."},
    )
    words = fields.String(
        load_default="",
        validate=[_shorter(LONGEST_QUERY), whole_text],
        metadata={"description": "Only rows in which these words stand.", "cure": "Give a word or two."},
    )
