"""What the documents show is what the commands print.

Every `$ chockbook ...` line of a fenced `console` block is run against the prepared demo; what
follows it must be its output. A line of three dots stands for any lines left out. A block after
`<!-- not run: reason -->` is left out, and the reason printed. Blocks after `<!-- own catalogue: names -->` are run
in a copy of the demo of their own, one after the other, with these of its people signed in.
"""

import re
import shlex
import shutil
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from catalog.cli.acting import keep
from catalog.cli.main import chockbook, run
from catalog.cli.terminal import Terminal
from catalog.services.accounts import change_password
from catalog.services.demo_people import make_people
from catalog.services.signing import TERMINAL, Tried, sign_in
from seed_demo.people import PEOPLE

ROOT = Path(__file__).parents[2]
DOCUMENTS = ("README.md", "DEVELOPERS.md")
_BLOCK = re.compile(
    r"(?:<!-- (?:not run: (?P<reason>.+?)|own catalogue: (?P<people>.+?)) -->\s*\n)?"
    r"```console\n(?P<text>.*?)^```",
    re.DOTALL | re.MULTILINE,
)


@dataclass(frozen=True, slots=True)
class Example:
    """A command as written, and the output shown below it."""

    where: str
    command: str
    shown: str
    people: tuple[str, ...] = ()


def examples(text: str, name: str) -> Iterator[Example]:
    """Every command of every block that is to be run."""
    for block in _BLOCK.finditer(text):
        line = text.count("\n", 0, block.start("text")) + 1
        if block["reason"]:
            print(f"{name}:{line}: not run: {block['reason']}")
            continue
        for part in re.split(r"^\$ ", block["text"], flags=re.MULTILINE)[1:]:
            command, _, shown = part.partition("\n")
            yield Example(f"{name}:{line}", command, shown, tuple((block["people"] or "").split()))


def matches(shown: str, printed: str) -> bool:
    """Whether the output is what is shown; a line of three dots stands for any lines."""
    pattern = "".join("(?:.*\n)*?" if line == "..." else re.escape(f"{line}\n") for line in shown.rstrip().splitlines())
    return re.fullmatch(pattern + r"\s*", printed) is not None


def documented() -> list[Example]:
    return [example for name in DOCUMENTS for example in examples((ROOT / name).read_text("utf-8"), name)]


def test_every_documented_command_prints_what_is_shown(
    demo_data: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("CHOCKBOOK_DATA", str(demo_data))
    monkeypatch.setattr("catalog.cli.progress._SILENT", 3600)  # a slow machine is told how far it is
    with capsys.disabled():
        found = [example for example in documented() if not example.people]
    assert found, "the documents show no command"
    run_all(found, capsys)


def test_every_walk_through_that_changes_the_catalogue_prints_what_is_shown(
    demo_data: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    data = Path(shutil.copytree(demo_data, tmp_path / "data"))
    monkeypatch.setenv("CHOCKBOOK_DATA", str(data))
    monkeypatch.setattr("catalog.cli.progress._SILENT", 3600)
    with capsys.disabled():
        found = [example for example in documented() if example.people]
        signed_in({name for example in found for name in example.people})
    assert found
    run_all(found, capsys)


def signed_in(names: set[str]) -> None:
    """The demo's people, these of them signed in on this host."""
    terminal = Terminal()
    for one in make_people(terminal.house, PEOPLE):
        if one.name in names:
            tried = Tried(one.name, one.password, "terminal", TERMINAL)
            change_password(terminal.house, tried, "lorries pass at a quarter to nine")
            signed = sign_in(terminal.house, replace(tried, password="lorries pass at a quarter to nine"))
            keep(terminal, signed.name, signed.secret)
    terminal.house.engine.dispose()


def run_all(found: list[Example], capsys: pytest.CaptureFixture[str]) -> None:
    for example in found:
        program, *arguments = shlex.split(example.command)
        assert program == "chockbook", f"{example.where}: mark this block: <!-- not run: reason -->"
        run(arguments)
        printed = "".join(capsys.readouterr())
        assert matches(example.shown, printed), f"{example.where}: $ {example.command}\n{printed}"


def test_every_command_is_documented() -> None:
    text = (ROOT / "README.md").read_text("utf-8")
    missing = [name for name in chockbook.commands if f"chockbook {name}" not in text]
    assert not missing


def test_every_setting_is_documented() -> None:
    source = (ROOT / "catalog/config.py").read_text("utf-8")
    names = set(re.findall(r'environ, "([A-Z_]+)"|_PREFIX\}([A-Z]+)', source))
    settings = {f"CHOCKBOOK_{''.join(pair)}" for pair in names}
    assert {"CHOCKBOOK_DATA", "CHOCKBOOK_DRIVING_SIDE"} <= settings
    text = "".join((ROOT / name).read_text("utf-8") for name in DOCUMENTS)
    assert not {name for name in settings if name not in text}


@pytest.mark.parametrize(
    ("shown", "printed", "same"),
    [
        ("a\nb\n", "a\nb\n", True),
        ("a\n...\nd\n", "a\nb\nc\nd\n", True),
        ("a\n", "a\nb\n", False),
        ("a\nx\n", "a\nb\n", False),
        ("a.c\n", "abc\n", False),
        ("a\n...\nx\n", "a\nb\n", False),
    ],
)
def test_output_that_differs_is_noticed(shown: str, printed: str, same: bool) -> None:
    assert matches(shown, printed) is same


def test_blocks_are_found_and_left_out_as_marked(capsys: pytest.CaptureFixture[str]) -> None:
    run_block = "```console\n$ chockbook x\nout\n$ chockbook y\n```\n"
    text = f"{run_block}<!-- not run: it serves -->\n```console\n$ chockbook z\n```\n"
    assert [(example.command, example.shown) for example in examples(text, "T.md")] == [
        ("chockbook x", "out\n"),
        ("chockbook y", ""),
    ]
    assert "T.md:8: not run: it serves" in capsys.readouterr().out
