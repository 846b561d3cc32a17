"""Cues as somebody sends them: said outright, put in the place of one that was read, or named to be struck out."""

from collections.abc import Mapping
from typing import Any

from marshmallow import RAISE, Schema, ValidationError, fields, validate, validates_schema

from catalog.domain.attributes import ATTRIBUTES, closed_terms, form_of, value_of
from catalog.domain.vin import PART
from schemas.request_fields import Flag, OneOf, Told, found, list_of, meant

MOST_CUES = 60
MOST_VALUES = 24
LONGEST_VALUE = 80
DOUBTS = ("firm", "hedged", "guess")
VEHICLES = ("A", "B")

_KEY = "Name a cue by its attribute, values, denied and vehicle, as an answer gave them."


def whole_text(value: str) -> None:
    """Refuse half a surrogate pair."""
    if any(0xD800 <= ord(char) <= 0xDFFF for char in value):
        raise ValidationError("Holds half of a surrogate pair, which is not text.")


class CueKeyGiven(Schema):
    """A cue named by what it says."""

    class Meta:
        unknown = RAISE

    error_messages = {"type": "Not an object.", "unknown": "Unknown field."}  # noqa: RUF012

    attribute = fields.String(
        required=True,
        validate=OneOf(ATTRIBUTES),
        error_messages={"required": "Missing.", "null": "Null is not an attribute.", "invalid": "Not text."},
        metadata={"description": "What it is about.", "cure": f"Use one of: {', '.join(ATTRIBUTES)}."},
    )
    values = fields.List(
        fields.String(
            validate=[validate.Length(max=LONGEST_VALUE, error="Longer than {max} characters."), whole_text],
            error_messages={"null": "Null is not text.", "invalid": "Not text."},
        ),
        required=True,
        validate=validate.Length(min=1, max=MOST_VALUES, error="Must hold {min} to {max} values."),
        error_messages={"required": "Missing.", "null": "Null is not a list.", "invalid": "Not a list."},
        metadata={
            "description": "Alternatives, one of which is meant, written as in answers. A port place reads "
            "side|end|level.",
            "cure": 'Give a list of what it may be, such as ["pickup"].',
        },
    )
    denied = Flag(
        load_default=False,
        error_messages={"null": "Null is neither."},
        metadata={"description": "Said not to be so.", "cure": "Give true or false, or leave it out for false."},
    )
    vehicle = fields.String(
        load_default="A",
        validate=OneOf(VEHICLES),
        error_messages={"null": "Null is not a vehicle.", "invalid": "Not text."},
        metadata={
            "description": "A: the one asked about. B: another in the same description.",
            "cure": "Give A or B, or leave it out for A.",
        },
    )

    @validates_schema
    def _known(self, data: Mapping[str, Any], **kwargs: Any) -> None:
        attribute, values = data["attribute"], data["values"]
        wrong = {place: [_fault(attribute, text)] for place, text in enumerate(values) if not _sayable(attribute, text)}
        if wrong:
            raise ValidationError({"values": wrong})


def _sayable(attribute: str, text: str) -> bool:
    # Of a part of a VIN that may be the serial nothing but the mark is sent out, and so named again.
    return value_of(attribute, text) is not None or (attribute == "vin" and text == PART)


def _fault(attribute: str, text: str) -> Told:
    return Told(
        f"{found(text)} is no value of {attribute}.",
        f"{meant(text, closed_terms(attribute))}Give {form_of(attribute)}.",
    )


class CueSaid(CueKeyGiven):
    """A cue said outright."""

    doubt = fields.String(
        load_default="firm",
        validate=OneOf(DOUBTS),
        error_messages={"null": "Null is not a doubt.", "invalid": "Not text."},
        metadata={
            "description": "How firmly it is said.",
            "cure": f"Give one of: {', '.join(DOUBTS)}. Or leave it out for firm.",
        },
    )


class CueGiven(CueSaid):
    """A cue said outright, or in the place of one that was read."""

    instead_of = fields.Nested(
        CueKeyGiven,
        error_messages={"null": "Null is not a cue."},
        metadata={
            "description": "The cue read in the text that this one puts right, named as the answer gave it. Where the "
            "text does not say that any more, neither cue counts and a warning says so. Left out: the cue is added, "
            "or takes the place of the same cue read.",
            "cure": _KEY,
        },
    )


def cues_field() -> Any:
    """The cues of a request."""
    return list_of(
        fields.Nested(CueGiven),
        MOST_CUES,
        "cues",
        description="Cues said outright, with the text or without one: answers to a question, corrections.",
        cure='Give a list of cues such as {"attribute": "body", "values": ["pickup"]}, or leave it out.',
    )


def struck_field() -> Any:
    """The cues of a text that are to be left out."""
    return list_of(
        fields.Nested(CueKeyGiven),
        MOST_CUES,
        "cues",
        description="Cues read in the text that are to be left out, named as the answer gave them.",
        cure=f"{_KEY} Or leave it out.",
    )
