"""Static files under an address that changes with their content, so a browser may keep them for good."""

import hashlib
from dataclasses import dataclass
from pathlib import Path

FOLDER = Path(__file__).parent / "static"


@dataclass(frozen=True, slots=True)
class Assets:
    """The static files of this build. version: first 12 hex digits of the hash over all of them.

    One version for all, because modules and style sheets name each other by relative paths.
    """

    version: str
    names: frozenset[str]

    def path(self, name: str) -> str:
        """The address of a file. Raises KeyError for a name that is not there."""
        if name not in self.names:
            raise KeyError(f"{name} is not among the static files")
        return f"/assets/{self.version}/{name}"


def read_assets(folder: Path = FOLDER) -> Assets:
    """Hash every file of the folder, names included."""
    digest, names = hashlib.sha256(), []
    for path in sorted(folder.rglob("*")):
        if path.is_file():
            name = path.relative_to(folder).as_posix()
            names.append(name)
            digest.update(name.encode() + b"\0" + path.read_bytes() + b"\0")
    return Assets(digest.hexdigest()[:12], frozenset(names))
