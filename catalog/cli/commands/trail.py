"""chockbook trail: who did what."""

import json
import re

import click

from catalog.cli import exits
from catalog.cli.acting import acting, as_option
from catalog.cli.terminal import Terminal
from catalog.errors import BadInput


@click.command(short_help="Who did what, and whether the trail still holds.")
@click.option("--person", default="", metavar="NAME", help="Only of this account.")
@click.option("--action", default="", help="Only this action.")
@click.option("--day", default="", metavar="DAY", help="Only this day (UTC), such as 2026-11-26.")
@click.option("--limit", type=click.IntRange(1, 1000), default=20, show_default=True, help="The newest so many.")
@click.option("--json", "as_json", is_flag=True, help="All of it from the first on, one JSON document a line.")
@click.option("--verify", is_flag=True, help="Recompute the chain; needs no name.")
@click.option("--expect", metavar="HASH", help="With --verify: an entry's hash, as kept elsewhere.")
@as_option
@click.pass_obj
def trail(
    terminal: Terminal,
    person: str,
    action: str,
    day: str,
    limit: int,
    as_json: bool,
    verify: bool,
    expect: str | None,
    as_name: str | None,
) -> int:
    """The trail of who did what, the newest first. Administrators and approvers read it.

    Exit status 1 where --verify finds that something does not hold.
    """
    from catalog.cli.pages.people import trail_fault_lines, trail_lines
    from catalog.services.trail import TrailAsked, check_trail, export_trail, read_trail

    if verify or expect:
        if expect is not None and not re.fullmatch(r"[0-9a-fA-F]{64}", expect):
            raise BadInput("--expect is not an entry's hash.", cure="Give all 64 characters, 0-9 and a-f.")
        faults = check_trail(terminal.house, expect or "")
        terminal.show([*terminal.mark(), *trail_fault_lines(faults, terminal.paper)])
        return exits.WRONG if faults else exits.FINE
    asked, by = TrailAsked(person, action, day), acting(terminal, as_name)
    if as_json:
        for document in export_trail(terminal.house, by, asked):
            click.echo(json.dumps(document, ensure_ascii=False, separators=(",", ":")))
        return exits.FINE
    terminal.show([*terminal.mark(), *trail_lines(read_trail(terminal.house, by, asked, size=limit), terminal.paper)])
    return exits.FINE
