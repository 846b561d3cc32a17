"""What the API's request schemas are built of: refusals with a cure, and strict fields.

Every field's metadata holds its `cure`: what to send instead, said beside whatever is wrong with
the value. Values themselves are never repeated in a message.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from difflib import get_close_matches
from typing import Any

from marshmallow import RAISE, Schema, fields

_INSTANT = re.compile(
    r"(\d{4}-\d{2}-\d{2})[Tt](\d{2}:\d{2}):(\d{2})(?:\.(\d+))?(Z|z|[+-]\d{2}:\d{2})?",
    re.ASCII,
)


@dataclass(frozen=True, slots=True)
class Refusal:
    """One thing wrong with a request. path: "include[0]", or "" for the request as a whole."""

    path: str
    detail: str
    cure: str


class Request(Schema):
    """A request whose unknown fields are refused."""

    error_messages = {"type": "Not an object.", "unknown": "Unknown field."}  # noqa: RUF012
    cure = "Send one JSON object."  # for what is wrong with the request as a whole

    class Meta:
        unknown = RAISE

    def refusals(self, messages: object) -> Iterator[Refusal]:
        """What marshmallow found, as refusals with a cure. messages: ValidationError.messages."""
        for path, detail in _flatten(messages, ""):
            name = re.split(r"[.\[]", path, maxsplit=1)[0]
            yield Refusal(path, detail, self._cure(name))

    def _cure(self, name: str) -> str:
        if name in self.fields:
            return str(self.fields[name].metadata["cure"])
        if not name:
            return self.cure
        close = get_close_matches(name.lower(), self.fields, n=1, cutoff=0.6)
        if close:
            return f"Did you mean {close[0]}?"
        if not self.fields:
            return "Leave it out: nothing can be given here."
        return f"Leave it out, or use one of: {', '.join(self.fields)}."


def _flatten(messages: object, path: str) -> Iterator[tuple[str, str]]:
    match messages:
        case Mapping():
            for key, inner in messages.items():
                yield from _flatten(inner, _joined(path, key))
        case list() | tuple():
            for inner in messages:
                yield from _flatten(inner, path)
        case _:
            yield path, str(messages)


def _joined(path: str, key: object) -> str:
    if key == "_schema":
        return path
    if isinstance(key, int):
        return f"{path}[{key}]"
    name = str(key)[:60]
    return f"{path}.{name}" if path else name


class Whole(fields.Integer):
    """A whole number as JSON Schema means it: 3 and 3.0, but not "3" and not true."""

    default_error_messages = {"invalid": "Not a whole number."}  # noqa: RUF012 - marshmallow's own way

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> int:
        if isinstance(value, bool) or not isinstance(value, int | float) or value != value // 1:
            raise self.make_error("invalid")
        return int(value)


class Digits(fields.Integer):
    """A whole number in a query string: ASCII digits, nothing else."""

    default_error_messages = {"invalid": "Not a whole number."}  # noqa: RUF012

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> int:
        if not isinstance(value, str) or not re.fullmatch(r"[0-9]{1,18}", value, re.ASCII):
            raise self.make_error("invalid")
        return int(value)


class Instant(fields.DateTime):
    """A point in time, RFC 3339. Loaded as an aware UTC datetime; a time without a zone is refused."""

    default_error_messages = {  # noqa: RUF012
        "invalid": "Not an RFC 3339 instant.",
        "naive": "The time has no zone, so it could be any of 26 hours.",
    }

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> datetime:
        found = _INSTANT.fullmatch(value) if isinstance(value, str) else None
        if found is None:
            raise self.make_error("invalid")
        day, minute, second, fraction, zone = found.groups()
        if zone is None:
            raise self.make_error("naive")
        try:
            return _instant(day, minute, int(second), fraction or "0", zone.upper())
        except (ValueError, OverflowError) as error:
            raise self.make_error("invalid") from error


def _instant(day: str, minute: str, second: int, fraction: str, zone: str) -> datetime:
    # RFC 3339 allows second 60; the instant after a leap second is the nearest a clock here can hold.
    leap = timedelta(seconds=1) if second == 60 else timedelta()
    text = f"{day}T{minute}:{min(second, 59) if second <= 60 else second:02}.{fraction[:6]:0<6}{zone}"
    return datetime.fromisoformat(text).astimezone(UTC) + leap
