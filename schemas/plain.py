"""Fields that are not facts: text, sets of words, lists of things, sources."""

import re
from collections.abc import Callable, Iterable, Iterator
from typing import Any

from catalog.domain.spec.nodes import Number, Terms
from schemas.facts import check_sources
from schemas.findings import Finding, show
from schemas.strict import Checked, Json
from schemas.values import check_number, check_repeats, check_text, check_value, text_schema, value_schema

LANGUAGE = r"^[a-z]{2,3}(?:-[A-Za-z0-9]{2,8})*(?![\s\S])"


def text_field(longest: int, *, required: bool = False, paragraphs: bool = False) -> Checked:
    return Checked(
        lambda value: check_text(value, longest, paragraphs=paragraphs),
        text_schema(longest, paragraphs=paragraphs),
        required=required,
    )


def terms_field(kind: Terms, *, required: bool = True) -> Checked:
    return Checked(lambda value: check_value(kind, value), value_schema(kind), required=required)


def number_field(kind: Number, *, required: bool) -> Checked:
    return Checked(lambda value: check_number(kind, value), value_schema(kind), required=required)


def pattern_field(pattern: str, allowed: str, cure: str = "", *, required: bool) -> Checked:
    """Text that matches a pattern whole. allowed: the pattern in words."""
    compiled = re.compile(pattern)

    def check(value: Any) -> Iterator[Finding]:
        if not isinstance(value, str) or compiled.match(value) is None:
            yield Finding("", show(value), allowed, cure)

    return Checked(check, {"type": "string", "pattern": pattern}, required=required)


def language_field(*, required: bool) -> Checked:
    return pattern_field(LANGUAGE, "a language tag such as en or de-AT (BCP 47)", required=required)


def sources_field() -> Checked:
    """The `src` of an object that is not a fact."""

    def check(value: Any) -> Iterator[Finding]:
        for finding in check_sources(value):
            yield Finding(finding.path.removeprefix("src"), finding.found, finding.allowed, finding.cure)

    return Checked(check, {"$ref": "#/$defs/src"}, required=True)


def list_field(check: Callable[[Any], Iterable[Finding]], what: str, item: Json) -> Checked:
    """A list of things, at least one and none twice. item: JSON Schema of one."""

    def check_all(value: Any) -> Iterator[Finding]:
        if not isinstance(value, list) or not value:
            cure = "Leave the key out." if value == [] else f"Write it as a list: [{show(value)}]."
            yield Finding("", show(value), f"a list of {what}", cure)
            return
        for position, entry in enumerate(value):
            for finding in check(entry):
                yield Finding(f"[#{position + 1}]", finding.found, finding.allowed, finding.cure)
        yield from check_repeats(value)

    return Checked(check_all, {"title": what, "type": "array", "items": item, "minItems": 1, "uniqueItems": True})
