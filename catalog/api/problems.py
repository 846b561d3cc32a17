"""The one table from what went wrong to an RFC 9457 problem.

`SCHEMA` documents and dumps the payload, so the document and the answers cannot differ.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any
from urllib.parse import quote

from flask import Response, current_app, g, json, request
from marshmallow import Schema, fields
from werkzeug.exceptions import HTTPException, UnsupportedMediaType

from catalog.errors import (
    BadInput,
    ChockbookError,
    Conflict,
    Forbidden,
    IntegrityError,
    NotFound,
    NotSignedIn,
    TooOften,
    Unavailable,
)
from schemas.request_fields import Refusal

MEDIA_TYPE = "application/problem+json"
DOCS = "/api/v1/docs"
LARGEST_BODY = 64 * 1024
LARGEST_FILE = 64 * 1024 * 1024  # where the body is a guide update
RETRY_AFTER = 5  # seconds; a restarted database or a rebuilt edition is there again by then

_SAFE = "/:@!$&'()*+,;=~-._"  # what a path may hold unescaped, RFC 3986 section 3.3


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of problem. slug: its anchor on the docs page. when: when it happens, for that page."""

    slug: str
    status: int
    title: str
    when: str

    @property
    def type(self) -> str:
        return f"{DOCS}#{self.slug}"


BAD_INPUT = Kind("bad-input", 400, "The request cannot be understood", "A field is missing, unknown or out of range.")
NOT_SIGNED_IN = Kind("not-signed-in", 401, "Nobody is signed in", "No token was sent, or it has ended.")
FORBIDDEN = Kind("forbidden", 403, "Not allowed", "The account or token may not do this.")
NOT_FOUND = Kind("not-found", 404, "There is nothing there", "No such record, edition, source or address.")
NOT_ALLOWED = Kind("method", 405, "The method does not work here", "The address answers another method; see Allow.")
CONFLICT = Kind("conflict", 409, "The state has moved on", "The change was made against something that has changed.")
TOO_LARGE = Kind("too-large", 413, "The request is too large", f"The body is over {LARGEST_BODY // 1024} KiB.")
NOT_JSON = Kind(
    "not-json", 415, "The body is not declared as what is taken", "Content-Type is not what the address takes."
)
TOO_OFTEN = Kind("too-often", 429, "Tried too often", "Tried more often than may be just now; see Retry-After.")
INTEGRITY = Kind("integrity", 500, "Stored data does not match its hash", "Do not use the answer; tell the steward.")
FAULT = Kind("fault", 500, "Something failed on the server", "A fault of ours; its request id finds it in the log.")
UNAVAILABLE = Kind("unavailable", 503, "Not available now", "Something the answer needs is away; see Retry-After.")

KINDS = (
    BAD_INPUT, NOT_SIGNED_IN, FORBIDDEN, NOT_FOUND, NOT_ALLOWED, CONFLICT, TOO_LARGE, NOT_JSON, TOO_OFTEN,
    INTEGRITY, FAULT, UNAVAILABLE,
)  # fmt: skip

OF_ERROR: Mapping[type[ChockbookError], Kind] = {
    BadInput: BAD_INPUT,
    NotSignedIn: NOT_SIGNED_IN,
    Forbidden: FORBIDDEN,
    NotFound: NOT_FOUND,
    Conflict: CONFLICT,
    TooOften: TOO_OFTEN,
    Unavailable: UNAVAILABLE,
    IntegrityError: INTEGRITY,
}
OF_STATUS: Mapping[int, Kind] = {
    400: BAD_INPUT, 401: NOT_SIGNED_IN, 403: FORBIDDEN, 404: NOT_FOUND, 405: NOT_ALLOWED, 413: TOO_LARGE, 415: NOT_JSON,
    500: FAULT,
}  # fmt: skip


class RefusedRequest(BadInput):
    """The request does not fit its schema. where: body or query."""

    def __init__(self, where: str, refusals: tuple[Refusal, ...]) -> None:
        first = refusals[0]
        if len(refusals) == 1:
            super().__init__(f"{first.path}: {first.detail}" if first.path else first.detail, cure=first.cure)
        else:
            super().__init__(f"{len(refusals)} things in the {where} are wrong.", cure="See each of errors.")
        self.where = where
        self.refusals = refusals


class NotAFile(UnsupportedMediaType):
    """The body should be a file, and its media type is none that is taken. declared: "" for none."""

    def __init__(self, declared: str) -> None:
        super().__init__()
        self.declared = declared


class RefusalAnswer(Schema):
    """One thing wrong with the request."""

    where = fields.String(required=True, metadata={"description": "Part of the request.", "enum": ["body", "query"]})
    path = fields.String(required=True, metadata={"description": "Field; empty for the part as a whole."})
    detail = fields.String(required=True, metadata={"description": "What is wrong."})
    cure = fields.String(required=True, metadata={"description": "What to send instead."})


