"""Accounts: who may sign in, in which role. Every change is in the trail."""

import re
import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from sqlalchemy import Connection

from catalog.domain.roles import Right, Role
from catalog.errors import BadInput, Conflict, Forbidden, NotFound, NotSignedIn
from catalog.services import passwords
from catalog.services.acting import Actor, in_person, require
from catalog.services.clock import moment_of, now_us
from catalog.services.signing import TERMINAL, Tried, proved, spelled
from catalog.services.trail import NOBODY, note, note_as
from catalog.store import people
from catalog.store.engine import read, write
from catalog.store.people import StoredAccount

if TYPE_CHECKING:
    from catalog.services.house import House

_NAME = re.compile(r"[a-z0-9](?:[a-z0-9.-]{0,38}[a-z0-9])", re.ASCII)
_SHOWN = 60


@dataclass(frozen=True, slots=True)
class AccountView:
    """An account as it is shown. disabled: since when, None where it may sign in."""

    name: str
    shown: str
    role: Role
    one_time: bool
    created: datetime
    disabled: datetime | None


@dataclass(frozen=True, slots=True)
class NewAccount:
    """shown: "" for the name itself. password: "" to have one made for one use."""

    name: str
    role: Role
    shown: str = ""
    password: str = ""


@dataclass(frozen=True, slots=True)
class Added:
    """password: the one made for one use, "" where one was chosen. It is shown once and kept nowhere."""

    account: AccountView
    password: str


def add_account(house: "House", actor: Actor | None, new: NewAccount) -> Added:
    """Raises NotSignedIn, Forbidden, BadInput, Conflict for a name that is taken, Unavailable."""
    by = require(actor, Right.ADMINISTER)
    row, password = _row(new)
    with write(house.engine) as conn:
        _add(conn, row)
        note(conn, by, "account add", row.name, {"role": row.role})
    return Added(_view(row), password)


def add_first_administrator(house: "House", new: NewAccount) -> Added:
    """From the host's terminal, while no administrator may sign in. Raises Conflict, BadInput, Unavailable."""
    if new.role is not Role.ADMINISTRATOR:
        raise NotSignedIn(
            "The first account is an administrator's, who adds the others.",
            cure=f"Add one first: chockbook account add {new.name} --role administrator",
        )
    row, password = _row(new)
    with write(house.engine) as conn:
        if people.enabled(conn, Role.ADMINISTRATOR):
            raise NotSignedIn(
                "There is an administrator already, who adds the others.", cure="Sign in as one and add --as NAME."
            )
        _add(conn, row)
        note_as(conn, NOBODY, TERMINAL, "account add", row.name, {"role": row.role, "first": True})
    return Added(_view(row), password)


def has_administrator(house: "House") -> bool:
    """Whether somebody may look after accounts. Raises Unavailable."""
    with read(house.engine) as conn:
        return people.enabled(conn, Role.ADMINISTRATOR) > 0


def list_accounts(house: "House", actor: Actor | None) -> tuple[AccountView, ...]:
    """By name. Raises NotSignedIn, Forbidden, Unavailable."""
    require(actor, Right.ADMINISTER)
    with read(house.engine) as conn:
        return tuple(_view(row) for row in people.all_accounts(conn))


def account_view(house: "House", actor: Actor | None) -> AccountView:
    """The account of who asks. Raises NotSignedIn, Unavailable."""
    with read(house.engine) as conn:
        return _view(_there(people.account(conn, in_person(actor, "account").name), ""))


def set_role(house: "House", actor: Actor | None, name: str, role: Role) -> AccountView:
    """Counts at once, also for sign-ins and tokens there are."""
    with _changing(house, actor, name) as (conn, by, account):
        if account.role == role:
            raise Conflict(f"{account.name} is {role} already.", cure="Nothing is to be done.")
        people.change_account(conn, account.name, role=role)
        note(conn, by, "account role", account.name, {"from": account.role, "to": role})
        return _view(_there(people.account(conn, account.name), name))


def disable(house: "House", actor: Actor | None, name: str) -> AccountView:
    """It may not sign in any more; its sign-ins and tokens end at once. What it did stays under its name."""
    with _changing(house, actor, name) as (conn, by, account):
        if account.disabled_us is not None:
            raise Conflict(f"{account.name} is disabled already.", cure="Nothing is to be done.")
        now = now_us()
        people.change_account(conn, account.name, disabled_us=now, epoch=account.epoch + 1)
        people.revoke(conn, now, name=account.name)
        note(conn, by, "account disable", account.name)
        return _view(_there(people.account(conn, account.name), name))


