"""One's own account: password, tokens, sign-ins."""

from flask import Blueprint, redirect, request
from werkzeug.wrappers import Response

from catalog.domain.numbers import whole_number
from catalog.domain.roles import Right
from catalog.errors import BadInput, ChockbookError, Conflict, Forbidden, NotSignedIn, TooOften
from catalog.services.accounts import account_view, change_password, sign_out_everywhere
from catalog.services.acting import Actor, in_person
from catalog.services.signing import PAGE, Tried, sign_in
from catalog.services.tokens import TokenAsked, list_tokens, make_token, revoke_token
from catalog.web import people_wording
from catalog.web.acting import actor, begin, end
from catalog.web.errors import answered
from catalog.web.render import house, page

_REFUSED = (BadInput, Conflict, Forbidden, NotSignedIn, TooOften)


def add(blueprint: Blueprint) -> None:
    """Add /account and what its forms post to."""
    blueprint.add_url_rule("/account", "account", lambda: _shown(said=_said()))
    blueprint.add_url_rule("/account/password", "account_password", _password, methods=["POST"])
    blueprint.add_url_rule("/account/tokens", "account_tokens", _make_token, methods=["POST"])
    blueprint.add_url_rule("/account/tokens/end", "account_token_end", _end_token, methods=["POST"])
    blueprint.add_url_rule("/account/everywhere", "account_everywhere", _everywhere, methods=["POST"])


def _person() -> Actor:
    return in_person(actor(), "account")


def _shown(problem: ChockbookError | None = None, *, secret: str = "", said: str = "") -> Response:
    person = _person()
    shown = page(
        "account.html",
        account=account_view(house(), person),
        tokens=list_tokens(house(), person),
        rights=[right for right in Right if right in person.rights],
        problem=problem,
        secret=secret,
        said=said,
    )
    return answered(shown, problem, kept=False)


def _said() -> str:
    return people_wording.PASSWORD_IS_SET if request.args.get("said") == "password" else ""


def _password() -> Response:
    person = _person()
    new = request.form.get("new", "")
    tried = Tried(person.name, request.form.get("old", ""), request.remote_addr or "", PAGE)
    try:
        if new != request.form.get("again", ""):
            raise BadInput("The new password was typed in two ways.", cure="Type the same twice.")
        change_password(house(), tried, new)
    except _REFUSED as error:
        return _shown(error)
    # Every sign-in ended with the old password, this one too; whoever knows the new one goes on.
    end()
    begin(sign_in(house(), Tried(person.name, new, request.remote_addr or "", PAGE)))
    return redirect("/account?said=password", 303)


def _make_token() -> Response:
    person = _person()
    try:
        rights = [Right(value) for value in request.form.getlist("right") if value in set(Right)]
        days = whole_number(request.form.get("days", "")) or 0
        _, secret = make_token(house(), person, TokenAsked(request.form.get("label", ""), rights, days))
    except _REFUSED as error:
        return _shown(error)
    return _shown(secret=secret)


def _end_token() -> Response:
    revoke_token(house(), _person(), request.form.get("id", ""))
    return redirect("/account", 303)


def _everywhere() -> Response:
    sign_out_everywhere(house(), _person())
    end()
    return redirect("/sign-in", 303)
