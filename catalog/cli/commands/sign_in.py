"""chockbook sign-in and sign-out: the proof that commands act with."""

import sys
from dataclasses import replace

import click

from catalog.cli.acting import keep, kept
from catalog.cli.terminal import Terminal
from catalog.errors import BadInput

password_option = click.option("--password-stdin", is_flag=True, help="Read it from standard input, one line each.")


def asked_password(prompt: str, *, stdin: bool, confirm: bool = False) -> str:
    """A password typed unseen, or a line of standard input. Never an argument: others can see those."""
    if stdin:
        line = sys.stdin.readline()
        if not line:
            raise BadInput("Standard input holds no password.", cure="Give one line for each password asked for.")
        return line.rstrip("\r\n")
    said: str = click.prompt(prompt, hide_input=True, confirmation_prompt=confirm, err=True)
    return said


@click.command("sign-in", short_help="Sign in, for commands that need a name.")
@click.argument("name")
@password_option
@click.pass_obj
def sign_in(terminal: Terminal, name: str, password_stdin: bool) -> None:
    """Sign in as NAME on this host for 12 hours; commands then take --as NAME.

    With a one-time password a new one is asked for next. The sign-in is kept in the data folder, for its owner only.
    """
    from catalog.services.accounts import change_password
    from catalog.services.signing import TERMINAL, Tried, sign_in

    password = asked_password("Password", stdin=password_stdin)
    tried = Tried(name, password, "terminal", TERMINAL)
    signed = sign_in(terminal.house, tried)
    if signed.must_choose:
        if not password_stdin:
            click.echo("This password was for one use. Choose one of 12 characters or more.", err=True)
        new = asked_password("New password", stdin=password_stdin, confirm=True)
        change_password(terminal.house, tried, new)
        signed = sign_in(terminal.house, replace(tried, password=new))
    keep(terminal, signed.name, signed.secret)
    click.echo(f"{signed.shown} ({signed.role}) is signed in for 12 hours: --as {signed.name}")


@click.command("sign-out", short_help="End a sign-in of this host.")
@click.argument("name")
@click.pass_obj
def sign_out(terminal: Terminal, name: str) -> None:
    """End the sign-in of NAME on this host."""
    from catalog.services.signing import sign_out_secret, spelled

    path = kept(terminal, spelled(name))
    if path.is_file():
        sign_out_secret(terminal.house, path.read_text("ascii").strip())
        path.unlink()
    click.echo(f"{name} is not signed in on this host.")
