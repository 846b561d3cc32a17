"""chockbook verify: recompute every chain."""

import re

import click

from catalog.cli import exits
from catalog.cli.terminal import Terminal
from catalog.errors import BadInput


@click.command(short_help="Recompute every chain of the catalogue.")
@click.option("--expect", metavar="HASH", help="The newest edition's hash, as kept elsewhere.")
@click.pass_obj
def verify(terminal: Terminal, expect: str | None) -> int:
    """Recompute every chain of revisions and editions; name what does not hold.

    Exit status 1 when something does not hold. A whole catalogue swapped for another holds in
    itself: only a hash kept elsewhere and given with --expect shows that.
    """
    from catalog.cli.pages.editions import verified_lines
    from catalog.services.verifying import verify_catalogue

    if expect is not None and not re.fullmatch(r"[0-9a-fA-F]{64}", expect):
        raise BadInput("--expect is not an edition's hash.", cure="Give all 64 characters, 0-9 and a-f.")
    verified = verify_catalogue(terminal.house, expect=expect and expect.lower())
    terminal.show([*terminal.mark(), *verified_lines(verified, terminal.paper)])
    return exits.WRONG if verified.faults else exits.FINE
