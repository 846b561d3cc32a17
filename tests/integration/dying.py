"""A process that kills itself on the way.

It is forked from one that has read all modules before: reading them takes longer than what is tested.
"""

import multiprocessing
import os
import signal
from collections.abc import Callable
from typing import Any

_FORKS = multiprocessing.get_context("forkserver")
_FORKS.set_forkserver_preload(["tests.integration.killed_publisher", "tests.integration.killed_importer"])


def die(*_: Any, **__: Any) -> None:
    os.kill(os.getpid(), signal.SIGKILL)


def before(module: Any, name: str) -> None:
    """Die instead of calling."""
    setattr(module, name, die)


def after(module: Any, name: str) -> None:
    """Die once it has returned."""
    real: Callable[..., Any] = getattr(module, name)

    def wrapped(*args: Any, **kwargs: Any) -> Any:
        real(*args, **kwargs)
        die()

    setattr(module, name, wrapped)


def killed(run: Callable[..., None], *arguments: str) -> None:
    """Fails unless a process that calls run(*arguments) is killed by itself."""
    process = _FORKS.Process(target=run, args=arguments)
    process.start()
    process.join(120)
    ended = process.exitcode
    process.kill()
    process.join()
    process.close()
    assert ended == -signal.SIGKILL, f"it ended with {ended}; what it said is on the standard error above"
