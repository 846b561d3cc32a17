"""chockbook record: one record as it stood in an edition."""

import click

from catalog.cli.terminal import Terminal


@click.command(short_help="The emergency data of one record.")
@click.argument("code")
@click.option("--edition", type=click.IntRange(min=1), help="As it stood in this edition; left out, the newest.")
@click.option("--order", type=click.Choice(["iso17840-3"]), help="Sections in the order of that guide template.")
@click.option("--json", "as_json", is_flag=True, help="One JSON document instead of a page.")
@click.pass_obj
def record(terminal: Terminal, code: str, edition: int | None, order: str | None, as_json: bool) -> None:
    """The emergency data of one record, in the order a crew needs it.

    CODE is the record's code, in capitals or not, with or without its hyphen.
    """
    from catalog.cli.pages.record import record_lines
    from catalog.services.records import read_record

    view = read_record(terminal.house, code, edition=edition)
    if as_json:
        from schemas.answers import record_document

        told = terminal.cautions(view.edition)
        refusal = (f"DO NOT USE this record: {view.withdrawn}",) if view.withdrawn else ()
        terminal.show_json(record_document(view, (*refusal, *told)))
        return
    terminal.show([*terminal.masthead(view.edition), *record_lines(view, terminal.paper, order or "")])
