"""An edition in parts: everything is in them once, equal input gives equal names, a small change changes few."""

import copy
import gzip
import hashlib
import json
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from catalog.compiled import Compiled
from catalog.device.bundle import FORMAT, Bundle, BundleShelf, Given, make
from catalog.device.bundle.chunks import LEAST, MOST, chunks
from catalog.resolve.parameters import shipped
from seed_demo.generator import generate, sources
from tests.device_editions import Documents, compiled

COUNT, SEED = 60, 8
SITE = {"driving_side": "left", "unlisted_rate": 0.12, "zone": "UTC", "demo": True, "local_steps": None, "notice": ""}


def bundle(edition: Compiled) -> Bundle:
    return make(Given(edition, edition.tables, shipped(), SITE))


@pytest.fixture(scope="module")
def records() -> Documents:
    return dict(generate(COUNT, SEED))


@pytest.fixture(scope="module")
def cited() -> Documents:
    return dict(sources(COUNT, SEED))


@pytest.fixture(scope="module")
def edition(tmp_path_factory: pytest.TempPathFactory, records: Documents, cited: Documents) -> Compiled:
    return compiled(tmp_path_factory.mktemp("first"), 1, records, cited)


def read(content: bytes) -> tuple[list[tuple[dict[str, Any], NDArray[Any]]], list[tuple[list[str], Any]]]:
    """A part of the tables as a phone reads it."""
    line, _, data = content.partition(b"\n")
    head = json.loads(line)
    columns = [
        (each, np.frombuffer(data, np.dtype(each["type"]), int(np.prod(each["shape"])), each["at"]))
        for each in head["arrays"]
    ]
    return columns, head["meta"]


def test_every_number_and_all_of_the_meta_is_in_the_parts_in_its_own_kind(edition: Compiled) -> None:
    arrays: dict[str, NDArray[Any]] = {}
    rows: dict[int, NDArray[Any]] = {}
    meta: dict[str, Any] = {}
    for part in bundle(edition).parts:
        if part.use != "tables":
            continue
        columns, said = read(part.content)
        for head, values in columns:
            if "rows" in head:
                rows[head["row"]] = values
            else:
                arrays[head["name"]] = values
        for path, value in said:
            (meta.setdefault(path[0], {}) if len(path) == 2 else meta)[path[-1]] = value
    arrays["facts"] = np.stack([rows[row] for row in sorted(rows)])
    assert meta == edition.tables.meta
    assert arrays.keys() == edition.tables.arrays.keys()
    for name, values in edition.tables.arrays.items():
        assert arrays[name].dtype == values.dtype, name
        np.testing.assert_array_equal(arrays[name], values)


def test_every_record_and_source_is_in_one_chunk(edition: Compiled, records: Documents, cited: Documents) -> None:
    found: dict[str, dict[str, Any]] = {"records": {}, "sources": {}}
    for part in bundle(edition).parts:
        if part.use in found:
            held = json.loads(part.content)
            assert min(held) == part.key
            assert not held.keys() & found[part.use].keys()
            found[part.use].update(held)
    assert {code: each["document"] for code, each in found["records"].items()} == records
    plain = {key: {name: value for name, value in each.items() if name != "sections"} for key, each in cited.items()}
    assert found["sources"] == plain


def test_a_name_is_the_sum_of_what_it_names_and_the_listing_names_all(edition: Compiled) -> None:
    made = bundle(edition)
    for part in made.parts:
        assert part.name == hashlib.sha256(part.content).hexdigest()
    listed = json.loads(made.listing.content)
    assert listed["format"] == FORMAT
    assert [row[2] for row in listed["parts"]] == [part.name for part in made.parts[:-1]]
    assert made.parts[-1] is made.listing
    assert [part.name for part in bundle(edition).parts] == [part.name for part in made.parts]


def test_one_record_changed_changes_its_chunk_and_a_few_columns(
    tmp_path: Path, edition: Compiled, records: Documents, cited: Documents
) -> None:
    changed = copy.deepcopy(dict(records))
    code = sorted(changed)[COUNT // 2]
    changed[code]["identity"]["years"]["from"] -= 1
    before = {part.name for part in bundle(edition).parts}
    fresh = [part for part in bundle(compiled(tmp_path, 2, changed, cited)).parts if part.name not in before]
    assert [part.use for part in fresh].count("records") == 1
    assert {part.key for part in fresh if part.use == "tables"} <= {"sig_years", "subtitles", "titles", "sig_vin"}


def lengths(keys: Iterable[str]) -> list[int]:
    return [len(json.loads(part.content)) for part in chunks("records", ((key, b"{}") for key in keys))]


def test_chunks_stay_where_a_key_comes_or_goes() -> None:
    keys = [f"K{number:05}" for number in range(2000)]
    counted = lengths(keys)
    assert sum(counted) == len(keys)
    assert all(LEAST <= count <= MOST for count in counted[:-1])
    whole = {part.content for part in chunks("records", ((key, b"{}") for key in keys))}
    for gone in (0, 7, 999, 1998):
        rest = chunks("records", ((key, b"{}") for key in keys[:gone] + keys[gone + 1 :]))
        assert sum(part.content not in whole for part in rest) <= 4


def test_the_shelf_packs_gives_and_drops(tmp_path: Path, edition: Compiled) -> None:
    shelf, made = BundleShelf(tmp_path / "phone"), bundle(edition)
    sizes = shelf.keep(made)
    for part in made.parts:
        packed = shelf.packed(part.name)
        assert packed is not None
        assert gzip.decompress(packed) == part.content
        assert sizes[part.name] == len(packed)
    assert shelf.packed("../LOCK") is None
    assert shelf.packed("0" * 64) is None
    for number in range(4):
        shelf.keep(make(Given(edition, edition.tables, shipped(), {**SITE, "zone": f"Z{number}"})))
    assert shelf.packed(made.listing.name) is None
    # What later bundles still need stays.
    assert shelf.packed(next(part.name for part in made.parts if part.use == "records")) is not None
