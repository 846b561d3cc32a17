"""The gate for source documents."""

from typing import Any

import pytest
from jsonschema import Draft202012Validator

from catalog.domain.sources import GuideSection, parse_reference
from schemas.findings import Invalid
from schemas.source import load_source, source_json_schema

GUIDE: dict[str, Any] = {
    "kind": "guide",
    "number": "KEL-7",
    "issue": 2,
    "title": "Kella rescue guide",
    "publisher": "Ondru",
    "issued": "2023-05-01",
    "retrieved": "2023-06-11",
    "pages": 24,
    "sha256": "0f" * 32,
    "lang": "en",
    "sections": [{"page": 9, "heading": "Cutting high voltage off", "text": "First.\n\nThen."}],
}
VALIDATOR = Draft202012Validator(source_json_schema())


def test_a_guide_loads_and_names_itself() -> None:
    source = load_source(GUIDE)
    assert (source.key, source.short) == ("KEL-7/2", "KEL-7 issue 2")
    assert source.sections == (GuideSection(9, "Cutting high voltage off", "First.\n\nThen."),)
    assert parse_reference(f"{source.key}:9").key == source.key
    VALIDATOR.validate(GUIDE)


def test_a_crews_sighting_needs_no_pages() -> None:
    optional = ("pages", "sha256", "lang", "sections")
    seen = {key: value for key, value in GUIDE.items() if key not in optional} | {"kind": "seen"}
    assert load_source(seen).pages is None
    VALIDATOR.validate(seen)


@pytest.mark.parametrize(
    ("change", "path", "words"),
    [
        ({"kind": "guid"}, "kind", "Did you mean guide?"),
        ({"number": "kel-7"}, "number", "Capitals"),
        ({"issue": 0}, "issue", "from 1 to 9999"),
        ({"issue": "2"}, "issue", "without quotes"),
        ({"title": ""}, "title", "text of 1 to"),
        ({"issued": "01.05.2023"}, "issued", "2026-03-02"),
        ({"issued": "2023-02-30"}, "issued", "A date"),
        ({"issued": "20230501"}, "issued", "A date"),
        ({"retrieved": "2022-01-01"}, "retrieved", "not before it was issued"),
        ({"sha256": "0F" * 32}, "sha256", "lower-case hex"),
        ({"lang": "English"}, "lang", "BCP 47"),
        ({"pages": 8}, "sections[#1].page", "1 to 8"),
        ({"pages": None}, "pages", "null is refused"),
        ({"sections": []}, "sections", "or no key at all"),
        ({"sections": [{"page": 1, "heading": "x"}]}, "sections[#1].text", "required"),
        ({"nubmer": "KEL-7"}, "nubmer", "Did you mean number?"),
    ],
)
def test_a_mistake_is_named_where_it_stands(change: dict[str, Any], path: str, words: str) -> None:
    with pytest.raises(Invalid) as caught:
        load_source(GUIDE | change)
    (line,) = [str(finding) for finding in caught.value.findings]
    assert line.lower().startswith(f"{path}: found")
    assert words.lower() in line.lower()


@pytest.mark.parametrize("key", ["kind", "number", "issue", "title", "publisher", "issued", "retrieved"])
def test_what_every_source_needs(key: str) -> None:
    document = {name: value for name, value in GUIDE.items() if name != key}
    with pytest.raises(Invalid, match=f"{key}: found nothing"):
        load_source(document)
    assert not VALIDATOR.is_valid(document)


def test_what_is_no_object_is_refused() -> None:
    with pytest.raises(Invalid, match="A source: an object"):
        load_source([GUIDE])


def test_the_published_schema_is_2020_12() -> None:
    Draft202012Validator.check_schema(source_json_schema())
