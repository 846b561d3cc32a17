"""chockbook shown: who was shown a fact."""

import click

from catalog.cli.acting import acting, as_option
from catalog.cli.terminal import Terminal


@click.command(short_help="Who was shown a fact: briefs, devices.")
@click.argument("code")
@click.argument("path")
@click.option("--edition", type=click.IntRange(min=1), help="As this edition says it; left out, the newest.")
@click.option("--tell", default="", metavar="WORDS", help="Tell the holders of these briefs; needs --edition.")
@as_option
@click.pass_obj
def shown(terminal: Terminal, code: str, path: str, edition: int | None, tell: str, as_name: str | None) -> None:
    """Which briefs rest on a fact as an edition says it, and which devices had such an edition."""
    from catalog.cli.pages.history import shown_lines
    from catalog.errors import BadInput
    from catalog.services.shown import Telling, tell_holders, who_was_shown

    by = acting(terminal, as_name)
    if tell:
        if edition is None:
            raise BadInput("It is not said which edition said it wrongly.", cure="Add --edition N.")
        tell_holders(terminal.house, by, Telling(code, path, tell, edition))
    view = who_was_shown(terminal.house, by, code, path, edition)
    terminal.show([*terminal.mark(), *shown_lines(view, terminal.paper)])
