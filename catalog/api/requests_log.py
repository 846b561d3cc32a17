"""One log line per API request: id, method, rule, status, duration, edition.

Never the body, the query string or the address as sent: the rule stands for it.
"""

import re
import time
import traceback
import uuid

import structlog
from flask import Flask, Response, g, request

from catalog.errors import ChockbookError

PREFIX = "/api/"
_GOOD_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{7,63}", re.ASCII)
_log = structlog.get_logger("chockbook.api")


def register(app: Flask) -> None:
    """Give every API request an id and write its line."""
    app.before_request(_begin)
    app.after_request(_end)


def concerns_api() -> bool:
    """Whether the current request is one of the API's."""
    return request.path.startswith(PREFIX)


def log_failure(error: Exception) -> None:
    """Say what failed and where. Only our own errors give their message: others may quote what was sent."""
    frames = [f"{frame.filename}:{frame.lineno} {frame.name}" for frame in traceback.extract_tb(error.__traceback__)]
    said = str(error) if isinstance(error, ChockbookError) else ""
    _log.error(
        "failure", request_id=g.get("request_id", ""), error=type(error).__name__, said=said, frames=frames[-12:]
    )


def _begin() -> None:
    if concerns_api():
        sent = request.headers.get("X-Request-Id", "")
        g.request_id = sent if _GOOD_ID.fullmatch(sent) else str(uuid.uuid4())
        g.began = time.perf_counter()


def _end(response: Response) -> Response:
    if concerns_api():
        response.headers["X-Request-Id"] = g.request_id
        _log.info(
            "request",
            request_id=g.request_id,
            method=request.method,
            rule=request.url_rule.rule if request.url_rule else "none",
            status=response.status_code,
            ms=round((time.perf_counter() - g.began) * 1000, 1),
            edition=g.get("edition"),
        )
    return response
