"""Signing in and out."""

from urllib.parse import urlsplit

from flask import Blueprint, current_app, redirect, request
from werkzeug.exceptions import HTTPException, NotFound
from werkzeug.wrappers import Response

from catalog.errors import ChockbookError, NotSignedIn, TooOften, Unavailable
from catalog.services.signing import PAGE, Tried, sign_in, sign_out
from catalog.web.acting import begin, end, seen
from catalog.web.errors import answered
from catalog.web.render import house, page

HOME = "/"


def add(blueprint: Blueprint) -> None:
    """Add /sign-in and /sign-out."""
    blueprint.add_url_rule("/sign-in", "sign_in", _sign_in, methods=["GET", "POST"])
    blueprint.add_url_rule("/sign-out", "sign_out", _sign_out, methods=["POST"])


def _sign_in() -> Response:
    back = own_page(request.values.get("to", ""))
    if request.method == "GET":
        return _form(back)
    name = request.form.get("name", "")
    tried = Tried(name, request.form.get("password", ""), request.remote_addr or "", PAGE)
    try:
        signed = sign_in(house(), tried)
    except (NotSignedIn, TooOften, Unavailable) as error:
        return _form(back, error, name)
    if visitor := seen():
        sign_out(house(), visitor.id)  # one browser, one sign-in
        end()
    begin(signed)
    return redirect("/account" if signed.must_choose else back, 303)


def _sign_out() -> Response:
    visitor = seen()
    try:
        if visitor:
            sign_out(house(), visitor.id)
    finally:
        end()  # the cookie goes in any case
    return redirect("/sign-in", 303)


def _form(back: str, problem: ChockbookError | None = None, name: str = "") -> Response:
    return answered(page("sign_in.html", back=back, problem=problem, name=name[:64]), problem, kept=False)


def own_page(wanted: str) -> str:
    """The address, if it is one of our pages that can be opened; the start page otherwise.

    A link to the sign-in page must not be able to lead anywhere else afterwards.
    """
    if not wanted.startswith("/") or wanted.startswith(("//", "/\\")) or not wanted.isascii() or len(wanted) > 500:
        return HOME
    if not wanted.isprintable() or "\\" in wanted:
        return HOME
    try:
        parts = urlsplit(wanted)
        if parts.scheme or parts.netloc:
            return HOME
        found, _ = current_app.url_map.bind("").match(parts.path, method="GET")
    except (HTTPException, ValueError, NotFound):
        return HOME
    return wanted if found.startswith("pages.") and found not in ("pages.sign_in", "pages.asset") else HOME
