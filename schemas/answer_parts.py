"""Parts that every answer's schema is made of: described fields, times, editions, chances."""

from datetime import UTC, datetime
from typing import Any

from marshmallow import Schema, fields


def instant(value: datetime) -> str:
    """RFC 3339 in UTC with Z; microseconds only where there are any."""
    return value.astimezone(UTC).isoformat().replace("+00:00", "Z")


class Time(fields.String):
    """An aware datetime, written by `instant`."""

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> str:
        return instant(value)


def told(kind: Any, description: str, **more: Any) -> Any:
    return kind(required=True, metadata={"description": description, **more})


def share(description: str) -> Any:
    return told(fields.Float, description, minimum=0, maximum=1)


def many(schema: type[Schema], description: str) -> Any:
    return fields.List(fields.Nested(schema), required=True, metadata={"description": description})


def texts(description: str) -> Any:
    return fields.List(fields.String(), required=True, metadata={"description": description})


CAUTIONS = "What must be said with this answer; show it with the answer."


class EditionShort(Schema):
    """Which edition an answer comes from."""

    number = told(fields.Integer, "Edition number.", minimum=1)
    hash = told(fields.String, "SHA-256 over the edition's members, lower-case hex.")
    published_at = told(Time, "When it was published, UTC.", format="date-time")


class ChanceAnswer(Schema):
    """A probability with the words it may be shown in."""

    probability = share("Between 0 and 1, never 1.")
    word = told(fields.String, "The word to show.")
    frequency = told(fields.String, 'The frequency to show, such as "about 7 in 10".')


class DoubtAnswer(Schema):
    """A fact that somebody took back to not stated, and why. It stands until the fact is stated again."""

    code = told(fields.String, "The record's code.")
    path = told(fields.String, "What is doubted: a fact, such as ports[a].place, or a whole item, such as ports[a].")
    label = told(fields.String, "The same in words.")
    since = told(Time, "Since when, UTC.", format="date-time")
    edition = told(fields.Integer, "The edition published with it.", minimum=1)
    revision = told(fields.String, "Hash of the revision that said it.")
    author = told(fields.String, "Who doubts it.")
    reason = told(fields.String, "Why.")
    reading = told(fields.String, "How it is read while it is not stated; empty for looks and notes.")
    mark = told(fields.String, "What to show beside the fact: doubted since when, read as what.")
