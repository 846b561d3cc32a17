"""People for tests: accounts, signed-in clients, tokens."""

import re
from collections.abc import Collection
from functools import cache

from flask import Flask
from flask.testing import FlaskClient

from catalog.domain.roles import RIGHTS, Right, Role
from catalog.services import passwords
from catalog.services.acting import Actor, actor_of
from catalog.services.clock import DAY, now_us
from catalog.services.house import House
from catalog.services.signing import TOKEN, digest_of, fresh_secret
from catalog.store import people
from catalog.store.engine import write
from catalog.store.people import StoredAccount, StoredToken

PASSWORD = "kettle-lantern-orbit-plum"


@cache
def _encoded(password: str) -> str:
    return passwords.hashed(password)


def somebody(house: House, name: str, role: Role) -> Actor:
    """An account with PASSWORD, and who acts for it."""
    now = now_us()
    with write(house.engine) as conn:
        people.add_account(conn, StoredAccount(name, name, role, _encoded(PASSWORD), False, now, 1, now))
    return actor_of(name, role, "test")


def signed_in(app: Flask, name: str) -> FlaskClient:
    """A browser's client, signed in by the page as an account made by `somebody`."""
    client = app.test_client()
    client.post("/sign-in", data={"name": name, "password": PASSWORD, "csrf_token": csrf(client, "/sign-in")})
    return client


def csrf(client: FlaskClient, page: str) -> str:
    """The token in a form of a page."""
    found = re.search(r'name="csrf_token" value="([^"]+)"', client.get(page).text)
    assert found, f"{page} has no form that changes anything"
    return found[1]


def token_of(house: House, name: str, role: Role, rights: Collection[Right] | None = None, label: str = "test") -> str:
    """A program's token with every right of the account's role, or only some."""
    now, secret = now_us(), fresh_secret()
    held = " ".join(sorted(RIGHTS[role] if rights is None else rights))
    made = StoredToken(digest_of(secret)[:12], name, TOKEN, digest_of(secret), label, held, 1, now, now + DAY)
    with write(house.engine) as conn:
        people.add_token(conn, made)
    return secret
