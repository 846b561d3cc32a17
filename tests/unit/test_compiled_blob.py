"""Blobs in several files: what they hold, and what a later edition shares with an earlier one."""

import os
from pathlib import Path

import pytest

from catalog.compiled import blob, files, manifest, open_edition
from catalog.compiled.blob import Blob, write_blob
from catalog.errors import IntegrityError
from tests.unit.compiled_sample import put

ITEMS = [(f"K{number}", b"x" * number) for number in range(7)]


@pytest.fixture(autouse=True)
def two_a_file(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(blob, "_PART", 2)


def held(folder: Path) -> dict[str, int]:
    return {path.name: path.stat().st_ino for path in folder.glob("bytes-*")}


@pytest.mark.parametrize("count", range(8))
def test_every_string_comes_back(tmp_path: Path, count: int) -> None:
    write_blob(tmp_path / "blob", ITEMS[:count])
    opened = Blob(tmp_path / "blob")
    assert [(key, opened[key]) for key in opened.keys] == ITEMS[:count]
    assert len(held(tmp_path / "blob")) == (count + 1) // 2


def test_files_that_would_be_equal_are_shared(tmp_path: Path) -> None:
    write_blob(tmp_path / "one", ITEMS)
    changed = [(key, b"other!" if key == "K5" else content) for key, content in ITEMS]
    write_blob(tmp_path / "two", changed, tmp_path / "one")
    one, two = held(tmp_path / "one"), held(tmp_path / "two")
    assert [name for name in one if one[name] != two[name]] == ["bytes-002.bin"]
    opened = Blob(tmp_path / "two")
    assert [(key, opened[key]) for key in opened.keys] == changed
    assert Blob(tmp_path / "one")["K5"] == b"xxxxx"


def test_a_key_that_comes_first_moves_the_others(tmp_path: Path) -> None:
    """Equal sizes alone are not equal content."""
    write_blob(tmp_path / "one", [(key, key.encode()) for key, _ in ITEMS])
    moved = [("K", b"K+"), *((key, key.encode()) for key, _ in ITEMS)]
    write_blob(tmp_path / "two", moved, tmp_path / "one")
    opened = Blob(tmp_path / "two")
    assert [(key, opened[key]) for key in opened.keys] == moved
    assert not set(held(tmp_path / "one").values()) & set(held(tmp_path / "two").values())


def test_what_an_edition_shares_is_read_once_by_a_process(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    one, two = put(tmp_path, 1), put(tmp_path, 2)
    shared = {path.stat().st_ino for path in one.rglob("*.bin")} & {path.stat().st_ino for path in two.rglob("*.bin")}
    assert shared
    read: list[int] = []

    def digest(path: Path) -> str:
        read.append(path.stat().st_ino)
        return files.digest(path)

    monkeypatch.setattr(manifest, "digest", digest)
    checked: dict[manifest.FileMark, str] = {}
    open_edition(one, checked)
    assert shared <= set(read)
    read.clear()
    open_edition(two, checked)
    assert read
    assert not shared & set(read)
    read.clear()
    open_edition(two)
    assert shared <= set(read)


def test_a_shared_file_that_was_written_to_is_found(tmp_path: Path) -> None:
    one, two = put(tmp_path, 1), put(tmp_path, 2)
    checked: dict[manifest.FileMark, str] = {}
    open_edition(one, checked)
    inodes = held(one / "sources").values()
    path = next(path for path in (two / "sources").glob("bytes-*") if path.stat().st_ino in inodes)
    before = path.stat().st_mtime_ns
    content = bytearray(path.read_bytes())
    content[0] ^= 1
    path.write_bytes(content)
    os.utime(path, ns=(before + 1, before + 1))  # a coarse clock could leave it as it was
    with pytest.raises(IntegrityError, match="was changed after it was written") as caught:
        open_edition(two, checked)
    assert str(path) in caught.value.message
