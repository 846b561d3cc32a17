"""Keys of this host: random bytes in the data folder, readable by their owner only, made at first need."""

import os
import secrets
import tempfile
from pathlib import Path

from catalog.errors import Unavailable

BYTES = 32


def key_of(data: Path, name: str) -> bytes:
    """The key under this file name, made when there is none; every process gets the same one. Raises Unavailable."""
    try:
        return _kept(data, data / name)
    except OSError as error:
        raise Unavailable(
            f"The host's key cannot be kept in {data}: {error.strerror}.", cure="Make the folder writable."
        ) from error


def _kept(data: Path, path: Path) -> bytes:
    if not path.exists():
        data.mkdir(parents=True, exist_ok=True)
        handle, made = tempfile.mkstemp(dir=data)  # readable by its owner only
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(secrets.token_bytes(BYTES))
            os.link(made, path)
        except FileExistsError:  # another process was first
            pass
        finally:
            Path(made).unlink()
    return path.read_bytes()
