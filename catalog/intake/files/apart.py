"""A process of its own for a file nobody has checked: so much memory, time and output, and nothing of ours in reach."""

import resource
import signal
import subprocess
import sys
from pathlib import Path
from typing import BinaryIO

from catalog.intake.files.limits import Limits

TOO_MUCH = 7  # the status it ends with when what it read does not fit

_ROOT = Path(__file__).parents[3]
_START = (
    f"import sys; sys.path.insert(0, {str(_ROOT)!r}); from importlib import import_module; "
    "import_module(sys.argv[1]).main(sys.argv[2])"
)


def run_apart(module: str, asked: str, files: tuple[BinaryIO, BinaryIO], limits: Limits) -> str:
    """Run `module.main(asked)` with files as its standard input and output. Returns how it ended: "" well, else words.

    module: of this room; it calls `confine` before it reads anything.
    """
    # -I: nothing of the folder it runs in or of the environment is imported. Its own session, so that all of it ends.
    process = subprocess.Popen(  # noqa: S603
        [sys.executable, "-I", "-c", _START, module, asked],
        stdin=files[0],
        stdout=files[1],
        stderr=subprocess.DEVNULL,
        env={},
        start_new_session=True,
    )
    try:
        status = process.wait(limits.wall)
    except subprocess.TimeoutExpired:
        return f"took longer than {limits.wall} seconds"
    finally:
        if process.poll() is None:
            process.kill()
            process.wait()
    if status == -signal.SIGKILL:
        return "the machine stopped reading, for want of memory"
    if status == -signal.SIGXCPU:
        return f"took longer than {limits.processor} seconds of work"
    if status == TOO_MUCH:
        return "holds more than may be read of one file"
    return "" if status == 0 else "made the program that reads it fall over"


def confine(limits: Limits) -> None:
    """From here on this process has so much memory, processor time and output, no dump of memory, no other process."""
    for what, most in (
        (resource.RLIMIT_AS, limits.memory),
        (resource.RLIMIT_CPU, limits.processor),
        (resource.RLIMIT_FSIZE, limits.output),
        (resource.RLIMIT_CORE, 0),
    ):
        _, hard = resource.getrlimit(what)
        most = most if hard == resource.RLIM_INFINITY else min(most, hard)
        # A second more for the processor's hard limit: at the soft one the process ends with a signal of its own.
        resource.setrlimit(what, (most, most + 1 if what == resource.RLIMIT_CPU and most != hard else most))