class Problem(Schema):
    """An RFC 9457 problem."""

    type = fields.String(required=True, metadata={"description": "Kind of problem.", "format": "uri-reference"})
    title = fields.String(required=True, metadata={"description": "The kind in words."})
    status = fields.Integer(required=True, metadata={"description": "HTTP status.", "minimum": 400, "maximum": 599})
    detail = fields.String(required=True, metadata={"description": "What is wrong this time."})
    instance = fields.String(
        required=True, metadata={"description": "This occurrence: address#request.", "format": "uri-reference"}
    )
    cure = fields.String(required=True, metadata={"description": "What to do about it."})
    request = fields.String(required=True, metadata={"description": "Request id, as in the server's log."})
    errors = fields.List(
        fields.Nested(RefusalAnswer), metadata={"description": "Everything wrong with the request, when that is why."}
    )


SCHEMA = Problem()


def kind_of(error: Exception) -> Kind:
    """The kind of problem an error is. Errors nobody raises on purpose are a fault of ours."""
    if isinstance(error, HTTPException):
        status = error.code or 500
        return OF_STATUS.get(status) or Kind("other", status, error.name, "")
    return next((OF_ERROR[base] for base in type(error).__mro__ if base in OF_ERROR), FAULT)


def respond(error: Exception) -> Response:
    """The problem response for an error raised while answering the current request."""
    told = payload(error, request.path, g.get("request_id", ""))
    told["detail"] = _without_folders(told["detail"])
    headers = _headers(error, kind_of(error))
    return current_app.response_class(
        json.dumps(told, ensure_ascii=False), told["status"], headers, mimetype=MEDIA_TYPE
    )


def _without_folders(text: str) -> str:
    """Messages name the data folder for whoever runs the server; a caller has no use for it (RFC 9457, 5)."""
    house = current_app.extensions.get("chockbook")
    if house is None or not house.settings.data.is_absolute():
        return text
    return text.replace(str(house.settings.data), "the data folder")


def payload(error: Exception, path: str, request_id: str) -> dict[str, Any]:
    """The problem document of an error at an address."""
    kind = kind_of(error)
    detail, cure = _words(error, kind)
    told: dict[str, object] = {
        "type": "about:blank" if kind.slug == "other" else kind.type,
        "title": kind.title,
        "status": kind.status,
        "detail": detail,
        "instance": f"{quote(path, safe=_SAFE)}#{request_id}",
        "cure": cure,
        "request": request_id,
    }
    if isinstance(error, RefusedRequest):
        told["errors"] = [
            {"where": error.where, "path": r.path, "detail": r.detail, "cure": r.cure} for r in error.refusals
        ]
    made: dict[str, Any] = SCHEMA.dump(told)
    return made


def _words(error: Exception, kind: Kind) -> tuple[str, str]:
    match error:
        case ChockbookError():
            return error.message, error.cure
        case HTTPException(code=404):
            return "Nothing answers at this address.", f"See {DOCS} for every address."
        case HTTPException(code=405):
            methods = ", ".join(sorted(getattr(error, "valid_methods", None) or ()))
            return f"{request.method} does not work here.", f"Use {methods}." if methods else ""
        case HTTPException(code=413):
            most = (request.max_content_length or LARGEST_BODY) // 1024
            less, split = "Send less: a description has 2,000 characters.", "Split the file, or make it smaller."
            cure = less if most == LARGEST_BODY // 1024 else split
            return f"The body is over {most:,} KiB.", cure
        case NotAFile():
            return (
                f"The body is declared as {error.declared or 'nothing'}.",
                f"Send the file's media type in Content-Type; {DOCS} lists them.",
            )
        case HTTPException(code=415):
            return "The body is not declared as JSON.", "Send the header Content-Type: application/json."
        case HTTPException() if kind is not FAULT:
            return error.description or error.name, f"See {DOCS}."
        case _:
            return "The server failed while answering.", "Try again; if it stays, report the request id."


def _headers(error: Exception, kind: Kind) -> dict[str, str]:
    made = {"Cache-Control": "no-store"}
    if kind is UNAVAILABLE:
        made["Retry-After"] = str(RETRY_AFTER)
    if isinstance(error, TooOften):
        made["Retry-After"] = str(error.seconds)
    if kind is NOT_SIGNED_IN:
        made["WWW-Authenticate"] = "Bearer"
    methods = getattr(error, "valid_methods", None)
    if kind is NOT_ALLOWED and methods:
        made["Allow"] = ", ".join(sorted(methods))
    return made
