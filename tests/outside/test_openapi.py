"""The API's document against OpenAPI 3.1.0 (OpenAPI Initiative, February 2021) and JSON Schema 2020-12.

Checked by openapi-spec-validator, which holds the Initiative's own schema of the document, and by
jsonschema, which holds the 2020-12 meta-schemas.
"""

import re
from collections.abc import Iterator
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from openapi_spec_validator import OpenAPIV31SpecValidator

from tests.unit.api_fakes import make_client

# Section 4.8.2 of the specification: components are named with these characters only.
COMPONENT = re.compile(r"^[a-zA-Z0-9.\-_]+$")
METHODS = ("get", "put", "post", "delete", "options", "head", "patch", "trace")


@pytest.fixture
def document(monkeypatch: pytest.MonkeyPatch) -> dict[str, Any]:
    client, _ = make_client(monkeypatch)
    response = client.get("/api/v1/openapi.json")
    assert response.mimetype == "application/json"
    made: dict[str, Any] = response.get_json()
    return made


def operations(document: dict[str, Any]) -> Iterator[tuple[str, str, dict[str, Any]]]:
    for path, item in document["paths"].items():
        for method in METHODS:
            if method in item:
                yield path, method, item[method]


def test_the_document_is_valid_openapi_3_1(document: dict[str, Any]) -> None:
    assert document["openapi"] == "3.1.0"
    assert not list(OpenAPIV31SpecValidator(document).iter_errors())


def test_the_validator_would_notice(document: dict[str, Any]) -> None:
    del document["paths"]["/api/v1/resolve"]["post"]["responses"]["200"]["description"]
    assert list(OpenAPIV31SpecValidator(document).iter_errors())


def test_every_schema_is_valid_in_the_dialect(document: dict[str, Any]) -> None:
    # Section 4.8.1: without jsonSchemaDialect the dialect is the OAS base, whose validation is 2020-12.
    assert "jsonSchemaDialect" not in document
    for schema in document["components"]["schemas"].values():
        Draft202012Validator.check_schema(schema)


def test_every_reference_leads_somewhere(document: dict[str, Any]) -> None:
    found = 0
    stack: list[Any] = [document]
    while stack:
        node = stack.pop()
        if isinstance(node, dict):
            if isinstance(reference := node.get("$ref"), str):
                found += 1
                target: Any = document
                for part in reference.removeprefix("#/").split("/"):
                    target = target[part]
            stack.extend(node.values())
        elif isinstance(node, list):
            stack.extend(node)
    assert found > 100


def test_components_are_named_as_allowed(document: dict[str, Any]) -> None:
    for kind in document["components"].values():
        assert all(COMPONENT.match(name) for name in kind)


def test_operation_ids_are_unique_and_path_parameters_declared(document: dict[str, Any]) -> None:
    # Section 4.8.10: operationId MUST be unique; 4.8.12: path parameters MUST be in the path and required.
    found = list(operations(document))
    assert len({told["operationId"] for _, _, told in found}) == len(found)
    for path, _, told in found:
        declared = [*document["paths"][path].get("parameters", ()), *told.get("parameters", ())]
        named = {entry["name"] for entry in declared if entry["in"] == "path"}
        assert named == set(re.findall(r"{([^}]+)}", path))
        assert all(entry["required"] is True for entry in declared if entry["in"] == "path")


def test_every_problem_is_documented_as_one(document: dict[str, Any]) -> None:
    # RFC 9457 section 6.1: the media type problems are sent with.
    for _, _, told in operations(document):
        for status, response in told["responses"].items():
            if int(status) >= 400:
                whole = document["components"]["responses"][response["$ref"].rsplit("/", 1)[1]]
                assert list(whole["content"]) == ["application/problem+json"]


def test_nothing_in_the_document_points_to_another_host(document: dict[str, Any]) -> None:
    stack: list[Any] = [document]
    while stack:
        node = stack.pop()
        if isinstance(node, dict):
            stack.extend(node.values())
        elif isinstance(node, list):
            stack.extend(node)
        elif isinstance(node, str):
            assert "://" not in node
