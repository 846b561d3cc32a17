"""The walk-round strip and the cut points of a record, as the API gives them."""

from marshmallow import Schema, fields, validate

from schemas.answer_parts import CAUTIONS, EditionShort, many, texts, told
from schemas.request_fields import FlagInQuery
from schemas.requests import RecordRequest

LYING = ("wheels", "left_down", "right_down", "roof")


class StripRequest(RecordRequest):
    """How the vehicle lies, and for what the strip is."""

    posture = fields.String(
        load_default="",
        validate=validate.OneOf(("", *LYING), error=f"Must be one of: {', '.join(LYING)}."),
        error_messages={"null": "Null is not a posture.", "invalid": "Not text."},
        metadata={
            "description": f"How the vehicle lies: one of {', '.join(LYING)}. Left out: not said; drawn on its wheels "
            "and labelled so.",
            "cure": f"Give one of {', '.join(LYING)}, or leave it out.",
        },
    )
    paper = FlagInQuery(
        load_default=False,
        error_messages={"null": "Null is neither."},
        metadata={
            "description": "On one row, for a sheet of paper; otherwise on two, for a phone.",
            "cure": "Give true or false, or leave it out for false.",
        },
    )


class FillAnswer(Schema):
    """What a fill means."""

    svg = told(fields.String, "A sample of it, as SVG.")
    words = told(fields.String, "What it means.")


class CutPointAnswer(Schema):
    """A way to cut high voltage off, close up."""

    title = told(fields.String, "The way.")
    svg = told(fields.String, "The drawing; dotted is not stated.")
    twin = texts("The same facts in words, a line each.")


class StripAnswer(Schema):
    """A vehicle as one walks round it."""

    edition = fields.Nested(EditionShort, required=True)
    code = told(fields.String, "The record's code.")
    title = told(fields.String, "Make, model, variant.")
    posture = told(fields.String, "How it was said to lie, empty where it was not.", enum=["", *LYING])
    stands = told(fields.String, "How it is drawn, in words.")
    svg = told(fields.String, "The strip, black on white. Its numbers are those of the steps in this posture.")
    twin = texts("The same facts in words, a line each: show them with the drawing.")
    legend = many(FillAnswer, "What the fills in it mean.")
    cut_points = many(CutPointAnswer, "Every way the record gives, in its order; none where none is stated.")
    cautions = texts(CAUTIONS)
