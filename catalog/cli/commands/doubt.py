"""chockbook doubt, chockbook restore: take a published fact back at once; propose to put it in again."""

import click

from catalog.cli.acting import acting, as_option
from catalog.cli.terminal import Terminal


@click.command(short_help="Take a wrong fact back, at once.")
@click.argument("code")
@click.argument("path")
@click.argument("reason")
@click.option("--seen", default="", metavar="HASH", help="The revision looked at; refused if the fact changed since.")
@as_option
@click.pass_obj
def doubt(terminal: Terminal, code: str, path: str, reason: str, seen: str, as_name: str | None) -> None:
    """Publish an edition in which a fact is not stated. One person may; crews read REASON beside it.

    PATH names the fact as a record's history does: ports[a].place; a whole item: ports[a]. Its protective reading
    takes over.
    """
    from catalog.services.doubting import doubt as put_doubt

    number = put_doubt(terminal.house, acting(terminal, as_name), code, path, reason, seen=seen)
    told = f"{path} of {code} is not stated from edition {number} on."
    cure = f'To put it back takes two: chockbook restore {code} "{path}" REASON, then another accepts it.'
    terminal.show([*terminal.mark(), *terminal.paper.wrap(told), *terminal.paper.wrap(cure)])


@click.command(short_help="Propose that a doubted fact is stated again.")
@click.argument("code")
@click.argument("path")
@click.argument("reason")
@as_option
@click.pass_obj
def restore(terminal: Terminal, code: str, path: str, reason: str, as_name: str | None) -> None:
    """Propose that a doubted fact says again what it said. Nothing changes until another person accepts it."""
    from catalog.services.doubting import restore as put_restore

    update = put_restore(terminal.house, acting(terminal, as_name), code, path, reason)
    told = f"Proposed as update {update}. Another person accepts it: chockbook review show {update}"
    terminal.show([*terminal.mark(), *terminal.paper.wrap(told)])
