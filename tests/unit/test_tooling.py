"""The commands that set up and test: locked lists that agree, plain sentences when something is missing."""

import os
import re
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
LOCKS = ROOT / ".requirements"
_PIN = re.compile(r"^([a-z0-9._-]+)==(\S+)", re.IGNORECASE | re.MULTILINE)


def pins(name: str) -> dict[str, str]:
    return dict(_PIN.findall((LOCKS / f"{name}.txt").read_text("utf-8")))


@pytest.mark.parametrize("name", ["run", "test", "build", "whoosh3"])
def test_every_locked_package_has_a_hash(name: str) -> None:
    text = (LOCKS / f"{name}.txt").read_text("utf-8")
    entries = re.split(r"\n(?=\S)", text.strip())
    assert len(entries) == len(pins(name))
    assert not [entry for entry in entries if "--hash=sha256:" not in entry]


@pytest.mark.parametrize("name", ["run", "build", "whoosh3"])
def test_no_two_environments_differ_in_a_version(name: str) -> None:
    tested = pins("test")
    different = {package for package, version in pins(name).items() if tested.get(package, version) != version}
    assert not different


def test_the_lists_cover_what_the_project_asks_for() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    asked = [re.split(r"[\[<>=]", line)[0] for line in project["dependencies"]]
    assert not set(asked) - set(pins("run"))
    asked += [re.split(r"[\[<>=]", line)[0] for line in project["optional-dependencies"]["test"]]
    assert not set(asked) - set(pins("test"))
    assert pins("run")["whoosh"] == "2.7.4"


def test_the_library_and_its_fork_never_share_an_environment() -> None:
    assert "whoosh" not in pins("whoosh3")
    assert "whoosh3" not in pins("test")


@pytest.mark.parametrize("path", ["tests/run", ".ci/run", "seed_demo/start", ".requirements/environment.sh"])
def test_no_script_names_a_host(path: str) -> None:
    text = (ROOT / path).read_text("utf-8")
    assert not re.search(r"https?:|index-url|\.org\b|\.com\b|\.io\b", text)


@pytest.mark.parametrize("path", ["tests/run", ".ci/run", "seed_demo/start"])
def test_scripts_can_be_run(path: str) -> None:
    assert os.access(ROOT / path, os.X_OK)
    subprocess.run(["bash", "-n", ROOT / path], check=True)


@pytest.fixture
def checkout(tmp_path: Path) -> Path:
    """The scripts alone, in a folder of their own."""
    for path in ("tests/run", "seed_demo/start"):
        (tmp_path / path).parent.mkdir(exist_ok=True)
        shutil.copy(ROOT / path, tmp_path / path)
    shutil.copytree(LOCKS, tmp_path / ".requirements")
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    return tmp_path


def python_that(folder: Path, says: str) -> str:
    """A stand-in for an interpreter. says: shell that handles `-c CODE` in $2."""
    path = folder / "python-stand-in"
    path.write_text(f'#!/bin/sh\n[ "$1" = --version ] && echo Python 3.9.1 && exit 0\n{says}\n', "utf-8")
    path.chmod(0o755)
    return str(path)


def start(checkout: Path, python: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        ["bash", "seed_demo/start"],
        cwd=checkout,
        env={**os.environ, "PYTHON": python},
        capture_output=True,
        text=True,
        check=False,
    )


def test_a_missing_python_is_one_clear_sentence(checkout: Path) -> None:
    ended = start(checkout, "python-that-is-not-there")
    assert ended.returncode == 1
    assert "There is no python-that-is-not-there here. Chockbook needs Python 3.11 or newer." in ended.stderr


def test_an_old_python_is_one_clear_sentence(checkout: Path) -> None:
    ended = start(checkout, python_that(checkout, 'case "$2" in *version_info*) exit 1;; esac'))
    assert ended.returncode == 1
    assert "Python 3.9.1 is too old. Chockbook needs Python 3.11 or newer." in ended.stderr


