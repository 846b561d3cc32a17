"""All accounts, for administrators."""

from flask import Blueprint, redirect, request
from werkzeug.wrappers import Response

from catalog.domain.roles import Role
from catalog.errors import BadInput, ChockbookError, Conflict, Forbidden, NotFound
from catalog.services.accounts import (
    NewAccount,
    add_account,
    disable,
    enable,
    list_accounts,
    reset_password,
    set_role,
)
from catalog.web.acting import actor
from catalog.web.errors import answered
from catalog.web.render import house, page

_REFUSED = (BadInput, Conflict, Forbidden, NotFound)


def add(blueprint: Blueprint) -> None:
    """Add /steward/accounts and what its forms post to."""
    blueprint.add_url_rule("/steward/accounts", "accounts", lambda: _shown())
    blueprint.add_url_rule("/steward/accounts", "accounts_add", _add, methods=["POST"])
    blueprint.add_url_rule("/steward/accounts/<name>", "accounts_change", _change, methods=["POST"])


def _shown(problem: ChockbookError | None = None, *, name: str = "", password: str = "") -> Response:
    accounts = list_accounts(house(), actor())
    shown = page("accounts.html", accounts=accounts, roles=list(Role), problem=problem, name=name, password=password)
    return answered(shown, problem, kept=False)


def _add() -> Response:
    try:
        new = NewAccount(request.form.get("name", ""), _role(), request.form.get("shown", ""))
        added = add_account(house(), actor(), new)
    except _REFUSED as error:
        return _shown(error)
    return _shown(name=added.account.name, password=added.password)


def _change(name: str) -> Response:
    pressed = request.form.get("do", "")
    try:
        match pressed:
            case "role":
                set_role(house(), actor(), name, _role())
            case "disable":
                disable(house(), actor(), name)
            case "enable":
                enable(house(), actor(), name)
            case "password":
                return _shown(name=name, password=reset_password(house(), actor(), name))
            case _:
                raise BadInput("It is not said what to change.", cure="Press one of the buttons beside the account.")
    except _REFUSED as error:
        return _shown(error)
    return redirect("/steward/accounts", 303)


def _role() -> Role:
    try:
        return Role(request.form.get("role", ""))
    except ValueError as error:
        raise BadInput("It is not said in which role.", cure=f"Choose one of: {', '.join(Role)}.") from error
