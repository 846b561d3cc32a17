"""Briefs: as asked for, as kept, and what is said of them afterwards."""

from typing import Any

from marshmallow import RAISE, Schema, fields, validate

from schemas.answer_parts import CAUTIONS, EditionShort, Time, many, texts, told
from schemas.cue_requests import cues_field, struck_field, whole_text
from schemas.question_answers import excluded_field
from schemas.request_fields import OneOf, Request, list_of
from schemas.steps import SceneFieldAnswer, StepsRequest

LETTERS = tuple("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
KINDS = ("brief", "correction", "slip")
FORMS = ("radio", "full", "sheet", "link", "json")
LONGEST_NAME = 80
LONGEST_WORDS = 400
_NEEDED = "Give at most {} characters."
_AT_MOST = "Give at most {} characters, or leave it out."
_DAY = r"^\d{4}-\d{2}-\d{2}(?![\s\S])"


def _said(longest: int, description: str, cure: str, *, required: bool = False) -> Any:
    more: dict[str, Any] = {"required": True} if required else {"load_default": ""}
    return fields.String(
        **more,
        validate=[validate.Length(max=longest, error="Longer than {max} characters."), whole_text],
        error_messages={"required": "Missing.", "null": "Null is not text.", "invalid": "Not text."},
        metadata={"description": description, "cure": cure},
    )


class BriefRequest(StepsRequest):
    """What a brief is to be composed from."""

    cues = cues_field()
    struck = struck_field()
    excluded = excluded_field()
    letter = fields.String(
        load_default="A",
        validate=OneOf(LETTERS),
        error_messages={"null": "Null is not a letter.", "invalid": "Not text."},
        metadata={
            "description": "The vehicle's letter in its incident.",
            "cure": "Give one letter from A to Z, or leave it out for A.",
        },
    )
    incident = fields.String(
        load_default="",
        validate=validate.Regexp(r"^([A-Za-z0-9][A-Za-z0-9._-]{0,31})?(?![\s\S])", error="No number of an incident."),
        error_messages={"null": "Null is not a number.", "invalid": "Not text."},
        metadata={
            "description": "The control room's number of the incident. Left out: one of its own is opened.",
            "cure": "Give letters, digits, . _ and -, at most 32; no name and no telephone number. Or leave it out.",
        },
    )


class FollowUpRequest(BriefRequest):
    """What is said otherwise than for the brief it follows; all that is left out stays as it was."""

    class Meta(BriefRequest.Meta):
        exclude = ("letter", "incident")


class SentRequest(Request):
    """That a brief was sent."""

    form = fields.String(
        required=True,
        validate=OneOf(FORMS),
        error_messages={"required": "Missing.", "null": "Null is not a form.", "invalid": "Not text."},
        metadata={"description": "Which form of it.", "cure": f"Use one of: {', '.join(FORMS)}."},
    )
    to = _said(
        LONGEST_NAME, "To which crew, by call sign.", f"Give at most {LONGEST_NAME} characters, or leave it out."
    )


class ReadBackRequest(Request):
    """That a brief was read back."""

    who = _said(
        LONGEST_NAME,
        "Which crew read it back, by call sign.",
        f"Give at most {LONGEST_NAME} characters.",
        required=True,
    )
    words = _said(LONGEST_WORDS, "What they read back.", f"Give at most {LONGEST_WORDS} characters, or leave it out.")


class RecallRequest(Request):
    """Why a brief does not hold any more."""

    why = _said(LONGEST_WORDS, "What is wrong with it.", _NEEDED.format(LONGEST_WORDS), required=True)
    instead = _said(
        LONGEST_WORDS,
        "What to do instead. Left out: the steps for any vehicle.",
        _AT_MOST.format(LONGEST_WORDS),
    )


class TickGiven(Schema):
    """A step that was ticked."""

    class Meta:
        unknown = RAISE

    error_messages = {"type": "Not an object.", "unknown": "Unknown field."}  # noqa: RUF012

    key = _said(80, "The step's key, as the brief's full text has it.", "Give the key of a step.", required=True)
    state = fields.String(
        required=True,
        validate=OneOf(("done", "cannot")),
        error_messages={"required": "Missing.", "null": "Null is neither.", "invalid": "Not text."},
        metadata={"description": "What became of it.", "cure": "Give done or cannot."},
    )
    at = _said(40, "When, as it is to be read.", "Give a time such as 02:55, or leave it out.")


class TemperatureGiven(Schema):
    """A reading."""

    class Meta:
        unknown = RAISE

    error_messages = {"type": "Not an object.", "unknown": "Unknown field."}  # noqa: RUF012

    at = _said(40, "When, as it is to be read.", "Give a time such as 02:55, or leave it out.")
    words = _said(LONGEST_WORDS, "The temperature and where.", _NEEDED.format(LONGEST_WORDS), required=True)


class HandOverRequest(Request):
    """What the crew ticked and typed."""

    ticks = list_of(
        fields.Nested(TickGiven), 60, "ticks", description="Steps that were ticked.",
        cure='Give a list such as [{"key": "chock", "state": "done", "at": "02:55"}], or leave it out.',
    )  # fmt: skip
    typed = fields.Dict(
        keys=_said(40, "", ""),
        values=_said(LONGEST_WORDS, "", ""),
        load_default=dict,
        validate=validate.Length(max=40, error="Holds more than {max} fields."),
        error_messages={"null": "Null is not an object.", "invalid": "Not an object."},
        metadata={
            "description": "What was typed: cuts, coupler, water and the like, by the keys of the sheet.",
            "cure": 'Give an object such as {"cuts": "two, at the right front"}, or leave it out.',
        },
    )
    temperatures = list_of(
        fields.Nested(TemperatureGiven), 24, "temperatures", description="Temperatures with their times.",
        cure='Give a list such as [{"at": "02:55", "words": "41 °C at the sill"}], or leave it out.',
    )  # fmt: skip


class BriefsRequest(Request):
    """A day of briefs."""

    day = fields.String(
        load_default="",
        validate=validate.Regexp(rf"{_DAY}|^(?![\s\S])", error="Not a day."),
        error_messages={"null": "Null is not a day.", "invalid": "Not text."},
        metadata={
            "description": "A day of the site's own time. Left out: today.",
            "cure": "Write it as 2026-03-02, or leave it out.",
        },
    )


class TimeOrNull(Time):
    """An aware datetime, or null."""

    def __init__(self, **more: Any) -> None:
        super().__init__(allow_none=True, **more)

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> Any:
        return None if value is None else super()._serialize(value, attr, obj, **kwargs)


class SureAnswer(Schema):
    """How sure. Both empty where somebody named the vehicle."""

    word = told(fields.String, 'Such as "likely".')
    frequency = fields.String(
        required=True, attribute="said", metadata={"description": 'Such as "about 7 in 10".'}
    )  # fmt: skip


class BriefVehicleAnswer(Schema):
    """A vehicle a brief may be about."""

    code = told(fields.String, "The record's code.")
    revision = told(fields.String, "Hash of the revision it was composed from.")
    title = told(fields.String, "Make, model, variant.")
    subtitle = told(fields.String, "Years, body and propulsion in words.")
    sure = fields.Nested(SureAnswer, required=True)


class BreathAnswer(Schema):
    """One line of the radio text, said in one breath."""

    key = told(fields.String, "What it is about.")
    text = told(fields.String, "The line.")
    words = told(fields.Integer, "How many words it is spoken in.", minimum=0)
    start = told(fields.Float, "When it begins, in seconds from the first word.", minimum=0)
    seconds = told(fields.Float, "How long it takes to say.", minimum=0)


class RadioAnswer(Schema):
    """The radio text."""

    text = fields.String(
        required=True, attribute="radio_text", metadata={"description": "The lines under one another."}
    )  # fmt: skip
    seconds = told(fields.Float, "How long it takes to say at 150 words a minute.", minimum=0)
    lines = fields.List(
        fields.Nested(BreathAnswer), required=True, attribute="breaths", metadata={"description": "One breath a line."}
    )
    left_out = texts("Keys of what only the full text says.")


class BriefLineAnswer(Schema):
    """A line of the full text or the sheet."""

    text = told(fields.String, "The line. What is not stated says so, and how that is read.")
    lead = told(fields.String, 'What it says: "Where", "If not"; empty for the step itself.')
    level = told(fields.Integer, "1 for what belongs to the line before it.", minimum=0)
    number = told(fields.Integer, "Number of a step; 0 for what is none.", minimum=0)
    key = told(fields.String, "Which step, field or record it is.")
    state = told(fields.String, "State of the fact behind it.")
    src = texts("Pages of guides it is from.")


class BriefSectionAnswer(Schema):
    """A part of the full text or the sheet."""

    key = told(fields.String, "Its key.")
    title = told(fields.String, "Its heading.")
    lines = many(BriefLineAnswer, "Its lines.")


class PointAnswer(Schema):
    """A thing a crew acts on, as the brief says it."""

    key = told(fields.String, "The fact.")
    label = told(fields.String, "What it is.")
    words = told(fields.String, "How it reads.")


class ChangedAnswer(Schema):
    """What a correction puts right."""

    key = told(fields.String, "The fact.")
    label = told(fields.String, "What it is.")
    was = told(fields.String, "As the brief before said it.")
    now = told(fields.String, "As it is now.")
    read_back = told(fields.String, "How it is asked for; empty where it is not.")


class LinkAnswer(Schema):
    """A link that was made just now, and is told this once."""

    path = told(fields.String, "Address below the server's own.")
    expires_at = told(Time, "When it ends.", format="date-time")


class RecallAnswer(Schema):
    """That the brief does not hold any more."""

    why = told(fields.String, "What is wrong with it.")
    instead = told(fields.String, "What to do instead.")
    by = told(fields.String, "Who recalled it.")
    at = told(Time, "When.", format="date-time")


class NewerFactAnswer(Schema):
    """A fact that reads otherwise in the newest edition."""

    code = told(fields.String, "The record's code.")
    path = told(fields.String, "Where in the record.")
    label = told(fields.String, "What it is.")
    was = told(fields.String, "In the brief's edition.")
    now = told(fields.String, "In the newest.")
    doubted = told(TimeOrNull, "Since when somebody doubts it; null where nobody does.", format="date-time")


class GoneAnswer(Schema):
    """A vehicle not to be used any more."""

    code = told(fields.String, "The record's code.")
    reason = told(fields.String, "Why.")


class NewerAnswer(Schema):
    """What the newest edition says otherwise than the brief."""

    edition = told(fields.Integer, "Its number.", minimum=1)
    published_at = told(Time, "When it was published.", format="date-time")
    concerns = told(fields.Boolean, "Whether anything in the brief reads otherwise now.")
    facts = many(NewerFactAnswer, "What reads otherwise.")
    gone = many(GoneAnswer, "Vehicles not to be used any more.")


class SentAnswer(Schema):
    """That it was sent."""

    form = told(fields.String, "Which form.", enum=list(FORMS))
    to = told(fields.String, "To which crew; empty where not said.")
    by = told(fields.String, "Who sent it.")
    at = told(Time, "When.", format="date-time")


class ReadBackAnswer(Schema):
    """That it was read back."""

    who = told(fields.String, "Which crew.")
    words = told(fields.String, "What they read back; empty where not noted.")
    by = told(fields.String, "Who noted it.")
    at = told(Time, "When.", format="date-time")


class FollowerAnswer(Schema):
    """What was composed to follow a brief."""

    id = told(fields.String, "Its id.")
    kind = told(fields.String, "What it is.", enum=list(KINDS))
    composed_at = told(Time, "When.", format="date-time")
    composed_by = told(fields.String, "By whom.")
    changes = many(ChangedAnswer, "What a correction puts right.")


def _or_null(schema: type[Schema], description: str) -> Any:
    return fields.Nested(schema, required=True, allow_none=True, metadata={"description": description})


class BriefAnswer(Schema):
    """A brief with what became of it. What it says never changes."""

    id = told(fields.String, "Its id; empty where it is not stored.")
    stored = told(fields.Boolean, "Whether it is kept. Where not, show mark with every form; there is no link then.")
    mark = told(fields.String, "What must be shown with it; empty where it is stored.")
    again = told(fields.Boolean, "It had been composed before, under the same key.")
    kind = told(fields.String, "What it is.", enum=list(KINDS))
    corrects = told(fields.String, "Id of the brief it follows; empty for none.")
    incident = told(fields.String, "Number of the incident; empty where it is not stored.")
    letter = told(fields.String, "The vehicle's letter in it.")
    number = told(fields.Integer, "Which brief of that vehicle it is; 0 where it is not stored.", minimum=0)
    title = told(fields.String, "The vehicle, or that there are several.")
    edition = fields.Nested(
        EditionShort, required=True, attribute="composed.edition",
        metadata={"description": "The edition it is fixed to."},
    )  # fmt: skip
    rules = fields.String(
        required=True, attribute="composed.rules",
        metadata={"description": "Hash of the rules and wording, local steps included."},
    )  # fmt: skip
    composed_at = told(Time, "When it was composed.", format="date-time")
    composed_by = told(fields.String, "Who composed it; empty where nobody was signed in.")
    vehicles = fields.List(
        fields.Nested(BriefVehicleAnswer), required=True, attribute="composed.vehicles",
        metadata={"description": "Vehicles it may be about, likeliest first; none for any vehicle."},
    )  # fmt: skip
    unlisted = fields.Nested(
        SureAnswer, required=True, attribute="composed.unlisted",
        metadata={"description": "That the vehicle is not in this catalogue."},
    )  # fmt: skip
    scene = many(SceneFieldAnswer, "What was known of the scene; all else was unknown.")
    radio = fields.Nested(
        RadioAnswer, required=True, attribute="brief", metadata={"description": "What is said over the radio."}
    )
    full = fields.List(
        fields.Nested(BriefSectionAnswer), required=True, attribute="brief.full",
        metadata={"description": "The full text."},
    )  # fmt: skip
    sheet = fields.List(
        fields.Nested(BriefSectionAnswer), required=True, attribute="brief.sheet",
        metadata={"description": "What the printed sheet says."},
    )  # fmt: skip
    tell_caller = fields.List(
        fields.String(), required=True, attribute="brief.caller", metadata={"description": "What to tell the caller."}
    )
    points = fields.List(
        fields.Nested(PointAnswer), required=True, attribute="brief.points",
        metadata={"description": "What a crew acts on, as this brief says it."},
    )  # fmt: skip
    changes = fields.List(
        fields.Nested(ChangedAnswer), required=True, attribute="brief.changes",
        metadata={"description": "What a correction puts right."},
    )  # fmt: skip
    ask_read_back = fields.List(
        fields.String(), required=True, attribute="brief.read_back",
        metadata={"description": "What to have read back."},
    )  # fmt: skip
    link = fields.Nested(
        LinkAnswer, required=True, allow_none=True, attribute="made_link",
        metadata={"description": "A link made just now; null otherwise. It is told once: only its hash is kept."},
    )  # fmt: skip
    recalled = _or_null(RecallAnswer, "That it does not hold any more; null where it holds. Show it before all else.")
    newer = _or_null(NewerAnswer, "What a newer edition says otherwise; null where there is none.")
    sent = many(SentAnswer, "When it was sent.")
    read_back = many(ReadBackAnswer, "Who read it back.")
    opened = fields.List(
        Time(), required=True, attribute="openings", metadata={"description": "Minutes in which its link was opened."}
    )
    followed_by = many(FollowerAnswer, "What was composed to follow it, first to last.")
    cautions = texts(CAUTIONS)


class BriefShortAnswer(Schema):
    """A brief in a list."""

    id = told(fields.String, "Its id.")
    incident = told(fields.String, "Number of the incident.")
    letter = told(fields.String, "The vehicle's letter in it.")
    number = told(fields.Integer, "Which brief of that vehicle it is.", minimum=1)
    kind = told(fields.String, "What it is.", enum=list(KINDS))
    title = told(fields.String, "The vehicle, or that there are several.")
    edition = told(fields.Integer, "The edition it is fixed to.", minimum=1)
    composed_at = told(Time, "When it was composed.", format="date-time")
    composed_by = told(fields.String, "Who composed it.")
    corrects = told(fields.String, "Id of the brief it follows; empty for none.")
    sent = told(fields.Integer, "How often it was sent.", minimum=0)
    read_back = told(fields.Integer, "How often it was read back.", minimum=0)
    opened = told(fields.Integer, "In how many minutes its link was opened.", minimum=0)
    recalled = told(fields.Boolean, "Whether it was recalled.")
    corrected = told(fields.Boolean, "Whether a correction follows it.")


class BriefsAnswer(Schema):
    """The briefs of a day."""

    day = told(fields.String, "The day, of the site's own time.")
    briefs = many(BriefShortAnswer, "The newest first; at most 500.")
    cautions = texts(CAUTIONS)


class IncidentAnswer(Schema):
    """An incident."""

    id = told(fields.String, "Its number.")
    opened_at = told(Time, "When its first brief was composed.", format="date-time")
    opened_by = told(fields.String, "By whom.")
    briefs = many(BriefShortAnswer, "Its briefs, by letter and number.")
    cautions = texts(CAUTIONS)
