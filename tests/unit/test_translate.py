"""The translator: what it refuses it names. That what it makes means the same, tests/browser/test_parity.py asks."""

import re
from pathlib import Path

import pytest

from catalog.device import translate
from catalog.device.engine_made import engine
from catalog.device.translate import bundle
from catalog.device.translate.names import BUILT_IN, LIBRARY, METHODS
from catalog.device.translate.source import NotTranslatable


def made_of(folder: Path, source: str) -> str:
    room = folder / "catalog"
    room.mkdir()
    (room / "one.py").write_text(source, encoding="utf-8")
    return bundle(folder, ["catalog.one"], {}, []).script


@pytest.mark.parametrize(
    ("source", "said"),
    [
        ("def f(x):\n    with x:\n        pass\n", "one.py:2: With"),
        ("def f(x):\n    return (x for x in ()).send(1 if x else (yield))\n", "Yield"),
        ("def f(x):\n    return unknown_thing(x)\n", "the name unknown_thing"),
        ("def f(x):\n    return f'{x:>10}'\n", "a format"),
        ("def f(g):\n    return g(named=1)\n", "names of arguments"),
        ("X = 1j\n", "the constant 1j"),
    ],
)
def test_what_has_no_translation_is_named_with_its_place(tmp_path: Path, source: str, said: str) -> None:
    with pytest.raises(NotTranslatable, match=said):
        made_of(tmp_path, source)


def test_a_module_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(NotTranslatable, match=r"no module catalog\.two"):
        bundle(tmp_path, ["catalog.two"], {}, [])


def test_a_name_that_a_list_grows_under_keeps_its_list(tmp_path: Path) -> None:
    script = made_of(tmp_path, "def f():\n    a = []\n    b = a\n    b += [1]\n    return a\n")
    assert "py.m.extend(b, [1])" in script


def test_what_the_translator_lets_through_the_runtime_has() -> None:
    runtime = (Path(translate.__file__).parents[1] / "engine" / "py.js").read_text(encoding="utf-8")
    table = runtime[runtime.index("const m = {") : runtime.index("py.m = ")]
    assert set(re.findall(r"^    (\w+): ", table, flags=re.MULTILINE)) == METHODS
    had = set(re.findall(r"^  py\.(\w+) = ", runtime, flags=re.MULTILINE))
    written_out = {"isinstance"}
    assert BUILT_IN - had == written_out
    assert {name for names in LIBRARY.values() for name in names} <= had


def test_the_engine_depends_on_nothing() -> None:
    unit = engine()
    assert "import " not in "".join(line for line in unit.script.splitlines() if line.startswith("import"))
    assert "require(" not in unit.script
    assert all(path.startswith("catalog/") for path in unit.files)


def test_every_function_of_rows_that_is_used_is_there() -> None:
    rows = (Path(translate.__file__).parents[1] / "engine" / "np.js").read_text(encoding="utf-8")
    kinds = set(re.findall(r'"(\w+)"', rows[rows.index("for (const kind of [") :].partition("]")[0]))
    had = set(re.findall(r"\bnp\.(\w+) = ", rows)) | kinds | {"Rows", "ops"}
    used = set(re.findall(r"\bnp\.(\w+)", engine().script)) - {"js"}  # the file's own name, in a comment
    assert len(used) > 20
    assert used <= had


def test_what_is_gathered_in_a_loop_has_a_name_of_its_own(tmp_path: Path) -> None:
    script = made_of(tmp_path, "def f(rows):\n    return [r + 1 for r in rows]\n")
    assert "$r.push" in script


def test_a_name_of_another_library_is_refused(tmp_path: Path) -> None:
    with pytest.raises(NotTranslatable, match="islice of itertools"):
        made_of(tmp_path, "from itertools import islice\n\n\ndef f(x):\n    return islice(x, 2)\n")


def test_functions_written_by_hand_stand_in_for_what_they_make_needless(tmp_path: Path) -> None:
    assert "const phraseRows" in engine().script
    assert "part_rows" not in engine().script.replace("part_rows.json", "")
