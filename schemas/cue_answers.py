"""What was understood, as the API and `--json` answer with it."""

from typing import Any

from marshmallow import Schema, fields, validate

from catalog.domain.attributes import ATTRIBUTES
from catalog.domain.said import SCENE
from schemas.answer_parts import CAUTIONS, EditionShort, many, texts, told
from schemas.cue_requests import DOUBTS, VEHICLES

MASKED = "Telephone numbers, registration plates, e-mail, names and addresses found by pattern: never used, never kept."


class SpanAnswer(Schema):
    """A half-open range of the text as sent, in code points."""

    start = told(fields.Integer, "First code point.", minimum=0)
    end = told(fields.Integer, "One past the last code point.", minimum=0)


class CueKeyAnswer(Schema):
    """A cue named by what it says: give this back to strike it out or to put it right."""

    attribute = told(fields.String, "What it is about.", enum=list(ATTRIBUTES))
    values = fields.List(
        fields.String(), required=True, metadata={"description": "Alternatives, one of which is meant."}
    )
    denied = told(fields.Boolean, "Said not to be so.")
    vehicle = told(fields.String, "A or B.", enum=list(VEHICLES))

    def get_attribute(self, obj: Any, attr: str, default: Any) -> Any:
        return obj[("attribute", "values", "denied", "vehicle").index(attr)]


class CueAnswer(Schema):
    """One thing understood."""

    attribute = fields.String(
        attribute="cue.attribute",
        required=True,
        metadata={"description": "What it is about.", "enum": list(ATTRIBUTES)},
    )
    values = fields.List(
        fields.String(),
        attribute="cue.values",
        required=True,
        metadata={"description": "Alternatives, one of which is meant. A port place reads side|end|level."},
    )
    label = told(fields.String, "In words.")
    wording = told(fields.String, "A phrase that, read as a text, gives the same cue.")
    denied = fields.Boolean(attribute="cue.denied", required=True, metadata={"description": "Said not to be so."})
    doubt = fields.String(
        attribute="cue.doubt",
        required=True,
        metadata={"description": "How firmly it was said.", "enum": list(DOUBTS)},
    )
    viewpoint = fields.String(
        attribute="cue.viewpoint",
        required=True,
        metadata={
            "description": "From where sides were said: empty for unsaid, vehicle (seated facing forward), front "
            "(facing its front; already turned round), rear.",
            "enum": ["", "vehicle", "front", "rear"],
        },
    )
    vehicle = fields.String(
        attribute="cue.vehicle",
        required=True,
        metadata={
            "description": "A: the one asked about. B: another in the same description, which never ranks.",
            "enum": list(VEHICLES),
        },
    )
    spans = fields.List(
        fields.Nested(SpanAnswer),
        attribute="cue.spans",
        required=True,
        metadata={"description": "Where in the text it was said; empty where it was said outright."},
    )
    heard = fields.String(
        attribute="cue.heard", required=True, metadata={"description": "The words it was taken from."}
    )
    origin = told(
        fields.String,
        "read: in the text. corrected: given in the place of what was read there. given: said outright.",
        enum=["read", "corrected", "given"],
    )
    instead_of = fields.Nested(
        CueKeyAnswer,
        required=True,
        allow_none=True,
        metadata={"description": "What was read, where it was corrected; else null."},
    )
    ranks = told(fields.Boolean, "Whether it moves the ranking.")
    note = told(fields.String, "Why it does not rank, or how it was taken; often empty.")


def scene_field() -> Any:
    """The proposed scene of an answer."""
    return fields.Dict(
        keys=fields.String(validate=validate.OneOf(SCENE.keys)),
        values=fields.String(validate=validate.OneOf(("yes", "no", "perhaps"))),
        required=True,
        metadata={
            "description": "The scene as the text proposes it, for somebody to confirm: value to yes, no or perhaps "
            "(doubted, or said both ways). What is not in it was not said."
        },
    )


class ReadAnswer(Schema):
    """What was understood of a description, before anything is weighed."""

    edition = fields.Nested(EditionShort, required=True)
    text = told(fields.String, "The text as sent, each masked character as a full block, so that spans hold.")
    cues = many(CueAnswer, "What counts: understood, put right or said outright.")
    struck = many(CueAnswer, "What was understood and is left out because `struck` named it.")
    unread = many(SpanAnswer, "What was not understood.")
    masked = many(SpanAnswer, MASKED)
    scene = scene_field()
    driving_side = told(fields.String, "The side of the road traffic keeps to, as used.", enum=["left", "right"])
    warnings = texts("What to mind in this answer.")
    cautions = texts(CAUTIONS)


class UnreadWordAnswer(Schema):
    """A word that stayed unread."""

    word = told(fields.String, "The word, folded.")
    descriptions = told(fields.Integer, "In how many separate descriptions.", minimum=3)


class UnreadWordsAnswer(Schema):
    """Words that often stay unread, the most frequent first."""

    words = many(UnreadWordAnswer, "The words.")


class SayingAnswer(Schema):
    """What reads as one value, or does one thing to what is said beside it."""

    attribute = told(fields.String, "What it is about, or what the words do.")
    value = told(fields.String, "The value; alternatives are parted by |.")
    says = texts("The ways to say it. <name> stands for each of the set of that name.")
    sets = fields.Dict(
        fields.String(),
        fields.List(fields.String()),
        required=True,
        metadata={"description": "The sets used in `says`."},
    )
    only_if = told(fields.String, "The condition of the reader that must hold; empty where there is none.")
    not_before = texts("Words that, following, make it mean something else.")
    doubt = told(fields.String, "The doubt it carries by itself; empty where it is firm.")


class SayingsAnswer(Schema):
    """What people say, and what it is read as."""

    listed_in = told(fields.Integer, "The edition that lists these tables; 0 where none does.", minimum=0)
    changed = texts("Tables in which the running program differs from that edition; the program is what reads.")
    total = told(fields.Integer, "Rows in all tables.", minimum=0)
    rows = many(SayingAnswer, "The rows asked for.")
    cautions = texts(CAUTIONS)
