"""chockbook history: of a record, or of one fact of it."""

import click

from catalog.cli.terminal import Terminal


@click.command(short_help="Who changed a record, or one fact of it, when and why.")
@click.argument("code")
@click.argument("path", required=False)
@click.pass_obj
def history(terminal: Terminal, code: str, path: str | None) -> None:
    """The revisions of a record, newest first; with PATH what one fact said, and from which guide page.

    PATH names a fact as the differences do: ports[a].place; a whole item: ports[a].
    """
    from catalog.cli.pages.history import fact_history_lines, history_lines
    from catalog.services.fact_history import fact_history
    from catalog.services.records import record_history

    if path is None:
        lines = history_lines(record_history(terminal.house, code), terminal.paper)
    else:
        lines = fact_history_lines(fact_history(terminal.house, code, path), terminal.paper)
    terminal.show([*terminal.mark(), *lines])
