"""Tokens: what a program acts with in an account's name. Shown once, kept as a hash, good until a day."""

import secrets
import unicodedata
from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from catalog.domain.roles import Right
from catalog.errors import BadInput, Forbidden, NotFound, NotSignedIn
from catalog.services.acting import Actor, in_person
from catalog.services.clock import DAY, moment_of, now_us
from catalog.services.signing import TOKEN, digest_of, fresh_secret, holds, spelled
from catalog.services.trail import note
from catalog.store import people
from catalog.store.engine import read, write
from catalog.store.people import StoredAccount, StoredToken

if TYPE_CHECKING:
    from catalog.services.house import House

LONGEST_DAYS = 366
_LABEL = 60


@dataclass(frozen=True, slots=True)
class TokenAsked:
    """label: what it is for, in words. rights: some of the maker's. days: 1 to LONGEST_DAYS."""

    label: str
    rights: Collection[Right]
    days: int


@dataclass(frozen=True, slots=True)
class TokenView:
    """A token or a sign-in as it is shown; its secret is not known here. holds: it has not ended.

    via: PAGE, TERMINAL or TOKEN. rights: what a token is for; of a sign-in those of the role.
    """

    id: str
    account: str
    via: str
    label: str
    rights: tuple[Right, ...]
    created: datetime
    expires: datetime
    holds: bool


def make_token(house: "House", actor: Actor | None, asked: TokenAsked) -> tuple[TokenView, str]:
    """A token of the actor's own, and its secret. Raises NotSignedIn, Forbidden, BadInput, Unavailable."""
    by = in_person(actor, "tokens")
    rights = frozenset(asked.rights)
    label = " ".join(unicodedata.normalize("NFC", asked.label).split())
    if not rights:
        raise BadInput("It is not said what the token may do.", cure=f"Give some of: {', '.join(sorted(by.rights))}.")
    if more := rights - by.rights:
        raise Forbidden(
            f"{by.name} ({by.role}) may not {', '.join(sorted(more))}, so a token may not either.",
            cure=f"Give some of: {', '.join(sorted(by.rights)) or 'none'}.",
        )
    if not label or len(label) > _LABEL or not label.isprintable():
        raise BadInput("It is not said what the token is for.", cure=f"Say it in at most {_LABEL} characters.")
    if not 1 <= asked.days <= LONGEST_DAYS:
        raise BadInput(f"A token cannot hold for {asked.days} days.", cure=f"Give 1 to {LONGEST_DAYS}.")
    secret, now, id_ = fresh_secret(), now_us(), secrets.token_hex(8)
    with write(house.engine) as conn:
        account = people.account_to_change(conn, by.name)
        if account is None or account.disabled_us is not None:
            raise NotSignedIn("The sign-in has ended.", cure="Sign in again.")
        made = StoredToken(
            id_, by.name, TOKEN, digest_of(secret), label, " ".join(sorted(rights)), account.epoch, now,
            now + asked.days * DAY,
        )  # fmt: skip
        people.add_token(conn, made)
        note(conn, by, "token make", id_, {"label": label, "rights": sorted(rights), "days": asked.days})
    return _view(made, account), secret


def list_tokens(house: "House", actor: Actor | None, name: str = "") -> tuple[TokenView, ...]:
    """Tokens and sign-ins, the newest first; of others only for administrators. Raises NotSignedIn, Forbidden."""
    by = in_person(actor, "tokens")
    owner = spelled(name) or by.name
    _check_owner(by, owner)
    with read(house.engine) as conn:
        account = people.account(conn, owner)
        if account is None:
            raise NotFound(f"There is no account {name}.", cure="List them: chockbook account list --as NAME")
        return tuple(_view(token, account) for token in people.tokens_of(conn, owner))


def revoke_token(house: "House", actor: Actor | None, id_: str) -> TokenView:
    """End a token or a sign-in for good; of others only for administrators. Raises NotFound, Forbidden."""
    by = in_person(actor, "tokens")
    with write(house.engine) as conn:
        found = people.token_by_id(conn, id_)
        # Whoever may not end it is not told either that it is there.
        if found is None or (found[0].account != by.name and Right.ADMINISTER not in by.rights):
            raise NotFound(f"There is no token {id_}.", cure="List them: chockbook token list")
        if people.revoke(conn, now_us(), id_=id_):
            note(conn, by, "token revoke", id_, {"account": found[0].account, "label": found[0].label})
        after = people.token_by_id(conn, id_)
    assert after is not None
    return _view(*after)


def _check_owner(by: Actor, owner: str) -> None:
    if owner != by.name and Right.ADMINISTER not in by.rights:
        raise Forbidden(f"{by.name} ({by.role}) may not see tokens of others.", cure="Ask an administrator.")


def _view(token: StoredToken, account: StoredAccount) -> TokenView:
    rights = tuple(Right(right) for right in token.rights.split())
    return TokenView(
        token.id, token.account, token.via, token.label, rights, moment_of(token.created_us),
        moment_of(token.expires_us), holds(token, account, now_us()),
    )  # fmt: skip
