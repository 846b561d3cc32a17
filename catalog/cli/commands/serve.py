"""chockbook serve: pages and API on this machine."""

import click

from catalog.cli.progress import step
from catalog.cli.server import Serving, check_loopback, serve_until_stopped
from catalog.cli.terminal import Terminal

PORT = 8466


@click.command(short_help="Serve the pages and the API.")
@click.option("--host", default="127.0.0.1", show_default=True, help="This machine only, until there are accounts.")
@click.option("--port", type=click.IntRange(0, 65535), default=PORT, show_default=True, help="0 takes a free one.")
@click.option("--threads", type=click.IntRange(1, 64), default=8, show_default=True, help="Requests at once.")
@click.option("--workers", type=click.IntRange(1, 32), default=1, show_default=True, help="Processes.")
@click.pass_obj
def serve(terminal: Terminal, host: str, port: int, threads: int, workers: int) -> None:
    """Serve the pages and the API until interrupted (Ctrl-C)."""
    check_loopback(host)
    from catalog.services.following import bring_up

    # Said and done here, once, rather than by every worker; the engine is not carried across the fork.
    bring_up(terminal.house, step)
    terminal.house.engine.dispose()
    serve_until_stopped(Serving(terminal.settings, host, port, threads, workers, _ready))


def _ready(address: str) -> None:
    click.echo(f"Chockbook answers at {address}. Ctrl-C stops it.")
