"""chockbook read: what is understood of a description."""

import click

from catalog.cli.commands.resolve import description_of
from catalog.cli.terminal import Terminal


@click.command(short_help="What is understood of a description, and what is not.")
@click.argument("text", nargs=-1, required=True)
@click.option("--json", "as_json", is_flag=True, help="One JSON document instead of a page.")
@click.option("--driving-side", type=click.Choice(["left", "right"]), help="The side of the road traffic keeps to.")
@click.pass_obj
def read(terminal: Terminal, text: tuple[str, ...], as_json: bool, driving_side: str | None) -> None:
    """Each thing understood in TEXT, in words, with the scene it proposes and what was not read.

    A single - reads it from standard input. Nothing of it is stored. Telephone numbers, plates,
    names and addresses are blanked where a pattern shows them.
    """
    from catalog.cli.pages.understood import read_lines
    from catalog.services.reading import read_description

    found = read_description(terminal.house, description_of(text), driving_side)
    if as_json:
        from schemas.answers import with_cautions
        from schemas.cue_answers import ReadAnswer

        terminal.show_json(with_cautions(ReadAnswer, found, terminal.cautions(found.edition)))
        return
    terminal.show([*terminal.masthead(found.edition), *read_lines(found, terminal.paper)])
