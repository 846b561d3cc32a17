"""In whose name a command acts, and the proof: a sign-in kept in the data folder, or a token in the environment."""

import os
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

import click

from catalog.cli.terminal import Terminal
from catalog.errors import NotSignedIn

if TYPE_CHECKING:
    from catalog.services.acting import Actor

VARIABLE = "CHOCKBOOK_TOKEN"

as_option = click.option(
    "--as", "as_name", metavar="NAME", help=f"Act as this account, signed in here before; else by {VARIABLE}."
)


def acting(terminal: Terminal, name: str | None) -> "Actor":
    """Who acts: NAME as signed in on this host, else whose token CHOCKBOOK_TOKEN holds. Raises NotSignedIn."""
    from catalog.services.signing import TERMINAL, TOKEN, secret_actor, spelled

    if name is None:
        token = terminal.environ.get(VARIABLE, "").strip()
        if not token:
            raise NotSignedIn(
                "It is not said in whose name.",
                cure=f"Sign in (chockbook sign-in NAME) and add --as NAME, or set {VARIABLE}.",
            )
        return secret_actor(terminal.house, token, (TERMINAL, TOKEN))
    path = kept(terminal, spelled(name))
    if not path.is_file():
        raise NotSignedIn(f"{name} is not signed in on this host.", cure=f"Sign in: chockbook sign-in {name}")
    found = secret_actor(terminal.house, path.read_text("ascii").strip(), (TERMINAL,))
    if found.name != spelled(name):
        raise NotSignedIn(f"What is kept is not {name}'s sign-in.", cure=f"Sign in: chockbook sign-in {name}")
    return found


def kept(terminal: Terminal, name: str) -> Path:
    """Where an account's sign-in is kept. name: as spelled in the account list."""
    safe = "".join(char if char.isalnum() or char in ".-" else "_" for char in name)
    return terminal.settings.data / "signed-in" / f"{safe}.token"


def keep(terminal: Terminal, name: str, secret: str) -> None:
    """Keep a sign-in, readable by its owner only."""
    path = kept(terminal, name)
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    handle, made = tempfile.mkstemp(dir=path.parent)
    with os.fdopen(handle, "w", encoding="ascii") as file:
        file.write(f"{secret}\n")
    Path(made).replace(path)
