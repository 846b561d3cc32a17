"""chockbook account: who may sign in, in which role."""

import sys

import click

from catalog.cli.acting import acting, as_option
from catalog.cli.commands.sign_in import asked_password, password_option
from catalog.cli.terminal import Terminal
from catalog.domain.roles import Role
from catalog.errors import NotSignedIn

_ROLES = click.Choice([str(role) for role in Role])


@click.group(short_help="Who may sign in, in which role.")
def account() -> None:
    """Accounts. The first is an administrator's and needs nobody's name; an administrator adds the others."""


@account.command()
@click.argument("name")
@click.option("--role", type=_ROLES, required=True)
@click.option("--shown", default="", metavar="TEXT", help="The name as it is shown.")
@click.option("--choose", is_flag=True, help="Type the password now; left out, one for one use is made and printed.")
@password_option
@as_option
@click.pass_obj
def add(
    terminal: Terminal, name: str, role: str, shown: str, choose: bool, password_stdin: bool, as_name: str | None
) -> None:
    """Add an account."""
    from catalog.cli.acting import VARIABLE
    from catalog.services.accounts import NewAccount, add_account, add_first_administrator, has_administrator

    _set_up(terminal)
    first = as_name is None and not terminal.environ.get(VARIABLE) and not has_administrator(terminal.house)
    by = None if first else acting(terminal, as_name)
    password = asked_password("Password", stdin=password_stdin, confirm=True) if choose or password_stdin else ""
    new = NewAccount(name, Role(role), shown, password)
    added = add_first_administrator(terminal.house, new) if first else add_account(terminal.house, by, new)
    click.echo(f"{added.account.name} ({added.account.role}) is added.")
    if added.password:
        _once(added.password)


@account.command("list")
@click.option("--json", "as_json", is_flag=True, help="One JSON document instead of a page.")
@as_option
@click.pass_obj
def list_(terminal: Terminal, as_json: bool, as_name: str | None) -> None:
    """Every account."""
    from catalog.cli.pages.people import account_lines
    from catalog.services.accounts import list_accounts
    from schemas.people import AccountsAnswer

    found = list_accounts(terminal.house, acting(terminal, as_name))
    if as_json:
        terminal.show_json(AccountsAnswer().dump({"accounts": found}))
        return
    terminal.show(account_lines(found, terminal.paper))


@account.command()
@click.argument("name")
@click.argument("new_role", type=_ROLES, metavar="ROLE")
@as_option
@click.pass_obj
def role(terminal: Terminal, name: str, new_role: str, as_name: str | None) -> None:
    """Give NAME another role. It counts at once."""
    from catalog.services.accounts import set_role

    found = set_role(terminal.house, acting(terminal, as_name), name, Role(new_role))
    click.echo(f"{found.name} is {found.role} now.")


@account.command()
@click.argument("name")
@as_option
@click.pass_obj
def disable(terminal: Terminal, name: str, as_name: str | None) -> None:
    """NAME may not sign in any more; sign-ins and tokens end at once."""
    from catalog.services.accounts import disable as disable_account

    found = disable_account(terminal.house, acting(terminal, as_name), name)
    click.echo(f"{found.name} may not sign in any more.")


@account.command()
@click.argument("name")
@as_option
@click.pass_obj
def enable(terminal: Terminal, name: str, as_name: str | None) -> None:
    """NAME may sign in again."""
    from catalog.services.accounts import enable as enable_account

    found = enable_account(terminal.house, acting(terminal, as_name), name)
    click.echo(f"{found.name} may sign in again.")


@account.command()
@click.argument("name")
@click.option("--own", is_flag=True, help="Choose another for oneself, knowing the present one.")
@password_option
@as_option
@click.pass_obj
def password(terminal: Terminal, name: str, own: bool, password_stdin: bool, as_name: str | None) -> None:
    """A new password of NAME for one use, made and printed once (by an administrator); or one's own with --own."""
    from catalog.services.accounts import change_password, reset_password
    from catalog.services.signing import TERMINAL, Tried

    if own:
        if as_name is not None:
            raise NotSignedIn("--own needs the present password, not --as.", cure="Leave --as out.")
        old = asked_password("Present password", stdin=password_stdin)
        new = asked_password("New password", stdin=password_stdin, confirm=True)
        change_password(terminal.house, Tried(name, old, "terminal", TERMINAL), new)
        click.echo(f"The new password of {name} is set; sign-ins made before have ended.")
        return
    made = reset_password(terminal.house, acting(terminal, as_name), name)
    click.echo(f"The sign-ins and tokens of {name} have ended.")
    _once(made)


def _once(password: str) -> None:
    """The password on standard output, so that it can be handed on; what to know of it beside."""
    click.echo("One-time password, shown this once, for seven days, changed at the first sign-in:", err=True)
    sys.stderr.flush()
    click.echo(password)


def _set_up(terminal: Terminal) -> None:
    """The first account may be the first thing there is."""
    from catalog.store.migrate import pending, upgrade

    if pending(terminal.house.engine):
        upgrade(terminal.house.engine)
