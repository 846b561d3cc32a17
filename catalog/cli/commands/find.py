"""chockbook find: words in all notes and guide texts."""

import click

from catalog.cli.terminal import Terminal


@click.command(short_help="Search the words of notes and guides.")
@click.argument("text", nargs=-1, required=True)
@click.option("--limit", type=click.IntRange(min=1), default=20, show_default=True, help="At most this many places.")
@click.option("--json", "as_json", is_flag=True, help="One JSON document instead of a page.")
@click.pass_obj
def find(terminal: Terminal, text: tuple[str, ...], limit: int, as_json: bool) -> None:
    """Where notes and guides speak of TEXT, best first, with the words marked."""
    from catalog.cli.pages.found import found_lines
    from catalog.services.finding import find_text

    found = find_text(terminal.house, " ".join(text), limit=limit)
    if as_json:
        from schemas.answers import FindAnswer, with_cautions

        terminal.show_json(with_cautions(FindAnswer, found, terminal.cautions(found.edition)))
        return
    terminal.show([*terminal.masthead(found.edition), *found_lines(found, terminal.paper)])
