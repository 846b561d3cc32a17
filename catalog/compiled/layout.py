"""Where things lie under the folder of compiled editions, and what is said when they do not.

CURRENT                    name of the edition to answer from
LOCK                       held by the one builder of this host
building-XXXX/             an edition being written, or what a killed builder left
editions/3-0f9a6c27d1b4/   number and first 12 of the hash; immutable once it has its name
"""

import re
from pathlib import Path

from catalog import __version__
from catalog.errors import IntegrityError

# Raise when files change their meaning; an edition of another format or version is compiled anew.
FORMAT = 4
ENGINE = f"chockbook {__version__}"

CURRENT = "CURRENT"
LOCK = "LOCK"
BUILDING = "building-"
EDITIONS = "editions"
MANIFEST = "manifest.json"
ARRAYS = "arrays"
META = "meta.json"
RECORDS = "records"
REVISIONS = "revisions.json"
ROWS = "rows"
SOURCES = "sources"
TEXT = "text"

NAME = re.compile(r"([1-9][0-9]*)-[0-9a-f]{12}")
CURE = "Run `chockbook demo --no-serve` to compile it again; nothing is lost, the store keeps every edition."


def edition_name(number: int, digest: str) -> str:
    """ "3-0f9a6c27d1b4" """
    return f"{number}-{digest[:12]}"


def damaged(path: Path, why: str) -> IntegrityError:
    """What is raised when a file is not what was promised."""
    return IntegrityError(f"The compiled edition is damaged: {path} {why}.", cure=CURE)
