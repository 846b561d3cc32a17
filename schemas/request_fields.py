"""What the API's request schemas are built of: refusals with a cure, and strict fields.

Every field's metadata holds its `cure`: what to send instead, said beside whatever is wrong with
the value. Values themselves are never repeated in a message, but for words that should have been of a
closed vocabulary (`Told`).
"""

import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from difflib import get_close_matches
from typing import Any

from marshmallow import RAISE, Schema, ValidationError, fields, validate

from catalog.errors import BadInput

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


class Told(str):
    """What is wrong with a value, with the cure for this very value."""

    cure: str

    def __new__(cls, detail: str, cure: str) -> "Told":
        made = super().__new__(cls, detail)
        made.cure = cure
        return made


def found(value: str) -> str:
    """What was found, as a message may repeat it: short, with everything unprintable escaped."""
    return repr(value if len(value) <= 40 else f"{value[:40]}…")


def meant(value: str, known: Collection[str]) -> str:
    """ "Did you mean pickup? " where something known is near; else ""."""
    close = get_close_matches(value.lower().strip(), known, n=1, cutoff=0.6)
    return f"Did you mean {close[0]}? " if close else ""


class OneOf(validate.OneOf):
    """One of a few words; the message says what was found, what is allowed and what may have been meant."""

    def __call__(self, value: Any) -> Any:
        if value not in self.choices:
            known = tuple(self.choices)
            raise ValidationError(
                [Told(f"{found(value)} is not known here.", f"{meant(value, known)}Use one of: {', '.join(known)}.")]
            )
        return value


class Flag(fields.Boolean):
    """true or false, and nothing that only looks like it."""

    default_error_messages = {"invalid": "Not true or false."}  # noqa: RUF012

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> bool:
        if not isinstance(value, bool):
            raise self.make_error("invalid")
        return value


class FlagInQuery(fields.Boolean):
    """The same where everything is text: true or false as they are written in JSON."""

    default_error_messages = {"invalid": "Not true or false."}  # noqa: RUF012
    truthy = {"true"}  # noqa: RUF012
    falsy = {"false"}  # noqa: RUF012


def list_of(inner: Any, most: int, what: str, *, description: str, cure: str) -> Any:
    """A list that may be left out, of at most so many. what: its members in a word, for the refusal."""
    return fields.List(
        inner,
        load_default=(),
        validate=validate.Length(max=most, error=f"Holds more than {{max}} {what}."),
        error_messages={"null": "Null is not a list.", "invalid": "Not a list."},
        metadata={"description": f"{description} At most {most}.", "cure": cure},
    )


class Request(Schema):
    """A request whose unknown fields are refused."""

    error_messages = {"type": "Not an object.", "unknown": "Unknown field."}  # noqa: RUF012
    cure = "Send one JSON object."  # for what is wrong with the request as a whole

    class Meta:
        unknown = RAISE

    def refusals(self, messages: object) -> Iterator[Refusal]:
        """What marshmallow found, as refusals with a cure. messages: ValidationError.messages."""
        for path, detail in _flatten(messages, ""):
            cure = detail.cure if isinstance(detail, Told) else self._cure(path)
            yield Refusal(path, str(detail), cure)

    def _cure(self, path: str) -> str:
        """The cure of the innermost field of ours that the path leads to."""
        schema: Schema = self
        cure = self.cure
        for name in re.findall(r"[^.\[\]]+", re.sub(r"\[\d+\]", "", path)):
            if name not in schema.fields:
                return _instead_of(name, schema.fields)
            field = schema.fields[name]
            cure = str(field.metadata["cure"])
            inner = field.inner if isinstance(field, fields.List) else field
            if not isinstance(inner, fields.Nested):
                break
            schema = inner.schema
        return cure


def loaded(schema: Request, given: Mapping[str, Any]) -> dict[str, Any]:
    """What a request holds, from elsewhere than a request. Raises BadInput for the first fault."""
    try:
        made: dict[str, Any] = schema.load(given)
    except ValidationError as error:
        first = next(schema.refusals(error.messages))
        raise BadInput(f"{first.path}: {first.detail}", cure=first.cure) from error
    return made


def _instead_of(name: str, known: Collection[str]) -> str:
    """What to write in the place of a field nobody knows."""
    close = get_close_matches(name.lower(), known, n=1, cutoff=0.6)
    if close:
        return f"Did you mean {close[0]}?"
    return f"Leave it out, or use one of: {', '.join(known)}." if known else "Leave it out: nothing can be given here."


def _flatten(messages: object, path: str) -> Iterator[tuple[str, str]]:
    match messages:
        case Mapping():
            for key, inner in messages.items():
                yield from _flatten(inner, _joined(path, key))
        case list() | tuple():
            for inner in messages:
                yield from _flatten(inner, path)
        case str():
            yield path, messages
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
