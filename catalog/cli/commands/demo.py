"""chockbook demo: the invented catalogue, ready to be tried."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

import click

from catalog.cli.commands.serve import PORT
from catalog.cli.progress import step
from catalog.cli.server import Serving, serve_until_stopped
from catalog.cli.terminal import Terminal
from catalog.domain.cautions import DEMO_MARK
from catalog.errors import Conflict

if TYPE_CHECKING:
    from catalog.services.demo_people import Handed

_TRY = (
    ("Dispatcher", "/desk", "type: white pickup, port left rear"),
    ("Responder", "/phone", "narrow the window to a phone, tap what you see, open a vehicle, answer fire and water"),
    ("Steward", "/steward", "see what edition 2 changed, and why"),
)


@click.command(short_help="Prepare and serve the invented demo catalogue.")
@click.option("--no-serve", is_flag=True, help="Only prepare the catalogue.")
@click.option("--passwords", is_flag=True, help="Only give the invented people new one-time passwords.")
@click.option("--port", type=click.IntRange(0, 65535), default=PORT, show_default=True, help="0 takes a free one.")
@click.pass_obj
def demo(terminal: Terminal, no_serve: bool, passwords: bool, port: int) -> None:
    """Prepare the invented demo catalogue, and serve it on this machine.

    Run again, it goes on with what is there: nothing is lost, nothing is published twice.
    """
    import seed_demo
    from catalog.services.demo_people import make_people, renew_people
    from catalog.services.seeding import prepare_demo
    from seed_demo.people import PEOPLE

    if not terminal.settings.demo:
        raise Conflict(
            "CHOCKBOOK_DEMO is no: this catalogue is for operations, and invented vehicles do not go into it.",
            cure="Unset it, and set CHOCKBOOK_DATA to another folder.",
        )
    if passwords:
        _hand_out(terminal, renew_people(terminal.house, PEOPLE))
        return
    prepare_demo(terminal.house, seed_demo.load(), step)
    click.echo(terminal.paper.heading(DEMO_MARK))
    click.echo(f"The demo catalogue is ready in {terminal.settings.data}")
    _hand_out(terminal, make_people(terminal.house, PEOPLE))
    if no_serve:
        return
    terminal.house.engine.dispose()
    serve_until_stopped(Serving(terminal.settings, "127.0.0.1", port, threads=8, workers=1, ready=_ready))


def _ready(address: str) -> None:
    tries = "\n".join(f"{who:<12}{address}{path}\n{'':<12}{trial}" for who, path, trial in _TRY)
    click.echo(f"\n{tries}\n\nCtrl-C stops it.")


def _hand_out(terminal: Terminal, handed: Sequence["Handed"]) -> None:
    """Passwords that are shown once; nothing where none were made."""
    if not handed:
        return
    lines = [f"  {one.name:<14}{one.role:<15}{one.password}" for one in handed]
    told = "Invented people to sign in as, with a password each for one use. New ones: chockbook demo --passwords"
    terminal.show(["", *terminal.paper.wrap(told), *lines])
