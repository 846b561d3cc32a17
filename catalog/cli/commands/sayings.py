"""chockbook sayings: what people say, and what it is read as."""

import click

from catalog.cli.terminal import Terminal


@click.command(short_help="What people say, and what it is read as.")
@click.argument("words", nargs=-1)
@click.option("--about", default="", metavar="ATTRIBUTE", help="Only what says something about this.")
@click.option("--json", "as_json", is_flag=True, help="One JSON document instead of a page.")
@click.pass_obj
def sayings(terminal: Terminal, words: tuple[str, ...], about: str, as_json: bool) -> None:
    """The reader's tables as the newest edition lists them: all that hold WORDS, or a count of what there is."""
    from catalog.cli.pages.sayings import saying_lines
    from catalog.services.sayings import list_sayings

    found = list_sayings(terminal.house, about, " ".join(words))
    if as_json:
        from catalog.services.compiling import edition_view
        from schemas.answers import with_cautions
        from schemas.cue_answers import SayingsAnswer

        told = terminal.cautions(edition_view(terminal.house.shelf.current()))
        terminal.show_json(with_cautions(SayingsAnswer, found, told))
        return
    terminal.show([*terminal.mark(), *saying_lines(found, terminal.paper, asked=bool(words or about))])