def test_a_python_without_venv_says_what_to_install(checkout: Path) -> None:
    ended = start(checkout, python_that(checkout, 'case "$2" in *ensurepip*) exit 1;; esac'))
    assert ended.returncode == 1
    assert "On Debian: apt-get install python3-venv" in ended.stderr
    assert not (checkout / ".env-run").exists()


def test_an_environment_is_kept_while_its_lists_are_the_same(checkout: Path) -> None:
    """Made again when a list changes, and after a run that was cut off. Nothing is fetched here."""
    making = f"""
        [ "$1" = - ] && exec {sys.executable} "$@"
        [ "$2" = venv ] && mkdir -p "$3/bin" && ln -s {shutil.which("true")} "$3/bin/python"
        exit 0"""
    script = """
        . .requirements/environment.sh
        find_python
        make_environment .env-x list.txt && make_environment .env-x list.txt
        echo two >list.txt && make_environment .env-x list.txt
        rm .env-x/made-from && make_environment .env-x list.txt
    """
    (checkout / "list.txt").write_text("one", "utf-8")
    ended = subprocess.run(
        ["bash", "-c", script],
        cwd=checkout,
        env={**os.environ, "PYTHON": python_that(checkout, making)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert ended.returncode == 0, ended.stderr
    assert ended.stdout.count("Setting up .env-x") == 3


def test_the_test_command_explains_itself(checkout: Path) -> None:
    ended = subprocess.run(["bash", "tests/run", "nonsense"], cwd=checkout, capture_output=True, text=True, check=False)
    assert ended.returncode == 1
    assert "usage: bash tests/run [quick | cover]" in ended.stderr


def tools_only(checkout: Path, **stand_ins: str) -> dict[str, str]:
    """An environment whose PATH holds next to nothing, and stand-ins by name as shell text."""
    tools = checkout / "tools"
    tools.mkdir()
    for name in ("bash", "sh", "dirname", "env"):
        (tools / name).symlink_to(shutil.which(name) or name)
    for name, text in stand_ins.items():
        made = tools / name.replace("_", "-")
        made.write_text(f"#!/bin/sh\n{text}\n", "utf-8")
        made.chmod(0o755)
    return {"PATH": str(tools), "HOME": str(checkout)}


def run_all(checkout: Path, environment: dict[str, str]) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        ["bash", "tests/run"],
        cwd=checkout,
        env=environment,
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.mark.parametrize(
    "stand_ins",
    [
        pytest.param({"id": "echo 0"}, id="no apt-get"),
        pytest.param({"id": "echo 1000", "apt_get": "exit 0"}, id="no sudo"),
        pytest.param({"id": "echo 1000", "apt_get": "exit 0", "sudo": "exit 1"}, id="sudo asks for a password"),
        pytest.param({"id": "echo 0", "apt_get": "exit 100"}, id="apt-get fails"),
    ],
)
def test_debian_packages_that_cannot_be_brought_are_named_in_one_sentence(
    checkout: Path, stand_ins: dict[str, str]
) -> None:
    ended = run_all(checkout, tools_only(checkout, **stand_ins))
    assert ended.returncode == 1
    assert "This run needs the Debian packages: python3-venv chromium" in ended.stderr
    assert not (checkout / ".env").exists()


@pytest.mark.parametrize(("user", "sudo"), [("0", "exit 1"), ("1000", '[ "$1" = -n ] && exit 0; exec "$@"')])
def test_debian_packages_are_brought_by_root_or_with_sudo(checkout: Path, user: str, sudo: str) -> None:
    told = checkout / "told"
    environment = tools_only(checkout, id=f"echo {user}", sudo=sudo, apt_get=f'echo "$@" >>{told}')
    ended = run_all(checkout, environment)
    update, install = told.read_text("utf-8").splitlines()
    assert update.startswith("update")
    assert re.search(r"install .*--yes .*python3-venv chromium", install)
    # There is still no Python: the next sentence says so.
    assert "There is no python3 here." in ended.stderr
