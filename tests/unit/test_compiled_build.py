"""Building a compiled edition: what is written, what a killed builder leaves, what is kept."""

import fcntl
import importlib
import json
import multiprocessing
import os
import shutil
import signal
import stat
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from catalog.compiled import Compiled, EditionInput, RecordInput, Shelf, build, building, files, open_edition
from catalog.errors import NotFound, Unavailable
from catalog.resolve.tables import Tables
from catalog.search.port import TextDocument
from tests.unit.compiled_sample import CODES, FIRST, name_of, plain, put, sample, tables


def editions(root: Path) -> list[str]:
    return sorted(path.name for path in (root / "editions").iterdir())


def test_what_was_handed_in_comes_back(tmp_path: Path) -> None:
    edition = sample(3)
    opened = open_edition(build(tmp_path, lambda _: edition))
    assert (opened.number, opened.hash, opened.author, opened.reason) == (
        3,
        edition.hash,
        "A. Steward",
        "a cut point moved – checked",
    )
    assert opened.published_at == datetime(1970, 1, 1, tzinfo=UTC) + timedelta(microseconds=FIRST + 3)
    assert opened.codes == CODES
    for code, revision, seq, content in edition.records:
        assert opened.record_bytes(code) == content
        assert opened.revision(code) == (revision, seq)
    assert opened.source_keys == ("ZZT-11/1", "ZZT-12/3")
    assert opened.source_bytes("ZZT-12/3") == b'{"k":2}'
    assert opened.source_bytes("ZZT-11/1") == b""


def test_tables_come_back_equal_and_read_only(tmp_path: Path) -> None:
    given = tables()
    opened = open_edition(put(tmp_path)).tables
    assert opened.meta == plain(given.meta)
    assert opened.arrays.keys() == given.arrays.keys()
    for name, array in given.arrays.items():
        assert opened.arrays[name].dtype == array.dtype
        assert np.array_equal(opened.arrays[name], array)
    with pytest.raises(ValueError, match="read-only"):
        opened.arrays["prior"][0] = 1.0


def test_the_text_index_is_of_this_edition(tmp_path: Path) -> None:
    opened = open_edition(put(tmp_path, 2))
    assert opened.text.find("edition2", 10)[0] == 3
    assert opened.text.find("edition1", 10)[0] == 0


def test_what_is_not_in_the_edition_is_named(tmp_path: Path) -> None:
    opened = open_edition(put(tmp_path))
    with pytest.raises(NotFound, match="Edition 1 has no record QQQ-QQQ"):
        opened.record_bytes("QQQ-QQQ")
    with pytest.raises(NotFound, match="Edition 1 has no record QQQ-QQQ"):
        opened.revision("QQQ-QQQ")
    with pytest.raises(NotFound, match="Edition 1 has no source ZZT-99/1"):
        opened.source_bytes("ZZT-99/1")


def test_an_empty_edition_opens(tmp_path: Path) -> None:
    nothing = Tables({"prior": np.zeros(0)}, {"codes": []})
    opened = open_edition(put(tmp_path, records=[], sources=[], texts=[], tables=nothing))
    assert opened.codes == ()
    assert opened.tables.arrays["prior"].shape == (0,)
    assert opened.text.find("cut", 5) == (0, ())


def test_only_the_owner_can_look_in_whatever_the_umask(tmp_path: Path) -> None:
    before = os.umask(0o002)
    try:
        folder = put(tmp_path / "compiled")
    finally:
        os.umask(before)
    places = [tmp_path / "compiled", *(tmp_path / "compiled").rglob("*")]
    assert len(places) > 15
    for path in places:
        assert stat.S_IMODE(path.stat().st_mode) == (0o700 if path.is_dir() else 0o600), path
    assert open_edition(folder).number == 1


def test_current_names_the_edition(tmp_path: Path) -> None:
    folder = put(tmp_path)
    assert folder == tmp_path / "editions" / name_of(sample())
    assert (tmp_path / "CURRENT").read_text() == f"{folder.name}\n"


