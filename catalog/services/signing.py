"""Signing in, on the pages and at a terminal, and what a sign-in or a token is good for now."""

import hashlib
import secrets
import unicodedata
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sqlalchemy import Connection

from catalog.domain.roles import RIGHTS, Right, Role
from catalog.errors import NotSignedIn
from catalog.services import passwords, throttling
from catalog.services.acting import Actor
from catalog.services.clock import DAY, HOUR, now_us
from catalog.services.trail import NOBODY, note_as
from catalog.store import people
from catalog.store.engine import read, write
from catalog.store.people import StoredAccount, StoredToken
from catalog.store.tables_people import PAGE, TERMINAL, TOKEN

if TYPE_CHECKING:
    from catalog.services.house import House

__all__ = ["PAGE", "TERMINAL", "TOKEN"]

# A shift and its hand-over; a quiet night shift must not find itself signed out when the call comes.
IDLE = 8 * HOUR
LONGEST = {PAGE: 14 * HOUR, TERMINAL: 12 * HOUR}
ONE_TIME_DAYS = 7

_WRONG = "This name and password do not go together."
_CHECK = "Check both and try again. An administrator can give a new password."
_ENDED = "The sign-in has ended."


@dataclass(frozen=True, slots=True)
class SignIn:
    """What a good sign-in gives. id: of the sign-in. secret: what a terminal keeps; on pages the signed cookie does.

    must_choose: a new password, before anything else.
    """

    id: str
    secret: str
    name: str
    shown: str
    role: Role
    began_us: int
    must_choose: bool


@dataclass(frozen=True, slots=True)
class Tried:
    """A try to sign in. address: of the connection, "terminal" at one. via: PAGE or TERMINAL."""

    name: str
    password: str
    address: str
    via: str


def sign_in(house: "House", tried: Tried) -> SignIn:
    """Raises NotSignedIn (the same whether name or password is wrong), TooOften, Unavailable."""
    account = proved(house, tried)
    with write(house.engine) as conn:
        # Looked up again: it may have been changed meanwhile.
        now = people.account_to_change(conn, account.name)
        if now != account:
            raise NotSignedIn(_WRONG, cure=_CHECK)
        return _signed(conn, now, tried)


def proved(house: "House", tried: Tried) -> StoredAccount:
    """The account whose name and password these are; every try counts. Raises as `sign_in` does."""
    name = spelled(tried.name)
    who = throttling.trier(house.settings.data, name, tried.address)
    with read(house.engine) as conn:
        throttling.check(conn, who, now_us())
        account = people.account(conn, name)
    # Not within a transaction: it takes its time, and writers would wait. Of no account it takes the same.
    good = passwords.fits(account.password if account else passwords.no_account(), tried.password)
    refused = _refusal(account, good=good)
    with write(house.engine) as conn:
        throttling.count(conn, who, now_us(), good=not refused)
        if refused:
            note_as(conn, NOBODY, tried.via, "sign in refused", account.name if account else "no such account")
    if account is None or refused:
        raise NotSignedIn(refused, cure=_CHECK)
    return account


def spelled(name: str) -> str:
    """A name as accounts are kept, however it was typed."""
    return unicodedata.normalize("NFC", name.strip()).lower()[:64]


def page_actor(house: "House", id_: str) -> Actor | None:
    """Who a sign-in on the pages is good for now; None where it has ended. Raises Unavailable."""
    now = now_us()
    with read(house.engine) as conn:
        found = people.token_by_id(conn, id_)
    return _actor(*found) if found and found[0].via == PAGE and holds(*found, now) else None


def secret_actor(house: "House", secret: str, via: tuple[str, ...] = (TERMINAL, TOKEN)) -> Actor:
    """Who a terminal's sign-in or a program's token is good for now. Raises NotSignedIn, Unavailable."""
    with read(house.engine) as conn:
        found = people.token_by_digest(conn, digest_of(secret))
    if found is None or found[0].via not in via:
        raise NotSignedIn("This token is not known here.", cure="Make one: chockbook token make")
    if not holds(*found, now_us()):
        raise NotSignedIn(_ENDED, cure="Sign in again: chockbook sign-in NAME")
    return _actor(*found)


def sign_out(house: "House", id_: str) -> None:
    """End one sign-in; nothing where it has ended. Raises Unavailable."""
    now = now_us()
    with write(house.engine) as conn:
        found = people.token_by_id(conn, id_)
        if found and people.revoke(conn, now, id_=id_):
            note_as(conn, found[0].account, found[0].via, "sign out", found[0].account)


def sign_out_secret(house: "House", secret: str) -> None:
    """The same for what a terminal keeps."""
    with read(house.engine) as conn:
        found = people.token_by_digest(conn, digest_of(secret))
    if found:
        sign_out(house, found[0].id)


def digest_of(secret: str) -> str:
    """What is kept of a secret: it is random, so one hash is enough."""
    return hashlib.sha256(secret.encode("utf-8", "replace")).hexdigest()


def fresh_secret() -> str:
    """256 random bits; the beginning says what it is to whoever finds one in a log."""
    return f"chockbook_{secrets.token_urlsafe(32)}"


def _refusal(account: StoredAccount | None, *, good: bool) -> str:
    if account is None or not good or account.disabled_us is not None:
        return _WRONG
    if account.one_time and account.password_us < now_us() - ONE_TIME_DAYS * DAY:
        return f"This one-time password was not used within {ONE_TIME_DAYS} days and has ended."
    return ""


def _signed(conn: Connection, account: StoredAccount, tried: Tried) -> SignIn:
    now, secret, id_ = now_us(), fresh_secret(), secrets.token_hex(8)
    people.forget_tokens(conn, now - 90 * DAY)
    rights = " ".join(sorted(RIGHTS[Role(account.role)]))
    made = StoredToken(
        id_, account.name, tried.via, digest_of(secret), "", rights, account.epoch, now, now + LONGEST[tried.via]
    )
    people.add_token(conn, made)
    if passwords.outdated(account.password):
        people.change_account(conn, account.name, password=passwords.hashed(tried.password))
    note_as(conn, account.name, tried.via, "sign in", account.name)
    return SignIn(id_, secret, account.name, account.shown, Role(account.role), now, account.one_time)


def holds(token: StoredToken, account: StoredAccount, now: int) -> bool:
    """Whether a sign-in or a token of the account still lets somebody act."""
    if token.revoked_us is not None or now >= token.expires_us or account.disabled_us is not None:
        return False
    # Programs go on when a person's password changes; sign-ins do not.
    return token.via == TOKEN or token.epoch == account.epoch


def _actor(token: StoredToken, account: StoredAccount) -> Actor:
    """With the rights of the role as it is now; of a program only what its token is for."""
    role = Role(account.role)
    rights = RIGHTS[role]
    if token.via == TOKEN:
        rights = rights & {Right(right) for right in token.rights.split()}
    elif account.one_time:
        rights = frozenset()
    return Actor(account.name, role, token.via, rights)
