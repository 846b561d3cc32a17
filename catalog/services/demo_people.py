"""The demo's invented people: accounts with passwords for one use, made where the demo is set up."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from catalog.domain.roles import Role
from catalog.errors import Conflict
from catalog.services import passwords
from catalog.services.clock import now_us
from catalog.services.house import House
from catalog.services.signing import TERMINAL
from catalog.services.trail import NOBODY, note_as
from catalog.store import people
from catalog.store.engine import write
from catalog.store.people import StoredAccount


class Person(Protocol):
    """An invented person; `seed_demo.people.DemoPerson` is one."""

    @property
    def name(self) -> str: ...
    @property
    def shown(self) -> str: ...
    @property
    def role(self) -> Role: ...


@dataclass(frozen=True, slots=True)
class Handed:
    """What somebody signs in with, once."""

    name: str
    role: Role
    password: str


def make_people(house: House, persons: Sequence[Person]) -> tuple[Handed, ...]:
    """Their accounts, where there is no account at all yet; none otherwise. Raises Unavailable."""
    drawn = [(person, passwords.made()) for person in persons]
    with write(house.engine) as conn:
        if people.all_accounts(conn):
            return ()
        for person, password in drawn:
            now = now_us()
            encoded = passwords.hashed(password)
            row = StoredAccount(person.name, person.shown, person.role, encoded, True, now, 1, now)
            people.add_account(conn, row)
            note_as(conn, NOBODY, TERMINAL, "account add", person.name, {"role": person.role, "demo": True})
    return tuple(Handed(person.name, person.role, password) for person, password in drawn)


def renew_people(house: House, persons: Sequence[Person]) -> tuple[Handed, ...]:
    """New passwords for one use, in the roles the demo gave; their sign-ins and tokens end. Raises Conflict.

    Nobody need be signed in: only in a demo, and only for its invented people.
    """
    if not house.settings.demo:
        raise Conflict("This is no demo.", cure="An administrator gives passwords: chockbook account password NAME")
    made = []
    with write(house.engine) as conn:
        for person in persons:
            account = people.account_to_change(conn, person.name)
            if account is None:
                continue
            password, now = passwords.made(), now_us()
            people.change_account(
                conn, person.name, password=passwords.hashed(password), one_time=True, password_us=now,
                epoch=account.epoch + 1, role=person.role, disabled_us=None,
            )  # fmt: skip
            people.revoke(conn, now, name=person.name)
            note_as(conn, NOBODY, TERMINAL, "account password", person.name, {"demo": True, "one_time": True})
            made.append(Handed(person.name, person.role, password))
    return tuple(made)