def test_the_manifest_covers_every_file(tmp_path: Path) -> None:
    folder = put(tmp_path)
    manifest = json.loads((folder / "manifest.json").read_text())
    on_disk = {path.relative_to(folder).as_posix(): path.stat().st_size for path in folder.rglob("*") if path.is_file()}
    del on_disk["manifest.json"]
    assert {name: size for name, (size, _) in manifest["files"].items()} == on_disk
    assert (manifest["format"], manifest["engine"], manifest["number"]) == (4, "chockbook 0.1.0", 1)


def test_two_builds_agree_but_for_the_library_s_own_files(tmp_path: Path) -> None:
    """Table hashes must agree between hosts, whatever order things were handed in."""
    edition = sample()
    turned = sample(records=list(edition.records)[::-1], sources=list(edition.sources)[::-1])
    one, two = build(tmp_path / "one", lambda _: edition), build(tmp_path / "two", lambda _: turned)
    assert open_edition(one).tables_hash == open_edition(two).tables_hash
    promised = [json.loads((folder / "manifest.json").read_text()) for folder in (one, two)]
    assert promised[0]["inputs"] == promised[1]["inputs"]
    steady = [name for name in promised[0]["files"] if not name.startswith("text/library/")]
    assert len(steady) > 12
    for name in steady:
        assert promised[0]["files"][name] == promised[1]["files"][name]


def test_other_tables_have_another_hash(tmp_path: Path) -> None:
    one = open_edition(put(tmp_path / "one"))
    two = open_edition(put(tmp_path / "two", tables=tables(2)))
    assert one.tables_hash != two.tables_hash


def test_the_same_edition_is_not_built_twice(tmp_path: Path) -> None:
    folder = put(tmp_path)
    before = (folder / "manifest.json").stat().st_mtime_ns
    assert put(tmp_path) == folder
    assert (folder / "manifest.json").stat().st_mtime_ns == before


CHANGED: dict[str, dict[str, Any]] = {
    "tables": {"tables": tables(2)},
    "text": {"texts": [TextDocument("record", CODES[0], "Ostrel", None, "Other words.")]},
    "record": {"records": [RecordInput(CODES[0], "f" * 64, 1, b"{}")]},
    "source": {"sources": [("ZZT-11/1", b"{}")]},
    "reason": {"reason": "other"},
}


@pytest.mark.parametrize("what", CHANGED)
def test_the_same_edition_from_other_input_is_built_again(tmp_path: Path, what: str) -> None:
    """As after the product changed how it makes tables."""
    folder = put(tmp_path)
    before = (folder / "manifest.json").read_bytes()
    assert put(tmp_path, **CHANGED[what]) == folder
    assert (folder / "manifest.json").read_bytes() != before
    assert open_edition(folder).number == 1
    assert editions(tmp_path) == [folder.name]


def test_a_damaged_edition_is_built_again(tmp_path: Path) -> None:
    folder = put(tmp_path)
    (folder / "records" / "bytes-000.bin").write_bytes(b"x")
    assert put(tmp_path) == folder
    assert open_edition(folder).codes == CODES


def test_the_current_edition_and_two_older_are_kept(tmp_path: Path) -> None:
    for number in range(1, 6):
        put(tmp_path, number)
    assert editions(tmp_path) == sorted(name_of(sample(number)) for number in (3, 4, 5))


def test_current_follows_the_store_back(tmp_path: Path) -> None:
    """As when an older store was put back from a backup."""
    put(tmp_path, 11)
    put(tmp_path, 12)
    folder = put(tmp_path, 9)
    assert Shelf(tmp_path).current().number == 9
    assert (tmp_path / "CURRENT").read_text().strip() == folder.name
    assert len(editions(tmp_path)) == 3


def test_the_newest_is_asked_for_once_the_lock_is_held(tmp_path: Path) -> None:
    """So that a builder that waited does not point back to what was newest before it waited."""

    def newest(_: object) -> EditionInput:
        handle = os.open(tmp_path / "LOCK", os.O_RDWR)
        try:
            with pytest.raises(BlockingIOError):
                fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        finally:
            os.close(handle)
        return sample()

    assert open_edition(build(tmp_path, newest)).number == 1


