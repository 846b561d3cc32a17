"""Parts of the OpenAPI document that no view declares: names, headers, path parameters, schemas."""

from typing import Any

from marshmallow import Schema

from catalog.api.operation import Operation
from catalog.domain.cautions import FULL
from schemas import written_schema

DESCRIPTION = " ".join(
    (
        "A versioned catalogue of vehicle emergency data for rescue crews, with a search that turns a partial, partly"
        " wrong description into likely records with honest confidence.",
        *FULL,
    )
)
LICENSE = {"name": "Apache-2.0", "identifier": "Apache-2.0"}

_HEADERS = {
    "CHOCKBOOK_EDITION": ("Number of the edition the answer comes from.", {"type": "integer", "minimum": 1}),
    "REQUEST_ID": ("Finds this request in the server's log; a well-formed one of yours is kept.", {"type": "string"}),
    "ENTITY_TAG": ("Changes whenever the answer does; send it back as If-None-Match.", {"type": "string"}),
}


_TOKEN = {
    "type": "http", "scheme": "bearer",
    "description": "An account's token, made with `chockbook token make` or on its page. It is good for some of the"
    " rights of the account's role, and ends on a day.",
}  # fmt: skip


KEY = "Idempotency-Key"
_KEY_WORDS = (
    "Drawn at random for this request, 16 to 64 letters, digits, - and _. The same request sent again under it changes "
    "nothing more; another is refused."
)


def name_of(schema: type[Schema] | Schema) -> str:
    """A schema's name in the document: its class without "Answer"."""
    kind = schema if isinstance(schema, type) else type(schema)
    short = kind.__name__.removesuffix("Answer") or kind.__name__
    only = getattr(schema, "only", None)
    return f"{short}Part" if only else short


def add(spec: Any) -> None:
    """Add shared headers and the schemas that are not marshmallow's."""
    for name, (description, schema) in _HEADERS.items():
        spec.components.header(name, {"description": description, "schema": schema})
    for name, component in written_schema.components().items():
        spec.components.schema(name, component)
    spec.components.security_scheme("token", _TOKEN)
    spec.components.schema("ExportFile", {"type": "string", "format": "binary", "description": "A file to keep."})
    spec.components.schema("Photo", {"type": "string", "format": "binary", "description": "A JPEG."})
    spec.components.schema("GuideFile", {"type": "string", "format": "binary", "description": "A guide's file."})
    spec.components.schema("RecordSchema", {"type": "object", "description": "A JSON Schema 2020-12 document."})


def headers(operation: Operation) -> dict[str, str]:
    """The headers of an operation's answer, as references."""
    made = {"Chockbook-Edition": "CHOCKBOOK_EDITION", "X-Request-Id": "REQUEST_ID"}
    return made | ({"ETag": "ENTITY_TAG"} if operation.method == "GET" else {})


def security(operation: Operation) -> dict[str, Any]:
    """What the document says of who may ask."""
    return {"security": [{"token": []}]} if operation.right else {}


def file_body(operation: Operation) -> dict[str, Any]:
    """What the document says of a body that is a file."""
    if not operation.files:
        return {}
    content: dict[str, Any] = {media_type: {} for media_type in operation.files}
    told = f"The file, of at most {operation.largest // 1024**2} MB."
    return {"requestBody": {"required": True, "description": told, "content": content}}


def parameters(operation: Operation) -> list[Any]:
    """Path parameters with their meaning, and the conditional header of what may be kept."""
    made: list[Any] = [
        {"name": name, "in": "path", "required": True, "description": text} for name, text in operation.path.items()
    ]
    if operation.method == "GET":
        text = "ETag of the answer you have; 304 when it still holds."
        made.append(
            {"name": "If-None-Match", "in": "header", "required": False, "description": text,
             "schema": {"type": "string"}}
        )  # fmt: skip
    if operation.keyed:
        made.append(
            {"name": KEY, "in": "header", "required": False, "description": _KEY_WORDS, "schema": {"type": "string"}}
        )
    return made
