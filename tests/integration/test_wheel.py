"""The wheel alone runs the demo, in an environment that cannot see the checkout."""

import json
import os
import shutil
import subprocess
import sys
import sysconfig
import venv
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PACKAGES = ("catalog", "schemas", "seed_demo", "migrations")
pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Built from a copy, so that nothing left over in the checkout gets in."""
    copy = tmp_path_factory.mktemp("source")
    for package in PACKAGES:
        shutil.copytree(ROOT / package, copy / package, ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copy(ROOT / name, copy)
    built = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(built), str(copy)]
    made = subprocess.run(command, capture_output=True, text=True, check=False)
    assert made.returncode == 0, made.stdout + made.stderr
    return next(built.glob("*.whl"))


@pytest.fixture(scope="module")
def environment(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A new environment with the wheel in it.

    The locked packages are lent to it by path; a path lent that way is searched for packages
    only, so the checkout that is installed there as editable stays out of sight.
    """
    folder = tmp_path_factory.mktemp("environment")
    venv.create(folder, with_pip=False)
    python = folder / "bin" / "python"
    command = [sys.executable, "-m", "pip", "--python", str(python), "install", "--quiet", "--no-deps", "--no-index"]
    subprocess.run([*command, str(wheel)], check=True)
    site = next(folder.glob("lib/python*/site-packages"))
    (site / "locked.pth").write_text(sysconfig.get_path("purelib") + "\n", "utf-8")
    return folder


def in_environment(folder: Path, data: Path, *command: str) -> str:
    ended = subprocess.run(
        [folder / "bin" / command[0], *command[1:]],
        cwd=data,
        env={"PATH": os.environ["PATH"], "HOME": str(data), "CHOCKBOOK_DATA": str(data)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert ended.returncode == 0, ended.stderr
    return ended.stdout


def test_every_file_of_the_packages_is_in_the_wheel(wheel: Path) -> None:
    tracked = subprocess.run(["git", "ls-files", *PACKAGES], cwd=ROOT, capture_output=True, text=True, check=True)
    expected = {name for name in tracked.stdout.splitlines() if (ROOT / name).exists()}
    assert expected
    missing = expected - set(zipfile.ZipFile(wheel).namelist())
    assert not missing


def test_the_wheel_runs_the_demo_outside_the_checkout(environment: Path, tmp_path: Path) -> None:
    where = in_environment(environment, tmp_path, "python", "-c", "import catalog; print(catalog.__file__)")
    assert Path(where.strip()).is_relative_to(environment)
    told = in_environment(environment, tmp_path, "chockbook", "demo", "--no-serve")
    assert "The demo catalogue is ready" in told
    said = "white pickup, port left rear"
    answer = json.loads(in_environment(environment, tmp_path, "chockbook", "resolve", said, "--json"))
    assert answer["candidates"]
    assert answer["unlisted"]["probability"] > 0


def test_the_wheel_serves_its_pages(environment: Path, tmp_path: Path) -> None:
    in_environment(environment, tmp_path, "chockbook", "demo", "--no-serve")
    look = """
import os
from catalog.app import create_app
from catalog.config import Settings
client = create_app(Settings.from_environment(os.environ)).test_client()
for path in ("/desk", "/crew", "/steward", "/api/v1/openapi.json"):
    assert client.get(path).status_code == 200, path
"""
    in_environment(environment, tmp_path, "python", "-c", look)
