"""Nothing of a compiled edition is opened that is not exactly what was written."""

import json
import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from catalog.compiled import open_edition
from catalog.compiled.layout import ENGINE
from catalog.errors import IntegrityError, Unavailable
from tests.unit.compiled_sample import CODES, put


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return put(tmp_path)


def every_file(folder: Path) -> list[Path]:
    return sorted(path for path in folder.rglob("*") if path.is_file())


def flip(path: Path) -> None:
    content = bytearray(path.read_bytes())
    content[len(content) // 2] ^= 1
    path.write_bytes(content)


def grow(path: Path) -> None:
    path.write_bytes(path.read_bytes() + b"\n")


@pytest.mark.parametrize("harm", [flip, grow, Path.unlink])
def test_any_file_changed_by_a_bit_lengthened_or_removed_is_named(folder: Path, harm: Callable[[Path], None]) -> None:
    files = every_file(folder)
    assert len(files) > 12
    for path in files:
        kept = path.read_bytes()
        if not kept and harm is flip:
            continue
        harm(path)
        with pytest.raises(IntegrityError) as caught:
            open_edition(folder)
        assert str(path) in caught.value.message
        assert "chockbook demo --no-serve" in caught.value.cure
        path.write_bytes(kept)
        path.chmod(0o600)
    assert open_edition(folder).codes == CODES


def test_nothing_is_unpickled_before_the_check(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    flip(next((folder / "text" / "library").glob("*.toc")))

    def refuse(*_: object) -> None:
        raise AssertionError("a pickle was read")

    monkeypatch.setattr("pickle.load", refuse)
    monkeypatch.setattr("pickle.loads", refuse)
    with pytest.raises(IntegrityError):
        open_edition(folder)


def test_a_file_that_was_added_is_refused(folder: Path) -> None:
    (folder / "text" / "library" / "_MAIN_9.toc").write_bytes(b"")  # the library would open the newest
    with pytest.raises(IntegrityError, match=r"_MAIN_9\.toc is not in its manifest"):
        open_edition(folder)


def test_a_link_is_refused(folder: Path, tmp_path: Path) -> None:
    path = folder / "meta.json"
    path.rename(tmp_path / "elsewhere.json")
    path.symlink_to(tmp_path / "elsewhere.json")
    with pytest.raises(IntegrityError, match=r"meta\.json is not a plain file"):
        open_edition(folder)


def test_a_linked_folder_is_refused(folder: Path, tmp_path: Path) -> None:
    shutil.move(folder / "sources", tmp_path / "elsewhere")
    (folder / "sources").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(IntegrityError, match="sources"):
        open_edition(folder)


@pytest.mark.parametrize("place", ["", "text/library", "meta.json"])
def test_what_other_accounts_may_write_is_refused(folder: Path, place: str) -> None:
    path = folder / place
    path.chmod(path.stat().st_mode | 0o020)
    with pytest.raises(IntegrityError, match="may be written by other accounts"):
        open_edition(folder)


@pytest.mark.skipif(os.geteuid() != 0, reason="only root can give files away")
def test_another_account_s_file_is_refused(folder: Path) -> None:
    os.chown(folder / "meta.json", 12345, -1)
    with pytest.raises(IntegrityError, match="belongs to another account"):
        open_edition(folder)


def test_a_renamed_edition_is_refused(folder: Path) -> None:
    other = folder.rename(folder.with_name("2-000000000000"))
    with pytest.raises(IntegrityError, match="holds edition 1"):
        open_edition(other)


@pytest.mark.parametrize("text", ["", "{}", "[]", "nonsense", '{"seal": 1, "format": 1, "engine": "x"}'])
def test_a_manifest_that_is_none_is_refused(folder: Path, text: str) -> None:
    (folder / "manifest.json").write_text(text)
    with pytest.raises(IntegrityError, match=r"manifest\.json"):
        open_edition(folder)


def test_a_changed_manifest_is_refused(folder: Path) -> None:
    path = folder / "manifest.json"
    path.write_text(path.read_text().replace("A. Steward", "B. Steward"))
    with pytest.raises(IntegrityError, match=r"manifest\.json was changed"):
        open_edition(folder)


def test_another_version_s_edition_is_no_damage(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("catalog.compiled.manifest.ENGINE", "chockbook 99")
    with pytest.raises(Unavailable) as caught:
        open_edition(folder)
    assert ENGINE in caught.value.message
    assert "chockbook 99" in caught.value.message
    assert "chockbook demo --no-serve" in caught.value.cure


def test_another_version_s_edition_is_compiled_again(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for module in ("manifest", "building"):
        monkeypatch.setattr(f"catalog.compiled.{module}.FORMAT", 99)
    assert put(folder.parent.parent) == folder
    assert json.loads((folder / "manifest.json").read_text())["format"] == 99
    assert open_edition(folder).codes == CODES


def test_an_edition_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(IntegrityError, match="is missing"):
        open_edition(tmp_path / "1-000000000000")
