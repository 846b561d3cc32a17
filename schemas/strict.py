"""marshmallow pieces: one field that checks with a function, and a schema that refuses the unknown.

A `Checked` field carries its JSON Schema beside its check, so that both are made in one place.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any, ClassVar, cast

from marshmallow import EXCLUDE, Schema, ValidationError, fields, validates_schema

from schemas.findings import Finding, show
from schemas.values import check_keys

Check = Callable[[Any], Iterable[Finding]]
Json = dict[str, Any]

# marshmallow's own refusals, worded as what is allowed there.
_SAID: dict[str, str | list[Any] | dict[Any, Any]] = {
    "required": "required here",
    "null": "something stated, or no key at all",
    "type": "a list of objects",
}


class Checked(fields.Field[Any]):
    """A field whose check yields findings; what it loads is what was written."""

    def __init__(self, check: Check, json: Json, *, required: bool = False) -> None:
        super().__init__(required=required, error_messages=_SAID)
        self.check = check
        self.json = json

    def _deserialize(self, value: Any, attr: str | None, data: Mapping[str, Any] | None, **kwargs: Any) -> Any:
        findings = list(self.check(value))
        if findings:
            raise ValidationError(findings)
        return value


class Part(fields.Nested):
    """A nested object or (many) a list of them."""

    def __init__(self, schema: type[Schema], title: str, *, many: bool = False, required: bool = False) -> None:
        super().__init__(schema, many=many, required=required, error_messages=_SAID)
        self.title = title


class Strict(Schema):
    """Refuses unknown keys with a near miss, empty objects and item ids that come twice."""

    error_messages = {"type": "an object"}  # noqa: RUF012  marshmallow's, read only
    # Where keys of other parts belong, for the message about a misplaced one.
    homes: ClassVar[Mapping[str, str]] = {}

    class Meta:
        unknown = EXCLUDE  # reported below, with a cure
        register = False

    @validates_schema(skip_on_field_errors=False, pass_original=True)
    def tidy(self, data: Any, original: Any, **kwargs: Any) -> None:
        if isinstance(original, dict):
            findings = list(self._untidy(original))
            if findings:
                raise ValidationError(findings)

    def _untidy(self, original: dict[str, Any]) -> Iterator[Finding]:
        if not original:
            yield Finding("", "{}", "something stated", "Leave the key out to say not stated.")
        for key in original:
            if key in self.fields:
                continue
            home = self.homes.get(str(key), "")
            if home:
                known = f"keys here are {', '.join(self.fields)}"
                yield Finding(str(key), f"misplaced key {show(key)}", known, f"It belongs in {home}.")
            else:
                yield from check_keys({str(key): original[key]}, tuple(self.fields))
        for key, field in self.fields.items():
            if isinstance(field, Part) and field.many and isinstance(original.get(key), list):
                yield from _repeated(key, original[key])


def named(name: str, parts: Mapping[str, Checked | Part], homes: Mapping[str, str] | None = None) -> type[Strict]:
    """A strict schema with these fields. homes: see `Strict.homes`."""
    return cast(type[Strict], type(name.replace(" ", ""), (Strict,), {**parts, "homes": homes or {}}))


def object_schema(schema: Schema) -> Json:
    """JSON Schema of a schema's objects, made from its fields."""
    properties = {key: _field_schema(field) for key, field in schema.fields.items()}
    made: Json = {"type": "object", "properties": properties, "additionalProperties": False, "minProperties": 1}
    required = [key for key, field in schema.fields.items() if field.required]
    return made | ({"required": required} if required else {})


def _field_schema(field: fields.Field[Any]) -> Json:
    if isinstance(field, Checked):
        return field.json
    if not isinstance(field, Part):
        raise TypeError(f"{type(field).__name__} has no JSON Schema here")
    inner = object_schema(field.schema)
    return {"title": field.title, **({"type": "array", "items": inner} if field.many else inner)}


def _repeated(key: str, entries: list[Any]) -> Iterator[Finding]:
    seen: set[str] = set()
    for position, entry in enumerate(entries):
        named = entry.get("id") if isinstance(entry, dict) else None
        if isinstance(named, str) and named in seen:
            cure = "Give each item its own id; one that was used before stays unused."
            yield Finding(f"{key}[#{position + 1}].id", f"{show(named)} again", "each id once in a list", cure)
        elif isinstance(named, str):
            seen.add(named)
