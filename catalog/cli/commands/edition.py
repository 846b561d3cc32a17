"""chockbook edition: the published editions and what changed between them."""

import click

from catalog.cli.terminal import Terminal
from catalog.errors import NotFound


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
@click.argument("a", type=click.IntRange(min=1))
@click.argument("b", type=click.IntRange(min=1))
@click.pass_obj
def changes(terminal: Terminal, a: int, b: int) -> None:
    """What changed from edition A to edition B, fact by fact."""
    from catalog.cli.pages.editions import change_lines
    from catalog.services.editions import edition_changes, list_editions

    made = edition_changes(terminal.house, a, b)
    later = next(view for view in list_editions(terminal.house) if view.number == b)
    heading = terminal.paper.heading(f"From edition {a} to edition {b}")
    terminal.show([*terminal.masthead(later), heading, "", *change_lines(made, terminal.paper)])
