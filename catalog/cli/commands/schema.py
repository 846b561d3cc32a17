"""chockbook schema: the JSON Schema of the record document."""

import click

from catalog.cli.terminal import Terminal


@click.command(short_help="The JSON Schema of the record document.")
@click.pass_obj
def schema(terminal: Terminal) -> None:
    """The JSON Schema (2020-12) of the record document."""
    from schemas.record import record_json_schema

    terminal.show_json(record_json_schema())
