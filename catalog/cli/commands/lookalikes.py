"""chockbook lookalikes: what looks like a record, and what tells them apart."""

import click

from catalog.cli.terminal import Terminal


@click.command(short_help="What looks like a record, and what tells them apart.")
@click.argument("code")
@click.option(
    "--crew", is_flag=True, help="For a crew at the vehicle; left out, for a caller who stays where they are."
)
@click.option("--limit", type=click.IntRange(1, 50), default=5, show_default=True, help="At most this many.")
@click.option("--json", "as_json", is_flag=True, help="One JSON document instead of a page.")
@click.pass_obj
def lookalikes(terminal: Terminal, code: str, crew: bool, limit: int, as_json: bool) -> None:
    """The records that look like one, what a crew must do differently, and the sights that tell them apart.

    CODE is the record's code, in capitals or not, with or without its hyphen.
    """
    from catalog.cli.pages.lookalikes import lookalike_lines
    from catalog.services.lookalikes import find_lookalikes

    found = find_lookalikes(terminal.house, code, observer="crew" if crew else "caller", limit=limit)
    if as_json:
        from schemas.answers import with_cautions
        from schemas.fact_answers import LookalikesAnswer

        terminal.show_json(with_cautions(LookalikesAnswer, found, terminal.cautions(found.edition)))
        return
    terminal.show([*terminal.masthead(found.edition), *lookalike_lines(found, terminal.paper)])
