"""Serving on this machine: gunicorn with threads, the application built in each worker.

The listening socket is opened here, so that a port in use is said at once and the address that
is printed is the one that answers.
"""

import ipaddress
import os
import socket
from collections.abc import Callable
from dataclasses import dataclass

from catalog.config import Settings
from catalog.errors import BadInput, Conflict


@dataclass(frozen=True, slots=True)
class Serving:
    """ready: called with the address once a worker can answer. threads, workers: 1 or more."""

    settings: Settings
    host: str
    port: int
    threads: int
    workers: int
    ready: Callable[[str], None]


def is_loopback(host: str) -> bool:
    """Whether nobody but this machine reaches it."""
    try:
        return host == "localhost" or ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


def listen(host: str, port: int) -> socket.socket:
    """A listening socket. Raises Conflict when the port is taken, BadInput when it cannot be had."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    made = socket.socket(family, socket.SOCK_STREAM)
    made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        made.bind((host, port))
    except PermissionError as error:
        made.close()
        raise BadInput(f"Port {port} is not open to you.", cure="Choose one above 1023: --port 8466") from error
    except OSError as error:
        made.close()
        raise Conflict(
            f"{host} port {port} cannot be listened on: {error.strerror}.",
            cure="Something else may be using it (Chockbook itself, perhaps). Choose another: --port N",
        ) from error
    made.listen(128)
    return made


def address_of(listening: socket.socket) -> str:
    """The address to open: "http://127.0.0.1:8466"."""
    host, port = listening.getsockname()[:2]
    return f"http://[{host}]:{port}" if ":" in host else f"http://{host}:{port}"


def serve_until_stopped(serving: Serving) -> None:
    """Serve until interrupted. Ends by SystemExit, as gunicorn does."""
    # One thread for linear algebra a process: requests are the parallel part.
    for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
        os.environ.setdefault(name, "1")
    from catalog.cli.gunicorn_app import GunicornApp

    GunicornApp(serving, listen(serving.host, serving.port)).run()
