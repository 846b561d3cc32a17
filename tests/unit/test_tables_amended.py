"""Tables amended for a few records are the tables built from every row."""

import json
import random
from dataclasses import replace
from functools import cache

import numpy as np

from catalog.domain.documents import record_from_document
from catalog.domain.doubt import said_at, without
from catalog.domain.record import Record
from catalog.resolve.rows import Entry, Row, row_of
from catalog.resolve.tables import Tables, tables_of
from catalog.resolve.tables_amended import RowChange, amended
from seed_demo.generator import generate


@cache
def of_60() -> tuple[dict[str, Record], dict[str, Row]]:
    """Records and their rows, by code."""
    records = {code: record_from_document(document) for code, document in dict(generate(60, 7)).items()}
    return records, {code: row_of(Entry(code, record)) for code, record in records.items()}


def plain(tables: Tables) -> tuple[object, ...]:
    arrays = {name: (array.dtype.str, array.tolist()) for name, array in tables.arrays.items()}
    return arrays, json.dumps(tables.meta, ensure_ascii=False)


def reopened(tables: Tables) -> Tables:
    """As a compiled edition gives them back."""
    return Tables(tables.arrays, json.loads(json.dumps(tables.meta)))


def test_doubts_one_after_the_other_and_taken_back() -> None:
    chosen = random.Random(3)
    first, records = of_60()[1], dict(of_60()[0])
    tables, rows = reopened(tables_of(first.values())), dict(first)
    differed = 0
    for _ in range(40):
        code = chosen.choice(sorted(records))
        paths = [path for path in records[code].facts if not path.startswith("looks.badges")]
        records[code] = without(records[code], chosen.choice(paths))
        new = row_of(Entry(code, records[code]))
        differed += new != rows[code]
        made = amended(tables, [RowChange(rows[code], new)])
        rows[code] = new
        assert made is not None
        assert plain(made) == plain(tables_of(rows.values()))
        tables = reopened(made)
    assert differed > 5
    back = [RowChange(rows[code], first[code]) for code in rows if rows[code] != first[code]]
    made = amended(tables, back)
    assert made is not None
    assert plain(made) == plain(tables_of(first.values()))


def test_a_name_that_changed_takes_building_anew() -> None:
    rows = of_60()[1]
    code = sorted(rows)[0]
    assert amended(tables_of(rows.values()), [RowChange(rows[code], replace(rows[code], make="other"))]) is None


def test_the_arrays_handed_in_stay_as_they_are() -> None:
    records, rows = of_60()
    tables = tables_of(rows.values())
    before = {name: array.copy() for name, array in tables.arrays.items()}
    code = next(code for code in sorted(records) if said_at(records[code], "looks.body"))
    new = row_of(Entry(code, without(records[code], "looks.body")))
    assert new != rows[code]
    amended(tables, [RowChange(rows[code], new)])
    assert all(np.array_equal(before[name], array) for name, array in tables.arrays.items())