def test_nothing_published_changes_nothing(tmp_path: Path) -> None:
    put(tmp_path)

    def newest(_: object) -> EditionInput:
        raise Unavailable("Nothing has been published yet.")

    with pytest.raises(Unavailable):
        build(tmp_path, newest)
    assert Shelf(tmp_path).current().number == 1


@pytest.mark.parametrize("text", ["99-000000000000", "nonsense", "\udcff"])
def test_a_current_that_names_nothing_is_replaced(tmp_path: Path, text: str) -> None:
    (tmp_path / "CURRENT").write_bytes(text.encode(errors="surrogateescape"))
    folder = put(tmp_path)
    assert (tmp_path / "CURRENT").read_text().strip() == folder.name


@pytest.mark.parametrize(
    ("changed", "message"),
    [
        ({"records": [RecordInput(CODES[0], "a", 1, b"{}")] * 2}, "B3D-FGH is there twice"),
        ({"tables": Tables({"../up": np.zeros(1)}, {})}, "is no name for a table"),
        ({"tables": Tables({"things": np.array([{}], dtype=object)}, {})}, "Object arrays cannot be saved"),
        ({"tables": Tables({}, {"share": float("nan")})}, "not JSON compliant"),
    ],
)
def test_what_cannot_be_stored_leaves_nothing_behind(tmp_path: Path, changed: dict[str, Any], message: str) -> None:
    put(tmp_path, 1)
    before = sorted(tmp_path.rglob("*"))
    with pytest.raises(ValueError, match=message):
        put(tmp_path, 2, **changed)
    assert sorted(tmp_path.rglob("*")) == before
    assert Shelf(tmp_path).current().number == 1


# Every step at which a builder may be killed: module, name, which call of it.
STEPS = [
    ("catalog.compiled.building", "write_blob", 1),
    ("catalog.compiled.building", "write_tables", 1),
    ("catalog.compiled.building", "build_index", 1),
    ("catalog.compiled.building", "settle", 1),
    ("catalog.compiled.building", "write_manifest", 1),
    ("catalog.compiled.manifest", "replace_file", 1),
    ("os", "rename", 1),
    ("catalog.compiled.building", "flush_folder", 1),
    ("os", "replace", 2),  # the first puts the manifest in place, the second CURRENT
    ("catalog.compiled.building", "_prune", 1),
    ("shutil", "rmtree", 1),
]


