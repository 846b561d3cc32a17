"""The command `chockbook`, and `python -m catalog`."""

import os
import sys
from collections.abc import Sequence
from typing import Any

import click

from catalog import __version__
from catalog.cli import exits
from catalog.cli.commands.account import account
from catalog.cli.commands.brief import brief
from catalog.cli.commands.calibration import calibration
from catalog.cli.commands.demo import demo
from catalog.cli.commands.doubt import doubt, restore
from catalog.cli.commands.edition import edition
from catalog.cli.commands.export import export
from catalog.cli.commands.find import find
from catalog.cli.commands.history import history
from catalog.cli.commands.importing import import_
from catalog.cli.commands.lookalikes import lookalikes
from catalog.cli.commands.outcome import outcome
from catalog.cli.commands.read import read
from catalog.cli.commands.record import record
from catalog.cli.commands.resolve import resolve
from catalog.cli.commands.review import review
from catalog.cli.commands.sayings import sayings
from catalog.cli.commands.schema import schema
from catalog.cli.commands.serve import serve
from catalog.cli.commands.shown import shown
from catalog.cli.commands.sign_in import sign_in, sign_out
from catalog.cli.commands.source import source
from catalog.cli.commands.steps import steps
from catalog.cli.commands.token import token
from catalog.cli.commands.trail import trail
from catalog.cli.commands.unread import unread
from catalog.cli.commands.verify import verify
from catalog.cli.commands.watch import watch
from catalog.cli.commands.work import work
from catalog.cli.terminal import Terminal
from catalog.errors import ChockbookError

_EPILOG = "\b\nExit status:\n" + "\n".join(f"  {code:2}  {meaning}" for code, meaning in exits.MEANINGS)


class _Commands(click.Group):
    """Commands whose reader may stop reading: a closed pipe is no error."""

    def invoke(self, ctx: click.Context) -> Any:
        try:
            result = super().invoke(ctx)
            sys.stdout.flush()
        except BrokenPipeError:
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
            return exits.FINE
        return result


@click.group(
    cls=_Commands, epilog=_EPILOG, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80}
)
@click.version_option(__version__, message="chockbook %(version)s")
@click.pass_context
def chockbook(context: click.Context) -> None:
    """Vehicle emergency data for rescue crews, searched by half a description.

    Left and right are the vehicle's, seated facing forward. It supports and does not replace the
    maker's guide, local procedures and trained judgement.
    """
    context.call_on_close(context.ensure_object(Terminal).close)


for command in (
    demo, serve, resolve, read, steps, brief, record, lookalikes, find, edition, export, import_, schema, sayings,
    unread, verify, outcome, calibration, review, watch, sign_in, sign_out, account, token, trail,
    doubt, restore, shown, history, work, source,
):  # fmt: skip
    chockbook.add_command(command)


def main() -> None:
    """Run one command. Every error reads as what is wrong and what to do, never as a traceback."""
    sys.exit(run())


def run(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status. arguments: None for the process's own."""
    try:
        return chockbook.main(arguments, prog_name="chockbook", standalone_mode=False) or exits.FINE
    except ChockbookError as error:
        return _complain(exits.status_of(error), *exits.error_lines(error))
    except click.ClickException as error:
        error.show()
        return exits.NOT_UNDERSTOOD
    except click.Abort:
        return exits.STOPPED
    except OSError as error:
        return _complain(exits.UNAVAILABLE, f"{error.strerror}: {error.filename}", "Check that it is there, and yours.")
    except Exception as error:
        # A fault of ours. Whoever is to mend it wants the traceback; whoever met it does not.
        if os.environ.get("CHOCKBOOK_TRACE") == "yes":
            raise
        return _complain(
            exits.OUR_FAULT,
            f"Chockbook itself failed: {type(error).__name__}: {error}",
            "Report it with what the same command prints when CHOCKBOOK_TRACE=yes is set.",
        )


def _complain(status: int, *lines: str) -> int:
    for line in lines:
        click.echo(line, err=True)
    return status
