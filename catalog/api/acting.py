"""In whose name an API request acts: a bearer token, or a page's sign-in where the page's own token goes with it."""

from collections.abc import Callable

from flask import Flask, Response, current_app, g, request

from catalog.api import problems
from catalog.api.requests_log import concerns_api
from catalog.domain.roles import Right
from catalog.errors import BadInput, ChockbookError
from catalog.services.acting import Actor, require
from catalog.services.house import House
from catalog.services.signing import TERMINAL, TOKEN, secret_actor

# Where the pages put how to find out who is signed in; the two rooms do not know each other.
PAGE_ACTOR = "chockbook.page_actor"
HEADER = "X-CSRF-Token"


def register(app: Flask) -> None:
    """Where reading needs an account, every address of the API does."""
    app.before_request(_may_read)


def actor() -> Actor | None:
    """Who acts; None where nothing says so. Raises NotSignedIn for a token that does not hold, Unavailable.

    A cookie alone never counts: a page of another site could make the browser send it.
    """
    if "actor" not in g:
        g.actor = _found()
    found: Actor | None = g.actor
    return found


def _found() -> Actor | None:
    house: House = current_app.extensions["chockbook"]
    given = request.headers.get("Authorization", "")
    if given:
        kind, _, secret = given.partition(" ")
        if kind.lower() != "bearer" or not secret.strip():
            raise BadInput("The Authorization header holds no bearer token.", cure="Send Authorization: Bearer TOKEN.")
        return secret_actor(house, secret.strip(), (TERMINAL, TOKEN))
    of_page: Callable[[str], Actor | None] | None = current_app.extensions.get(PAGE_ACTOR)
    token = request.headers.get(HEADER)
    return of_page(token) if token and of_page else None


def _may_read() -> Response | None:
    """A problem for who may not read. Done here, not by raising: not every address of the API has our handlers."""
    house: House | None = current_app.extensions.get("chockbook")
    if house is None or not concerns_api() or house.settings.reading != "accounts":
        return None
    try:
        require(actor(), Right.READ)
    except ChockbookError as error:
        return problems.respond(error)
    return None
