"""The steps for a vehicle, several or any: as asked for and as answered."""

from marshmallow import Schema, fields, validate

from catalog.domain.connectors import CONNECTOR
from schemas.answer_parts import CAUTIONS, ChanceAnswer, EditionShort, many, texts, told
from schemas.cue_requests import whole_text
from schemas.request_fields import OneOf, Request, list_of
from schemas.requests import LONGEST_TEXT

MOST_CODES = 12
MOST_FIELDS = 60
SAID = ("yes", "no", "unknown")
KINDS = ("any_vehicle", "one_vehicle", "same_on_all", "two_branches", "any_vehicle_and_what_agrees")
PARTS = ("why", "where", "how", "tool", "confirms", "fails", "wait", "meanwhile", "not")
CALLERS = ("unknown", "inside", "beside", "away", "passing")
STATES = ("stated", "not_fitted", "may_be_fitted", "disputed", "not_stated")


def _text(longest: int) -> fields.String:
    return fields.String(
        validate=[validate.Length(max=longest, error="Longer than {max} characters."), whole_text],
        error_messages={"null": "Null is not text.", "invalid": "Not text."},
    )


class StepsRequest(Request):
    """A vehicle, a description or nothing, and the scene."""

    codes = list_of(
        _text(16), MOST_CODES, "codes",
        description="Records it may be, each as likely as the others; one for a vehicle that is known.",
        cure='Give a list of codes such as ["QK7-M3M"], or leave it out.',
    )  # fmt: skip
    text = fields.String(
        load_default="",
        validate=[validate.Length(max=LONGEST_TEXT, error="Longer than {max} characters."), whole_text],
        error_messages={"null": "Null is not text.", "invalid": "Not text."},
        metadata={
            "description": "A description to weigh where there are no codes; what it says of the scene is taken "
            "either way. It is not stored.",
            "cure": f"Send the description as text of at most {LONGEST_TEXT:,} characters, or leave it out.",
        },
    )
    scene = fields.Dict(
        keys=_text(40),
        values=fields.String(
            validate=OneOf(SAID), error_messages={"null": "Null is neither.", "invalid": "Not text."}
        ),
        load_default=dict,
        validate=validate.Length(max=MOST_FIELDS, error="Holds more than {max} fields."),
        error_messages={"null": "Null is not an object.", "invalid": "Not an object."},
        metadata={
            "description": "What is known of the scene: field to yes, no or unknown, over what the text says. What is "
            "left out is unknown, and unknown takes no caution away.",
            "cure": 'Give an object such as {"fire": "no", "slope": "yes"}, or leave it out.',
        },
    )  # fmt: skip
    carried = fields.List(
        fields.String(
            validate=OneOf(CONNECTOR.keys), error_messages={"null": "Null is no connector.", "invalid": "Not text."}
        ),
        validate=validate.Length(max=len(CONNECTOR.keys), error="Holds more than {max} connectors."),
        error_messages={"null": "Null is not a list.", "invalid": "Not a list."},
        metadata={
            "description": "Connector standards of the couplers the crew carries. Left out: not known; an empty list: "
            "none.",
            "cure": f"Give a list of: {', '.join(CONNECTOR.keys)}. Or leave it out.",
        },
    )  # fmt: skip
    caller = fields.String(
        validate=OneOf(CALLERS),
        error_messages={"null": "Null is not a place.", "invalid": "Not text."},
        metadata={
            "description": "Where the caller is. Left out: as the text says, else unknown.",
            "cure": f"Give one of: {', '.join(CALLERS)}. Or leave it out.",
        },
    )


class StepLineAnswer(Schema):
    """A sentence of a step."""

    part = told(fields.String, "What it says: `not` is what the step does not do.", enum=list(PARTS))
    text = told(fields.String, "The sentence. What is not stated says so, and how that is read.")
    state = told(fields.String, "State of the fact behind it; stated for a fixed sentence.", enum=list(STATES))
    src = texts("Pages of guides it is from.")


class StepAnswer(Schema):
    """One step."""

    number = told(fields.Integer, "Its place in the order, from 1.", minimum=1)
    key = told(fields.String, "Which step it is, and of which port or way; the same as long as it is the same step.")
    phase = told(fields.String, "Key of its phase.")
    do = told(fields.String, "What to do, in a line.")
    only_if = texts("What must be made sure of first; say it before the step.")
    holds = texts("When it must not be done yet; say it before the step.")
    lines = many(StepLineAnswer, "Why, where, how, with what, how to check, if not, the wait, what it does not do.")
    chance = fields.Nested(
        ChanceAnswer, required=True, allow_none=True,
        metadata={"description": "Least share of vehicles that have it just so; null for one vehicle or any."},
    )  # fmt: skip
    differs = told(fields.Boolean, "It reads differently on some of the possible vehicles.")
    cautions = texts("Keys of the warnings it carries.")
    sources = texts("What it rests on: pages of guides, published documents, or common practice.")
    site = told(fields.Boolean, "Added locally.")


class PhaseAnswer(Schema):
    """A heading of the steps."""

    key = told(fields.String, "Its key.")
    label = told(fields.String, "Its words.")


class StepVehicleAnswer(Schema):
    """A vehicle the steps are for."""

    code = told(fields.String, "The record's code.")
    title = told(fields.String, "Make, model, variant.")
    subtitle = told(fields.String, "Years, body and propulsion in words.")
    chance = fields.Nested(ChanceAnswer, required=True)


class StepBranchAnswer(Schema):
    """One of two branches."""

    letter = told(fields.String, "As the steps name it.")
    sight = told(fields.String, "What shows it; empty where no sight decides.")
    codes = texts("Its records.")
    chance = fields.Nested(ChanceAnswer, required=True)


class SceneFieldAnswer(Schema):
    """A field of the scene that is known."""

    key = told(fields.String, "The field.")
    said = told(fields.String, "yes or no.", enum=["yes", "no"])
    words = told(fields.String, "In words.")


class StepWarningAnswer(Schema):
    """What the steps warn of."""

    key = told(fields.String, "Its key.")
    text = told(fields.String, "Its words.")


class StepsAnswer(Schema):
    """Ordered steps in a scene."""

    edition = fields.Nested(EditionShort, required=True)
    kind = told(
        fields.String,
        "any_vehicle; one_vehicle; same_on_all: the possible vehicles read alike; two_branches: A and B; "
        "any_vehicle_and_what_agrees: a wide field.",
        enum=list(KINDS),
    )
    vehicles = many(StepVehicleAnswer, "The vehicles that count: more than 1 in 100.")
    unlisted = fields.Nested(
        ChanceAnswer, required=True, metadata={"description": "That the vehicle is not in this catalogue."}
    )
    branches = many(StepBranchAnswer, "A and B with the sight that decides; else none.")
    scene = many(SceneFieldAnswer, "What is known of the scene; all else is unknown.")
    caller = told(fields.String, "Where the caller is.", enum=list(CALLERS))
    phases = many(PhaseAnswer, "Phases in their order here.")
    steps = many(StepAnswer, "The steps in their order.")
    warnings = many(StepWarningAnswer, "Every warning of these steps.")
    cautions = texts(CAUTIONS)
