"""The engine as the phone gets it: which rooms are translated, what is written by hand, which tables go with it."""

from functools import cache
from pathlib import Path

from catalog.device.translate import Unit, bundle

ROOT = Path(__file__).parents[2]
ENTRIES = (
    "catalog.domain.documents",
    "catalog.domain.folding",
    "catalog.plan.several",
    "catalog.plan.steps",
    "catalog.resolve.reading.reader",
)
# Rows of numbers are kept in another way on a phone.
NATIVE = {"catalog.resolve.deletions": "deletions.js"}
FOLDERS = ("catalog/domain/data", "catalog/plan/data", "catalog/resolve/reading/data")


@cache
def engine() -> Unit:
    """Script and tables. Raises NotTranslatable, naming file and line."""
    return bundle(ROOT, ENTRIES, NATIVE, FOLDERS)
