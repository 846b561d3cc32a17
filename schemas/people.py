"""Accounts and the trail of who did what, as asked for and as answered."""

from typing import Any

from marshmallow import Schema, fields, validate

from schemas.answer_parts import Time, many, told
from schemas.cue_requests import whole_text
from schemas.request_fields import Digits, Request

_DAY = r"^([0-9]{4}-[0-9]{2}-[0-9]{2})?(?![\s\S])"
_BETWEEN = "Not between {min} and {max}."
_SHORT = validate.Length(max=64, error="Longer than {max} characters.")


class TrailRequest(Request):
    """Which part of the trail."""

    person = fields.String(
        load_default="",
        validate=[_SHORT, whole_text],
        metadata={"description": "Only of this account.", "cure": "Give an account's name."},
    )
    action = fields.String(
        load_default="",
        validate=[_SHORT, whole_text],
        metadata={"description": "Only this action.", "cure": "Give an action named in an answer."},
    )
    day = fields.String(
        load_default="",
        validate=validate.Regexp(_DAY, error="Not a day."),
        metadata={"description": "Only this day, UTC.", "cure": "Write it as 2026-11-26."},
    )
    page = Digits(
        load_default=1,
        validate=validate.Range(min=1, max=1_000_000, error=_BETWEEN),
        metadata={"description": "Which part, from 1.", "cure": "Give a whole number from 1."},
    )


class TrailEntryAnswer(Schema):
    """One act."""

    seq = told(fields.Integer, "Its number in the trail, without gaps.", minimum=1)
    time = told(fields.String, "When, UTC.", format="date-time")
    actor = told(fields.String, "Whose account; empty where nobody was signed in.")
    via = told(fields.String, "How: page, terminal or token.")
    action = told(fields.String, "What was done.")
    subject = told(fields.String, "To what.")
    detail = told(fields.Dict, "What else is to be known of it.")
    prev = told(fields.String, "Hash of the entry before it, 64 zeros for none.")
    hash = told(fields.String, "SHA-256 over all of the above as canonical JSON, lower-case hex; time in microseconds.")


class TrailAnswer(Schema):
    """A part of the trail, the newest first."""

    total = told(fields.Integer, "How many entries were asked for.", minimum=0)
    head = told(fields.String, "The newest entry's hash: keep it elsewhere.")
    entries = many(TrailEntryAnswer, "At most 50.")


class MaybeTime(Time):
    """A time, or null for never."""

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> Any:
        return None if value is None else super()._serialize(value, attr, obj, **kwargs)


class AccountAnswer(Schema):
    """An account."""

    name = told(fields.String, "Its name, never used for anybody else.")
    shown = told(fields.String, "The name to be shown.")
    role = told(fields.String, "Its role.")
    one_time = told(fields.Boolean, "Whether its password is still the one given for one use.")
    created = told(Time, "Since when it is there, UTC.", format="date-time")
    disabled = told(MaybeTime, "Since when it may not sign in; null where it may.", nullable=True)


class AccountsAnswer(Schema):
    """Every account, by name."""

    accounts = many(AccountAnswer, "Every account.")
