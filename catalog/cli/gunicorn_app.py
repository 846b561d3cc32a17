"""gunicorn, told what to do by a `Serving` instead of a file or a command line."""

import socket
from collections.abc import Callable
from typing import Any

from gunicorn.app.base import BaseApplication  # type: ignore[import-untyped]

from catalog.cli.server import Serving, address_of


class GunicornApp(BaseApplication):  # type: ignore[misc]
    """listening: an open socket; gunicorn takes it over. Engines are created in the worker, after the fork."""

    def __init__(self, serving: Serving, listening: socket.socket) -> None:
        self.serving = serving
        self.address = address_of(listening)
        self.descriptor = listening.detach()
        super().__init__()

    def load_config(self) -> None:
        for name, value in self._options().items():
            self.cfg.set(name, value)

    def load(self) -> Callable[..., Any]:
        from catalog.app import create_serving_app

        return create_serving_app(self.serving.settings)

    def _options(self) -> dict[str, Any]:
        return {
            "bind": f"fd://{self.descriptor}",
            "worker_class": "gthread",
            "workers": self.serving.workers,
            "threads": self.serving.threads,
            "graceful_timeout": 5,
            "loglevel": "warning",
            # No access log: addresses and query strings are nobody's business.
            "accesslog": None,
            "control_socket_disable": True,
            "post_worker_init": self._ready,
        }

    def _ready(self, worker: Any) -> None:
        if worker.age == 1:
            self.serving.ready(self.address)
