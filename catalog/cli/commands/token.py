"""chockbook token: what programs act with."""

import click

from catalog.cli.acting import acting, as_option
from catalog.cli.terminal import Terminal
from catalog.domain.roles import Right


@click.group(short_help="What programs act with, in an account's name.")
def token() -> None:
    """Tokens: a program sends one as a bearer token, or a command takes it from CHOCKBOOK_TOKEN."""


@token.command()
@click.option("--for", "label", required=True, metavar="TEXT", help="What it is for.")
@click.option(
    "--right", "rights", type=click.Choice([str(right) for right in Right]), multiple=True, required=True,
    help="What it may do; more than once for more.",
)  # fmt: skip
@click.option("--days", type=click.IntRange(1, 366), default=30, show_default=True, help="How long it holds.")
@as_option
@click.pass_obj
def make(terminal: Terminal, label: str, rights: tuple[str, ...], days: int, as_name: str | None) -> None:
    """Make a token and print it, this once."""
    from catalog.services.tokens import TokenAsked, make_token

    asked = TokenAsked(label, frozenset(map(Right, rights)), days)
    made, secret = make_token(terminal.house, acting(terminal, as_name), asked)
    click.echo(f"Token {made.id}, until {made.expires:%Y-%m-%d}, shown this once:", err=True)
    click.echo(secret)


@token.command("list")
@click.option("--of", "owner", default="", metavar="NAME", help="Of another account (administrators).")
@as_option
@click.pass_obj
def list_(terminal: Terminal, owner: str, as_name: str | None) -> None:
    """Tokens and sign-ins, the newest first."""
    from catalog.cli.pages.people import token_lines
    from catalog.services.tokens import list_tokens

    terminal.show(token_lines(list_tokens(terminal.house, acting(terminal, as_name), owner), terminal.paper))


@token.command()
@click.argument("id_", metavar="ID")
@as_option
@click.pass_obj
def revoke(terminal: Terminal, id_: str, as_name: str | None) -> None:
    """End the token or sign-in ID for good."""
    from catalog.services.tokens import revoke_token

    found = revoke_token(terminal.house, acting(terminal, as_name), id_)
    click.echo(f"Token {found.id} has ended.")
