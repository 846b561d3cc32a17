"""The engine as the phone gets it: which rooms are translated, what is written by hand, which tables go with it."""

from functools import cache
from pathlib import Path

from catalog.device.translate import Instead, Unit, bundle

ROOT = Path(__file__).parents[2]
ENTRIES = (
    "catalog.device.phone.asked",
    "catalog.device.phone.drawn",
    "catalog.device.phone.facts",
    "catalog.device.phone.record",
    "catalog.device.phone.search",
    "catalog.device.phone.slip",
    "catalog.domain.documents",
    "catalog.domain.doubt",
    "catalog.domain.folding",
    "catalog.draw.close_up",
    "catalog.draw.connectors",
    "catalog.draw.sketch",
    "catalog.draw.strip",
    "catalog.draw.svg",
    "catalog.plan.brief",
    "catalog.plan.several",
    "catalog.plan.site",
    "catalog.plan.steps",
    "catalog.resolve.answering.alike",
    "catalog.resolve.fact_chances",
    "catalog.resolve.posterior",
    "catalog.resolve.reading.reader",
)
# Kept in another way on a phone, or made where the bundle is made.
NATIVE = {
    "catalog.resolve.deletions": "deletions.js",
    "catalog.resolve.parameters": "parameters.js",
    "catalog.resolve.tables": "tables.js",
}
# Of what is translated otherwise, what would take a phone seconds.
INSTEAD = {
    "catalog.resolve.reading.phrases": Instead(
        "phrases.js", ("_tables",), ("_steps", "rows", "part_rows", "_singular", "_expanded")
    ),
}
FOLDERS = (
    "catalog/domain/data",
    "catalog/draw/data",
    "catalog/plan/data",
    "catalog/resolve/questions/data",
    "catalog/resolve/reading/data",
)


@cache
def engine() -> Unit:
    """Script and tables. Raises NotTranslatable, naming file and line."""
    return bundle(ROOT, ENTRIES, NATIVE, FOLDERS, INSTEAD)
