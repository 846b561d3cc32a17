"""The search tables in parts: what changes together lies together."""

from collections.abc import Iterator, Mapping
from typing import Any

from catalog.device.bundle.part import Column, Part, table_part
from catalog.resolve.tables import Tables

# Of the meta, with the arrays that are numbered by it; what is not named here goes with the rest.
_TOGETHER: tuple[tuple[str, tuple[str, ...], tuple[str, ...]], ...] = (
    ("codes", ("codes",), ()),
    ("titles", ("titles",), ()),
    ("subtitles", ("subtitles",), ()),
    ("names", ("names", "novel_levels"), ("name_ptr", "name_ids")),
    ("prior", (), ("prior",)),
)
_LATER = ("signatures", "facts")


def table_parts(tables: Tables) -> Iterator[Part]:
    """Every array and all of the meta, each once, in an order that never changes."""
    arrays, meta = tables.arrays, tables.meta
    for key, said, held in _TOGETHER:
        yield table_part(key, [Column(name, arrays[name]) for name in held], [((name,), meta[name]) for name in said])
    for attribute, values in meta["signatures"].items():
        name = f"sig_{attribute}"
        yield table_part(name, [Column(name, arrays[name])], [(("signatures", attribute), values)])
    for row, (fact, told) in enumerate(meta["facts"].items()):
        column = Column("facts", arrays["facts"][row], row, len(arrays["facts"]))
        yield table_part(f"facts.{fact}", [column], [(("facts", fact), told)])
    yield _rest(arrays, meta)


def _rest(arrays: Mapping[str, Any], meta: Mapping[str, Any]) -> Part:
    """What stands of doubts and of records that must not be used, and whatever comes to the tables in time."""
    said = {name for _, names, _ in _TOGETHER for name in names} | set(_LATER)
    held = {name for _, _, names in _TOGETHER for name in names} | {"facts"} | {f"sig_{a}" for a in meta["signatures"]}
    columns = [Column(name, values) for name, values in arrays.items() if name not in held]
    return table_part("rest", columns, [((name,), value) for name, value in meta.items() if name not in said])
