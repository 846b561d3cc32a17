"""In whose name a service acts, and whether that person may."""

from dataclasses import dataclass

from catalog.domain.roles import RIGHTS, Right, Role
from catalog.errors import Forbidden, NotSignedIn
from catalog.store.tables_people import TOKEN

_DOING = {
    Right.READ: "read the catalogue",
    Right.BRIEF: "compose and send briefs",
    Right.UPDATE: "bring in guide updates and drafts",
    Right.DOUBT: "doubt a published fact",
    Right.APPROVE: "approve and publish",
    Right.ADMINISTER: "look after accounts",
}


@dataclass(frozen=True, slots=True)
class Actor:
    """An account acting now. name: the account's, stored with what it does. via: page, token or terminal.

    rights: those of its role; of a token only what the token is for.
    """

    name: str
    role: Role
    via: str
    rights: frozenset[Right]


def actor_of(name: str, role: Role, via: str) -> Actor:
    """An account with all rights of its role."""
    return Actor(name, role, via, RIGHTS[role])


def require(actor: Actor | None, right: Right) -> Actor:
    """The actor, if it may. Raises NotSignedIn where there is none, Forbidden where it may not."""
    if actor is None:
        raise NotSignedIn(f"Nobody is signed in, and to {_DOING[right]} needs an account.", cure="Sign in.")
    if right not in actor.rights:
        raise Forbidden(
            f"{actor.name} ({actor.role}) may not {_DOING[right]}.",
            cure="Sign in as somebody who may, or ask an administrator for the role.",
        )
    return actor


def in_person(actor: Actor | None, what: str) -> Actor:
    """The actor, if it is a person: a program's token that leaked must not make others of itself.

    what: that it looks after, in words. Raises NotSignedIn, Forbidden.
    """
    if actor is None:
        raise NotSignedIn("Nobody is signed in.", cure="Sign in.")
    if actor.via == TOKEN:
        raise Forbidden(f"A program's token looks after no {what}.", cure="Sign in in person.")
    return actor
