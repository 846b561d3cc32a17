"""Error pages: what is wrong, what to do next, and the cautions as on every page."""

from collections.abc import Mapping
from urllib.parse import urlencode

from flask import Blueprint, Flask, Response, current_app, make_response, redirect, request
from flask_wtf.csrf import CSRFError
from werkzeug.exceptions import HTTPException
from werkzeug.wrappers import Response as WerkzeugResponse

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
from catalog.web import people_wording, wording
from catalog.web.render import page

STATUS: Mapping[type[ChockbookError], int] = {
    BadInput: 400,
    NotSignedIn: 401,
    Forbidden: 403,
    NotFound: 404,
    Conflict: 409,
    TooOften: 429,
    IntegrityError: 500,
    Unavailable: 503,
}
RETRY_AFTER = "5"


def register(app: Flask, blueprint: Blueprint) -> None:
    """Pages answer their own errors; addresses and methods nobody answers come here too."""
    blueprint.register_error_handler(ChockbookError, _known)
    blueprint.register_error_handler(CSRFError, _forged)
    blueprint.register_error_handler(Exception, _unknown)
    for status in (404, 405, 413):
        app.register_error_handler(status, _refused)


def status_of(error: ChockbookError) -> int:
    """The HTTP status of an error raised on purpose."""
    return next((STATUS[base] for base in type(error).__mro__ if base in STATUS), 500)


def answered(html: str, problem: ChockbookError | None = None, *, kept: bool = True) -> Response:
    """A page, with the status of what is wrong on it. kept: whether a browser may keep it, to ask if it still holds."""
    made = make_response(html)
    if problem:
        made.status_code = status_of(problem)
    if isinstance(problem, TooOften):
        made.headers["Retry-After"] = str(problem.seconds)
    if not kept:
        made.headers["Cache-Control"] = "no-store"
    return made


def _forged(_error: CSRFError) -> Response:
    return _error_page(400, people_wording.FORGED, people_wording.FORGED_CURE)


def _known(error: ChockbookError) -> Response | WerkzeugResponse:
    if isinstance(error, NotSignedIn) and request.method == "GET":
        # Reading it again is harmless, so it can be opened after signing in; a form sent would be lost.
        return redirect(f"/sign-in?{urlencode({'to': request.full_path.rstrip('?')})}", 303)
    return _error_page(status_of(error), error.message, error.cure)


def _refused(error: HTTPException) -> Response:
    return _error_page(error.code or 500, "", "")


def _unknown(error: Exception) -> Response | HTTPException:
    if isinstance(error, HTTPException):
        if error.code is None or error.code < 400:
            return error
        return _refused(error)
    # The address only: bodies and query strings may hold what a caller said. Of a brief's link not even that.
    path = "/b/..." if request.path.startswith("/b/") else request.path
    current_app.logger.error("page failed: %s", path, exc_info=error)
    return _error_page(500, "", "")


def _error_page(status: int, message: str, cure: str) -> Response:
    title, following = wording.ERRORS.get(status, wording.ERRORS[400 if status < 500 else 500])
    made = make_response(page("error.html", status=status, title=title, message=message, cure=cure or following))
    made.status_code = status
    made.headers["Cache-Control"] = "no-store"
    if status == 503:
        made.headers["Retry-After"] = RETRY_AFTER
    return made
