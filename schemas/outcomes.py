"""Outcomes: what a described vehicle turned out to be, as sent and as answered."""

from collections.abc import Mapping
from typing import Any

from marshmallow import Schema, fields, validate

from schemas.answer_parts import CAUTIONS, texts, told
from schemas.cue_requests import MOST_CUES, CueSaid
from schemas.request_fields import OneOf, Request, Whole, loaded
from schemas.requests import LAST_EDITION

OUTCOMES = ("confirmed", "not_this", "not_listed")
PROOFS = ("badge", "vin", "steward")


class OutcomeRequest(Request):
    """What a described vehicle turned out to be."""

    id = fields.String(
        required=True,
        validate=validate.Regexp(r"^[A-Za-z0-9_-]{16,64}(?![\s\S])", error="Not a random id."),
        error_messages={"required": "Missing.", "null": "Null is not an id.", "invalid": "Not text."},
        metadata={
            "description": "Drawn at random for this outcome, and of nothing else: no incident, no device. Sent again "
            "it is the same outcome and is stored once.",
            "cure": "Give 16 to 64 letters, digits, - and _ drawn at random, and the same when you send it again.",
        },
    )
    edition = Whole(
        required=True,
        validate=validate.Range(min=1, max=LAST_EDITION, error="Must be {min} to {max}."),
        error_messages={"required": "Missing.", "null": "Null is not a number."},
        metadata={
            "description": "The edition of the answer that the cues come from.",
            "cure": "Give the number that the answer named under edition.",
        },
    )
    outcome = fields.String(
        required=True,
        validate=OneOf(OUTCOMES),
        error_messages={"required": "Missing.", "null": "Null is not an outcome.", "invalid": "Not text."},
        metadata={
            "description": "confirmed: it is the record of this code. not_this: it is not that record, and nothing "
            "more is known. not_listed: it is in no record of the catalogue.",
            "cure": f"Use one of: {', '.join(OUTCOMES)}.",
        },
    )
    code = fields.String(
        load_default="",
        validate=validate.Length(max=16, error="Longer than {max} characters."),
        error_messages={"null": "Null is not a code.", "invalid": "Not text."},
        metadata={
            "description": "The record's code; left out with not_listed, given otherwise.",
            "cure": "Give the code of a candidate, such as QK7-M3M, or leave it out with not_listed.",
        },
    )
    proof = fields.String(
        required=True,
        validate=OneOf(PROOFS),
        error_messages={"required": "Missing.", "null": "Null is no proof.", "invalid": "Not text."},
        metadata={
            "description": "How it is known: the badge was read, the VIN was read (it is not sent), or a steward found "
            "out later.",
            "cure": f"Use one of: {', '.join(PROOFS)}.",
        },
    )
    cues = fields.List(
        fields.Nested(CueSaid),
        required=True,
        validate=validate.Length(min=1, max=MOST_CUES, error="Must hold {min} to {max} cues."),
        error_messages={"required": "Missing.", "null": "Null is not a list.", "invalid": "Not a list."},
        metadata={
            "description": f"The cues that counted, as the answer gave them; at most {MOST_CUES}. VINs, the scene and "
            "the other vehicle are left out; of a name that is like no listed one only that one was said is kept.",
            "cure": 'Give a list of cues such as {"attribute": "body", "values": ["pickup"]}.',
        },
    )


def load_outcome(given: Mapping[str, Any]) -> dict[str, Any]:
    """An outcome from elsewhere than a request. Raises BadInput for the first fault."""
    return loaded(OutcomeRequest(), given)


class OutcomeAnswer(Schema):
    """What was stored."""

    id = told(fields.String, "As sent.")
    edition = told(fields.Integer, "As sent.", minimum=1)
    outcome = told(fields.String, "As sent.", enum=list(OUTCOMES))
    code = fields.String(required=True, allow_none=True, metadata={"description": "The record's code, or null."})
    proof = told(fields.String, "As sent.", enum=list(PROOFS))
    kept = told(fields.Integer, "How many cues are kept.", minimum=1)
    left_out = texts("Attributes of cues that are not kept.")
    again = told(fields.Boolean, "Whether it had been sent before.")
    cautions = texts(CAUTIONS)
