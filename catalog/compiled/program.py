"""Which program made an edition: what was derived by another one is never used again."""

import hashlib
from functools import cache
from pathlib import Path

import catalog

_READ = (".py", ".json")


@cache
def program() -> str:
    """SHA-256 over the package's own modules and tables, lower-case hex."""
    root = Path(catalog.__file__).parent
    running = hashlib.sha256()
    for path in sorted(path for path in root.rglob("*") if path.suffix in _READ):
        content = path.read_bytes()
        running.update(f"{path.relative_to(root).as_posix()} {len(content)}\n".encode())
        running.update(content)
    return running.hexdigest()