@pytest.fixture(scope="module")
def three(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Editions 1 to 3, to be copied."""
    root = tmp_path_factory.mktemp("three")
    for number in (1, 2, 3):
        put(root, number)
    return root


def killed_at(root: Path, step: tuple[str, str, int], number: int) -> None:
    """Build in a child process that is killed just before a step."""
    child = os.fork()
    if child == 0:  # pragma: no cover - dies
        module, name, turn = step
        _die_before(module, name, turn)
        put(root, number)
        os._exit(0)
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status), f"the build never came to {step}"
    assert os.WTERMSIG(status) == signal.SIGKILL


def _die_before(module: str, name: str, turn: int) -> None:  # pragma: no cover - in the child
    place = importlib.import_module(module)
    real: Callable[..., Any] = getattr(place, name)
    calls = iter(range(1, 1000))

    def dying(*args: Any, **named: Any) -> Any:
        if next(calls) == turn:
            os.kill(os.getpid(), signal.SIGKILL)
        return real(*args, **named)

    setattr(place, name, dying)


@pytest.mark.parametrize("step", STEPS, ids=lambda step: f"{step[1]}-{step[2]}")
def test_a_builder_killed_at_any_step_does_no_harm(three: Path, tmp_path: Path, step: tuple[str, str, int]) -> None:
    shutil.copytree(three, tmp_path, dirs_exist_ok=True)
    killed_at(tmp_path, step, 4)
    seen = Shelf(tmp_path).current()
    assert seen.number == (4 if step[1] in ("_prune", "rmtree") else 3)
    assert seen.record_bytes(CODES[0]) == f'{{"code":"{CODES[0]}","n":{seen.number},"é":"ü"}}'.encode()
    put(tmp_path, 4)
    assert Shelf(tmp_path).current().number == 4
    assert sorted(path.name for path in tmp_path.iterdir()) == ["CURRENT", "LOCK", "editions"]
    assert len(editions(tmp_path)) == 3


def test_a_first_builder_killed_leaves_no_current_edition(tmp_path: Path) -> None:
    killed_at(tmp_path, ("catalog.compiled.building", "write_manifest", 1), 1)
    assert list(tmp_path.glob("building-*"))
    with pytest.raises(Unavailable, match="No edition"):
        Shelf(tmp_path).current()
    put(tmp_path)
    assert not list(tmp_path.glob("building-*"))
    assert Shelf(tmp_path).current().number == 1


def _build_and_tell(root: Path, number: int, told: Any) -> None:  # pragma: no cover - in the child
    folder = put(root, number)
    told.put((str(folder), (folder / "manifest.json").read_bytes()))


def test_two_builders_at_once_make_one_edition(tmp_path: Path) -> None:
    context = multiprocessing.get_context("spawn")
    told = context.Queue()
    with files.locked(_ready(tmp_path) / "LOCK"):
        builders = [context.Process(target=_build_and_tell, args=(tmp_path, 1, told)) for _ in range(2)]
        for builder in builders:
            builder.start()
        builders[0].join(0.5)
        assert told.empty()  # both wait for the lock
    answers = [told.get(timeout=60) for _ in builders]
    for builder in builders:
        builder.join(60)
        assert builder.exitcode == 0
    told.close()
    told.join_thread()
    assert answers[0] == answers[1]  # the second returned what the first had built
    assert Shelf(tmp_path).current().number == 1


def _ready(root: Path) -> Path:
    files.private_folder(root)
    return root


def _many(number: int, changed: int = -1) -> EditionInput:
    """Forty notes; in the one changed another word."""
    texts = [
        TextDocument("record", f"K{place:02}", "Ostrel", None, f"Cut loop {place}{' again' * (place == changed)}.")
        for place in range(40)
    ]
    return sample(number, texts=texts)


def test_what_an_earlier_edition_has_is_not_written_again(tmp_path: Path) -> None:
    """The same bytes as compiled afresh, but for the library's own files, and the same finds."""
    build(tmp_path / "one", lambda _: _many(1))
    handed: list[Compiled | None] = []

    def newest(earlier: Compiled | None) -> EditionInput:
        handed.append(earlier)
        return _many(2, changed=7)

    one, afresh = build(tmp_path / "one", newest), build(tmp_path / "two", lambda _: _many(2, changed=7))
    assert [each.number for each in handed if each] == [1]
    assert (one / "text" / "changes").exists()
    assert not (afresh / "text" / "changes").exists()
    promised = [json.loads((folder / "manifest.json").read_text()) for folder in (one, afresh)]
    assert promised[0]["inputs"] == promised[1]["inputs"]
    assert promised[0]["tables"] == promised[1]["tables"]
    files = [
        {name: what for name, what in each["files"].items() if name.split("/")[0] != "text" or "impacts" in name}
        for each in promised
    ]
    assert files[0] == files[1]
    found = [open_edition(folder).text.find("again loop", 50) for folder in (one, afresh)]
    assert found[0] == found[1]
    assert found[0][1][0].key == "K07"


@pytest.mark.parametrize("damage", ["another program", "a changed file", "none current"])
def test_an_earlier_edition_that_cannot_be_trusted_is_not_used(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, damage: str
) -> None:
    folder = build(tmp_path, lambda _: _many(1))
    if damage == "another program":
        monkeypatch.setattr(building, "program", lambda: "f" * 64)
    elif damage == "a changed file":
        path = next((folder / "text" / "library").iterdir())
        path.write_bytes(path.read_bytes() + b"x")
    else:
        (tmp_path / "CURRENT").unlink()
    handed: list[Compiled | None] = []

    def newest(earlier: Compiled | None) -> EditionInput:
        handed.append(earlier)
        return _many(2, changed=7)

    assert not (build(tmp_path, newest) / "text" / "changes").exists()
    assert handed == [None]