def enable(house: "House", actor: Actor | None, name: str) -> AccountView:
    """It may sign in again. Tokens that were ended stay so."""
    with _changing(house, actor, name) as (conn, by, account):
        if account.disabled_us is None:
            raise Conflict(f"{account.name} is not disabled.", cure="Nothing is to be done.")
        people.change_account(conn, account.name, disabled_us=None)
        note(conn, by, "account enable", account.name)
        return _view(_there(people.account(conn, account.name), name))


def reset_password(house: "House", actor: Actor | None, name: str) -> str:
    """A new password for one use; every sign-in and token of the account ends. Of one's own account too."""
    by, password = require(actor, Right.ADMINISTER), passwords.made()
    encoded = passwords.hashed(password)  # not within the transaction: it takes its time, and writers would wait
    with write(house.engine) as conn:
        account = _there(people.account_to_change(conn, spelled(name)), name)
        _set_hash(conn, account, encoded, one_time=True)
        people.revoke(conn, now_us(), name=account.name)
        note(conn, by, "account password", account.name, {"one_time": True})
    return password


def change_password(house: "House", tried: Tried, new: str) -> None:
    """Who knows the old one, in `tried`, chooses a new one; sign-ins made before end, tokens of programs hold.

    Raises NotSignedIn for a wrong old one, TooOften, BadInput, Conflict, Unavailable.
    """
    account = proved(house, tried)
    passwords.check_chosen(new, account.name)
    if passwords.fits(account.password, new):
        raise BadInput("The new password is the old one.", cure="Choose another.")
    encoded = passwords.hashed(new)
    with write(house.engine) as conn:
        now = _there(people.account_to_change(conn, account.name), account.name)
        if now.password != account.password:
            raise Conflict("The password was changed meanwhile.", cure="Sign in with the new one.")
        _set_hash(conn, now, encoded, one_time=False)
        note_as(conn, now.name, tried.via, "account password", now.name, {"one_time": False})


def sign_out_everywhere(house: "House", actor: Actor | None) -> None:
    """End every sign-in of who asks, on pages and terminals; tokens of programs hold. Raises NotSignedIn."""
    by = in_person(actor, "account")
    with write(house.engine) as conn:
        account = _there(people.account_to_change(conn, by.name), by.name)
        people.change_account(conn, account.name, epoch=account.epoch + 1)
        note(conn, by, "sign out", account.name, {"everywhere": True})


@contextmanager
def _changing(house: "House", actor: Actor | None, name: str) -> Iterator[tuple[Connection, Actor, StoredAccount]]:
    """An account that an administrator changes, never their own: somebody must be left who may change it back."""
    by = require(actor, Right.ADMINISTER)
    with write(house.engine) as conn:
        account = _there(people.account_to_change(conn, spelled(name)), name)
        if account.name == by.name:
            raise Forbidden("Nobody changes this of their own account.", cure="Ask another administrator.")
        yield conn, by, account


def _row(new: NewAccount) -> tuple[StoredAccount, str]:
    name = spelled(new.name)
    if not _NAME.fullmatch(name):
        raise BadInput(
            f"{new.name!r} cannot be an account's name.",
            cure="Use 2 to 40 lower-case letters a to z, digits, dots and hyphens, a letter or digit at both ends.",
        )
    shown = " ".join(unicodedata.normalize("NFC", new.shown).split()) or name
    if len(shown) > _SHOWN or not shown.isprintable():
        raise BadInput("The name to be shown is too long.", cure=f"Give at most {_SHOWN} characters.")
    if new.password:
        passwords.check_chosen(new.password, name)
    made = "" if new.password else passwords.made()
    now = now_us()
    encoded = passwords.hashed(new.password or made)
    return StoredAccount(name, shown, new.role, encoded, bool(made), now, 1, now), made


def _add(conn: Connection, row: StoredAccount) -> None:
    if people.account(conn, row.name):
        raise Conflict(f"There is an account {row.name} already.", cure="Choose another name.")
    people.add_account(conn, row)


def _set_hash(conn: Connection, account: StoredAccount, encoded: str, *, one_time: bool) -> None:
    people.change_account(
        conn, account.name, password=encoded, one_time=one_time, password_us=now_us(), epoch=account.epoch + 1
    )


def _there(account: StoredAccount | None, name: str) -> StoredAccount:
    if account is None:
        raise NotFound(f"There is no account {name}.", cure="List them: chockbook account list --as NAME")
    return account


def _view(row: StoredAccount) -> AccountView:
    disabled = None if row.disabled_us is None else moment_of(row.disabled_us)
    return AccountView(row.name, row.shown, Role(row.role), row.one_time, moment_of(row.created_us), disabled)
