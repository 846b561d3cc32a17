"""chockbook edition: the published editions and what changed between them."""

from pathlib import Path

import click

from catalog.cli.acting import acting, as_option
from catalog.cli.terminal import Terminal
from catalog.errors import Conflict, NotFound


@click.group(short_help="The published editions and their changes.")
def edition() -> None:
    """The published editions, and what changed between two of them."""


@edition.command("list")
@click.option("--json", "as_json", is_flag=True, help="One JSON document instead of a page.")
@click.pass_obj
def list_(terminal: Terminal, as_json: bool) -> None:
    """Every published edition, newest first."""
    from catalog.cli.pages.editions import edition_lines
    from catalog.services.editions import list_editions

    editions = sorted(list_editions(terminal.house), key=lambda view: view.number, reverse=True)
    if not editions:
        raise NotFound("No edition has been published here.", cure="To see one: chockbook demo --no-serve")
    if as_json:
        from schemas.answers import EditionsAnswer, with_cautions

        terminal.show_json(with_cautions(EditionsAnswer, {"editions": editions}, terminal.cautions(editions[0])))
        return
    terminal.show([*terminal.masthead(editions[0]), *edition_lines(editions, terminal.paper)])


@edition.command()
@click.argument("a", type=click.IntRange(min=0))
@click.argument("b", type=click.IntRange(min=1))
@click.option("--file", type=click.Path(dir_okay=False, path_type=Path), help="Write it as a file others can follow.")
@click.pass_obj
def changes(terminal: Terminal, a: int, b: int, file: Path | None) -> None:
    """What changed from edition A to edition B, fact by fact; A is 0 for all of B."""
    if file is not None:
        from catalog.services.change_file import change_bytes

        file.write_bytes(change_bytes(terminal.house, a, b))
        click.echo(f"{file}: from edition {a} to edition {b}.")
        return
    from catalog.cli.pages.editions import change_lines
    from catalog.services.editions import edition_changes, list_editions

    made = edition_changes(terminal.house, a, b)
    later = next(view for view in list_editions(terminal.house) if view.number == b)
    heading = terminal.paper.heading(f"From edition {a} to edition {b}")
    terminal.show([*terminal.masthead(later), heading, "", *change_lines(made, terminal.paper)])


_updates = click.argument("updates", nargs=-1, required=True, metavar="UPDATE...")


@edition.command()
@_updates
@as_option
@click.pass_obj
def check(terminal: Terminal, updates: tuple[str, ...], as_name: str | None) -> None:
    """The checks of what is accepted of some guide updates, as if it were published now. Some seconds."""
    from catalog.cli.pages.review import gate_lines
    from catalog.services.publishing import check_publication, numbers_of

    checked = check_publication(terminal.house, acting(terminal, as_name), numbers_of(updates))
    terminal.show([*terminal.mark(), *gate_lines(checked.gates.gates, {}, terminal.paper)])
    if checked.gates.blocking:
        raise Conflict("Something is in the way.", cure="Mend what it names.")


@edition.command()
@_updates
@click.option("--note", required=True, metavar="TEXT", help="What changes and why.")
@click.option(
    "--watch-list-override", "override", metavar="TEXT", help="Why to publish although a watched description is lost."
)
@as_option
@click.pass_obj
def publish(terminal: Terminal, updates: tuple[str, ...], note: str, override: str | None, as_name: str | None) -> None:
    """Publish what is accepted of some guide updates as the next edition, after its checks."""
    from catalog.cli.pages.review import gate_lines
    from catalog.services.gates import WATCH
    from catalog.services.publishing import gates_of_edition, publish_edition

    overrides = {WATCH: override} if override is not None else {}
    number = publish_edition(terminal.house, acting(terminal, as_name), updates, note, overrides)
    gates = gates_of_edition(terminal.house, number)
    if gates is not None:
        terminal.show([*terminal.mark(), *gate_lines(gates.gates, gates.overrides, terminal.paper), ""])
    click.echo(f"Edition {number} is published.")


@edition.command()
@click.argument("to", type=click.IntRange(min=1), metavar="EDITION")
@click.option("--reason", required=True, metavar="TEXT")
@as_option
@click.pass_obj
def back(terminal: Terminal, to: int, reason: str, as_name: str | None) -> None:
    """Go back: publish an earlier edition's members as the next edition. One approver may."""
    from catalog.services.publishing import go_back

    number = go_back(terminal.house, acting(terminal, as_name), to, reason)
    click.echo(f"Edition {number} is published: what edition {to} listed.")
