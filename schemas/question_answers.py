"""Questions: what is answered of them, and what a request says was answered."""

from typing import Any

from marshmallow import Schema, fields, validate

from schemas.answer_parts import many, texts, told
from schemas.cue_requests import whole_text
from schemas.request_fields import OneOf, list_of

CALLERS = ("unknown", "inside", "beside", "away", "passing", "crew")
STOPPED = ("", "enough", "nothing_safe", "asked")
MOST_ANSWERS, MOST_EXCLUDED = 20, 50
LONGEST_ANSWER, LONGEST_ID = 60, 40


class OptionAnswer(Schema):
    """An answer to choose."""

    id = told(fields.String, "Send this back in `answers`.")
    words = told(fields.String, "In the caller's words: show this.")
    attribute = told(fields.String, "Of the cue it adds.")
    values = texts("Of the cue it adds.")


class QuestionAnswer(Schema):
    """A question worth putting to this caller."""

    id = told(fields.String, "Its key in `answers`.")
    ask = told(fields.String, "The question, to be put as it stands.")
    frame = told(fields.String, "How sides are meant, to be said with it; empty where none are asked for.")
    options = many(OptionAnswer, "The answers; empty where the answer is a name in the caller's own words.")
    cannot_tell = told(fields.String, "What to send when the caller cannot tell: always an answer.")
    why = told(fields.String, "What it is asked for.")
    voi = told(
        fields.Float,
        "Share of all that may be lost by acting on a wrong fact that asking is expected to save, its cost taken off. "
        "Not above 0 where it is asked for its information alone.",
    )
    bits = told(fields.Float, "Information it is expected to give.")


class QuestionsAnswer(Schema):
    """What to ask next. Nothing that needs going nearer, touching or crossing traffic."""

    questions = many(QuestionAnswer, "The best first, each chosen as if it were the only one: put one, then ask again.")
    caller = told(fields.String, "Where who answers is, as used.", enum=list(CALLERS))
    advice = told(fields.String, "What to mind while asking: show it with the question.")
    stopped = told(
        fields.String,
        "Why nothing is asked. enough: no answer would change much. nothing_safe: nothing may be asked of this caller. "
        "asked: enough was. Empty while something is.",
        enum=list(STOPPED),
    )
    said = told(fields.String, "The same in words; else empty.")
    offer_unlisted = told(fields.String, "What to do instead of asking on; else empty.")


def questions_field() -> Any:
    """The questions of an answer."""
    return fields.Nested(
        QuestionsAnswer, metadata={"description": 'What to ask next; only with "questions" in include.'}
    )


class ExcludedAnswer(Schema):
    """A record said not to be it: less likely by far, never impossible."""

    code = told(fields.String, "The record's code.")
    title = told(fields.String, "Make, model, variant; empty where this edition does not hold it.")
    subtitle = told(fields.String, "Years, body and propulsion in words.")


def answers_field() -> Any:
    """The answers of a request."""
    return fields.Dict(
        keys=fields.String(
            validate=[validate.Length(max=LONGEST_ID, error="Longer than {max} characters."), whole_text],
            error_messages={"invalid": "Not text."},
        ),
        values=fields.String(
            validate=[validate.Length(max=LONGEST_ANSWER, error="Longer than {max} characters."), whole_text],
            error_messages={"null": "Null is not an answer.", "invalid": "Not text."},
        ),
        load_default=dict,
        validate=validate.Length(max=MOST_ANSWERS, error="Holds more than {max} answers."),
        error_messages={"null": "Null is not an object.", "invalid": "Not an object."},
        metadata={
            "description": "What was answered so far: question id to the id of an option, to cannot_tell, or, where a "
            "question has no options, to the name as heard. An answer adds a cue and takes the place of a mere guess; "
            "no question is asked twice. Nothing is kept: send all of them every time.",
            "cure": 'Give an object such as {"tailpipe": "none", "roof": "cannot_tell"}, or leave it out.',
        },
    )


def excluded_field() -> Any:
    """The records of a request that are said not to be it."""
    return list_of(
        fields.String(
            validate=[validate.Length(max=20, error="Longer than {max} characters."), whole_text],
            error_messages={"null": "Null is not a code.", "invalid": "Not text."},
        ),
        MOST_EXCLUDED,
        "codes",
        description="Codes of records of which somebody said: not this vehicle. It speaks against them and is never "
        "taken as certain.",
        cure="Give a list of record codes, or leave it out.",
    )


def caller_field() -> Any:
    """Where who answers is."""
    return fields.String(
        validate=OneOf(CALLERS),
        error_messages={"null": "Null is not a place.", "invalid": "Not text."},
        metadata={
            "description": "Where who answers is; decides what may be asked. crew: at the vehicle, chocked and "
            "approached by procedure. Left out: as the text says, else unknown.",
            "cure": f"Give one of: {', '.join(CALLERS)}. Or leave it out.",
        },
    )
