"""chockbook serve: pages and API on this machine."""

import click

from catalog.cli.progress import step
from catalog.cli.server import Serving, is_loopback, serve_until_stopped
from catalog.cli.terminal import Terminal
from catalog.errors import BadInput

PORT = 8466


@click.command(short_help="Serve the pages and the API.")
@click.option("--host", default="127.0.0.1", show_default=True, help="Others only once there is an administrator.")
@click.option("--port", type=click.IntRange(0, 65535), default=PORT, show_default=True, help="0 takes a free one.")
@click.option("--threads", type=click.IntRange(1, 64), default=8, show_default=True, help="Requests at once.")
@click.option("--workers", type=click.IntRange(1, 32), default=1, show_default=True, help="Processes.")
@click.pass_obj
def serve(terminal: Terminal, host: str, port: int, threads: int, workers: int) -> None:
    """Serve the pages and the API until interrupted (Ctrl-C)."""
    if not is_loopback(host):
        _check_others(terminal, host)
    from catalog.services.following import bring_up

    # Said and done here, once, rather than by every worker; the engine is not carried across the fork.
    bring_up(terminal.house, step)
    terminal.house.engine.dispose()
    serve_until_stopped(Serving(terminal.settings, host, port, threads, workers, _ready))


def _check_others(terminal: Terminal, host: str) -> None:
    """Others may reach it once somebody decides who may do what. Raises BadInput."""
    from catalog.services.accounts import has_administrator

    if not has_administrator(terminal.house):
        raise BadInput(
            f"Others could reach {host}, and there is no administrator yet who says who may do what.",
            cure="Add one (chockbook account add NAME --role administrator), or listen on this machine only: "
            "--host 127.0.0.1",
        )
    if not terminal.settings.https:
        step(
            "Others can reach this without HTTPS: passwords and what crews read can be overheard and changed. Put an "
            "HTTPS proxy in front and set CHOCKBOOK_HTTPS=yes."
        )


def _ready(address: str) -> None:
    click.echo(f"Chockbook answers at {address}. Ctrl-C stops it.")
