"""chockbook watch: descriptions that must go on finding their record."""

import click

from catalog.cli.acting import acting, as_option
from catalog.cli.commands.resolve import description_of
from catalog.cli.terminal import Terminal


@click.group(short_help="Descriptions that must go on finding their record.")
def watch() -> None:
    """The watch list. Each description is weighed before every publication; one that would be lost is in the way."""


@watch.command("list")
@click.option("--json", "as_json", is_flag=True, help="One JSON document instead of a page.")
@click.pass_obj
def list_(terminal: Terminal, as_json: bool) -> None:
    """What is watched."""
    from catalog.cli.pages.review import watch_lines
    from catalog.services.watch_list import watched

    found = watched(terminal.house)
    if as_json:
        from catalog.services.compiling import edition_view
        from schemas.answers import with_cautions
        from schemas.review import WatchListAnswer

        edition = edition_view(terminal.house.shelf.current())
        terminal.show_json(with_cautions(WatchListAnswer, {"watched": found}, terminal.cautions(edition)))
        return
    terminal.show([*terminal.mark(), *watch_lines(found, terminal.paper)])


@watch.command()
@click.argument("text", nargs=-1, required=True)
@click.option("--finds", "code", metavar="CODE", required=True, help="The record it must find.")
@click.option("--within", "rank", type=click.IntRange(1, 10), default=3, show_default=True, help="Among so many first.")
@click.option("--name", default="", metavar="TEXT", help="What it is called; left out, what was understood.")
@as_option
@click.pass_obj
def add(terminal: Terminal, text: tuple[str, ...], code: str, rank: int, name: str, as_name: str | None) -> None:
    """Watch that the description TEXT (- for standard input) finds a record. TEXT is read and forgotten."""
    from catalog.services.watch_list import WatchAsked
    from catalog.services.watch_list import watch as watch_

    asked = WatchAsked(code, description_of(text), rank=rank, name=name)
    made = watch_(terminal.house, acting(terminal, as_name), asked)
    click.echo(f"{made.number}  {made.name}: {made.title} [{made.code}] among the first {made.rank}.")


@watch.command()
@click.argument("number", type=click.IntRange(min=1))
@click.option("--reason", required=True, metavar="TEXT")
@as_option
@click.pass_obj
def remove(terminal: Terminal, number: int, reason: str, as_name: str | None) -> None:
    """Watch entry NUMBER no more."""
    from catalog.services.watch_list import unwatch

    unwatch(terminal.house, acting(terminal, as_name), number, reason)
    click.echo(f"{number} is watched no more.")
