"""The command as a process: serving, pipes, encodings, signals."""

import gzip
import os
import re
import shutil
import signal
import subprocess
import sys
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest

from catalog.web.assets import FOLDER, read_assets

ROOT = Path(__file__).parents[2]


def started(data: Path, *arguments: str, **more: str) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-m", "catalog", *arguments],
        cwd=ROOT,
        env={**os.environ, "CHOCKBOOK_DATA": str(data), **more},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


@pytest.fixture
def serving(
    demo_data: Path, tmp_path: Path, request: pytest.FixtureRequest
) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """A served catalogue and its address, on a free port; its own, since the demo writes its people into it."""
    process = started(shutil.copytree(demo_data, tmp_path / "data"), *request.param, "--port", "0")
    assert process.stdout is not None
    address = ""
    for line in process.stdout:
        if found := re.search(r"http://127\.0\.0\.1:\d+", line):
            address = found[0]
            break
    try:
        yield process, address
    finally:
        process.kill()
        process.communicate()


@pytest.mark.parametrize("serving", [("serve",), ("demo",)], indirect=True, ids=["serve", "demo"])
def test_serving_answers_and_stops_cleanly(serving: tuple[subprocess.Popen[str], str]) -> None:
    process, address = serving
    assert address, process.communicate()
    with urllib.request.urlopen(f"{address}/api/v1/editions", timeout=20) as reply:
        assert reply.status == 200
    process.send_signal(signal.SIGINT)
    out, err = process.communicate(timeout=20)
    assert process.returncode == 0, err
    assert "Traceback" not in out + err


@pytest.mark.parametrize("serving", [("demo",)], indirect=True)
def test_the_demo_prints_three_addresses_with_one_thing_to_try(serving: tuple[subprocess.Popen[str], str]) -> None:
    process, address = serving
    process.send_signal(signal.SIGINT)
    assert process.stdout is not None
    # The fixture has read the first address's line already, and holds what came with it.
    out = process.stdout.read()
    assert f"{address}/phone" in out
    assert f"{address}/steward" in out
    assert len(re.findall(r"^ {12}\S", out, re.MULTILINE)) == 3


@pytest.mark.parametrize("serving", [("serve",)], indirect=True)
def test_every_address_the_demo_prints_is_a_page(serving: tuple[subprocess.Popen[str], str]) -> None:
    _, address = serving
    for path in ("/desk", "/phone", "/crew", "/steward"):
        with urllib.request.urlopen(f"{address}{path}", timeout=20) as reply:
            assert reply.status == 200
            assert "text/html" in reply.headers["Content-Type"]


@pytest.mark.parametrize("serving", [("serve",)], indirect=True)
def test_every_static_file_is_served_whole_packed_and_asked_after(serving: tuple[subprocess.Popen[str], str]) -> None:
    """By the server that is run, which has ways of its own to send a file."""
    _, address = serving
    assets = read_assets()
    for name in sorted(assets.names):
        content = (FOLDER / name).read_bytes()
        with urllib.request.urlopen(f"{address}{assets.path(name)}", timeout=20) as reply:
            assert reply.read() == content, name
            tag = reply.headers["ETag"]
        packed = urllib.request.Request(f"{address}{assets.path(name)}", headers={"Accept-Encoding": "gzip"})
        with urllib.request.urlopen(packed, timeout=20) as reply:
            sent = reply.read()
        assert (gzip.decompress(sent) if reply.headers["Content-Encoding"] == "gzip" else sent) == content, name
        known = urllib.request.Request(f"{address}{assets.path(name)}", headers={"If-None-Match": tag})
        with pytest.raises(urllib.error.HTTPError, match="304"):
            urllib.request.urlopen(known, timeout=20)
        part = urllib.request.Request(f"{address}{assets.path(name)}", headers={"Range": "bytes=1-3"})
        with urllib.request.urlopen(part, timeout=20) as reply:
            assert (reply.status, reply.read()) == (206, content[1:4]), name


def test_a_reader_that_stops_reading_is_no_error(demo_data: Path) -> None:
    command = f"{sys.executable} -m catalog schema | head -c 10; exit ${{PIPESTATUS[0]}}"
    ended = subprocess.run(
        ["bash", "-c", command],
        cwd=ROOT,
        env={**os.environ, "CHOCKBOOK_DATA": str(demo_data)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert ended.returncode == 0
    assert ended.stderr == ""


def test_a_terminal_that_knows_ascii_only_gets_ascii(demo_data: Path) -> None:
    process = started(demo_data, "resolve", "white pickup, port left rear", PYTHONIOENCODING="ascii")
    out, err = process.communicate()
    assert process.returncode == 0, err
    assert out.isascii()
    assert "##" in out


def test_the_application_imports_without_a_warning() -> None:
    subprocess.run([sys.executable, "-W", "error", "-c", "import catalog.app, catalog.cli.main"], cwd=ROOT, check=True)
