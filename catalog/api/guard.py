"""What holds for every address under /api/: problems for what no view answers, plain headers."""

from flask import Flask, Response, request
from werkzeug.exceptions import HTTPException

from catalog.api import problems
from catalog.api.requests_log import concerns_api


def register(app: Flask) -> None:
    """Answer wrong addresses and methods under /api/ with problems, and set the headers."""
    app.before_request(_check_route)
    app.after_request(_harden)


def _check_route() -> Response | None:
    """A problem for an address or method that no rule matches.

    Done here, not in an error handler, so that the pages' handlers never answer an API request.
    """
    if not concerns_api():
        return None
    request.max_content_length = problems.LARGEST_BODY
    error = request.routing_exception
    if isinstance(error, HTTPException) and (error.code or 0) >= 400:
        return problems.respond(error)
    return None


def _harden(response: Response) -> Response:
    if concerns_api():
        response.headers["X-Content-Type-Options"] = "nosniff"
        response.headers["Referrer-Policy"] = "no-referrer"
        response.headers.setdefault("Cache-Control", "no-store")
    return response
