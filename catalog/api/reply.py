"""What a view returns, and how it becomes a response: edition, ETag, cache rules, 304.

The ETag is a hash of the answer itself, so nothing that changes an answer (an edition, a
withdrawal, the demo mark) can be missed.
"""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import IO, Any

from flask import Response, current_app, g, json, request, send_file

FIXED = "public, max-age=3600"
NEWEST = "no-cache"
PRIVATE = "no-store"


@dataclass(frozen=True, slots=True)
class Reply:
    """An answer. edition: the number it is about. cache: one of FIXED, NEWEST, PRIVATE."""

    document: Mapping[str, Any]
    edition: int
    cache: str = NEWEST


@dataclass(frozen=True, slots=True)
class FileReply(Reply):
    """A file instead of a document. file: open at its beginning, closed when it was sent. name: to keep it by."""

    file: IO[bytes] | None = None
    name: str = ""


def respond(reply: Reply, media_type: str) -> Response:
    """The response to the current request; 304 when the caller has this very answer."""
    if isinstance(reply, FileReply) and reply.file is not None:
        sent = send_file(reply.file, media_type, as_attachment=True, download_name=reply.name, etag=False)
        sent.headers["Chockbook-Edition"] = str(reply.edition)
        sent.headers["Cache-Control"] = PRIVATE
        g.edition = reply.edition
        return sent
    body = json.dumps(reply.document, ensure_ascii=False, allow_nan=False, sort_keys=False)
    response = current_app.response_class(body, mimetype=media_type)
    response.headers["Chockbook-Edition"] = str(reply.edition)
    g.edition = reply.edition
    return conditional(response, reply.cache)


def conditional(response: Response, cache: str) -> Response:
    """Add cache rules and, for what may be kept, a strong ETag."""
    response.headers["Cache-Control"] = cache
    if cache != PRIVATE:
        response.set_etag(hashlib.sha256(response.get_data()).hexdigest()[:32])
        response.make_conditional(request)
    return response
