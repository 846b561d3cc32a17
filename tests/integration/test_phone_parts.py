"""What a phone fetches: which edition, its parts, the engine, the app's files; who may, and how long it may be kept."""

import gzip
import hashlib
import json
import re
import shutil
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient

from catalog.app import create_app
from catalog.config import Settings
from catalog.services.phone import offer, site_of
from catalog.web.assets import FOLDER


def made(data: Path, **settings: str) -> Flask:
    return create_app(Settings.from_environment({"CHOCKBOOK_DATA": str(data), **settings}))


@pytest.fixture(scope="module")
def data(demo_data: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    return shutil.copytree(demo_data, tmp_path_factory.mktemp("phone") / "data")


@pytest.fixture(scope="module")
def app(data: Path) -> Iterator[Flask]:
    served = made(data)
    yield served
    served.extensions["chockbook"].engine.dispose()


@pytest.fixture
def client(app: Flask) -> FlaskClient:
    return app.test_client()


def test_every_part_that_is_listed_is_given_for_good_under_its_own_sum(client: FlaskClient) -> None:
    newest = client.get("/phone/edition.json").get_json()
    names = [newest["listing"]]
    packed = unpacked = 0
    while names:
        name = names.pop()
        given = client.get(f"/phone/parts/{name}")
        assert given.headers["Cache-Control"] == "public, max-age=31536000, immutable"
        assert given.content_type == "application/gzip"
        content = gzip.decompress(given.data)
        assert hashlib.sha256(content).hexdigest() == name
        packed, unpacked = packed + len(given.data), unpacked + len(content)
        if name == newest["listing"]:
            names += [row[2] for row in json.loads(content)["parts"]]
    assert (packed, unpacked) == (newest["packed"], newest["unpacked"])
    assert client.get(f"/phone/parts/{'0' * 64}").status_code == 404
    assert client.get("/phone/parts/..%2FLOCK").status_code == 404


def test_which_edition_is_asked_again_and_costs_nothing_where_it_is_the_same(client: FlaskClient) -> None:
    first = client.get("/phone/edition.json")
    assert first.headers["Cache-Control"] == "no-cache"
    again = client.get("/phone/edition.json", headers={"If-None-Match": first.headers["ETag"]})
    assert again.status_code == 304
    assert again.data == b""


def test_the_engine_and_every_file_of_the_app_are_what_the_list_says(client: FlaskClient) -> None:
    newest, shell = client.get("/phone/edition.json").get_json(), client.get("/phone/shell.json").get_json()
    assert newest["shell"] == shell["version"]
    files = dict(shell["files"])
    for kind in ("js", "json"):
        assert f"/phone/engine/{newest['engine']}.{kind}" in files
    for address, sum_ in files.items():
        with client.get(address, headers={"Accept-Encoding": "gzip"}) as given:
            assert given.status_code == 200, address
            assert given.headers["Content-Security-Policy"].startswith("default-src 'self';")
            content = given.data
            if given.headers.get("Content-Encoding") == "gzip":
                content = gzip.decompress(content)
            assert sum_ in ("", hashlib.sha256(content).hexdigest()), address
    assert client.get(f"/phone/engine/{'0' * 64}.js").status_code == 404


def test_every_address_in_the_page_and_every_module_is_among_the_apps_files(client: FlaskClient) -> None:
    """What is not in the list is not there without signal."""
    files = {address for address, _ in client.get("/phone/shell.json").get_json()["files"]}
    html = client.get("/phone").text
    version = re.search(r'name="shell" content="(\w{16})"', html)
    assert version
    assert version[1] == client.get("/phone/edition.json").get_json()["shell"]
    for address in re.findall(r'(?:src|href)="(/assets/[^"#]+)', html):
        assert address in files
    assets = next(iter(files & {address for address in files if address.endswith("/tokens.css")})).rpartition("/")[0]
    for path in (FOLDER / "phone").rglob("*.js"):
        for name in re.findall(r"""(?:from|import)\s*\(?\s*["'](\.[^"']+)["']""", path.read_text("utf-8")):
            target = (path.parent / name).resolve().relative_to(FOLDER).as_posix()
            assert f"{assets}/{target}" in files, f"{path.name} imports {name}"
    for path in FOLDER.rglob("*.css"):
        if f"{assets}/{path.relative_to(FOLDER).as_posix()}" in files:
            for name in re.findall(r"url\([\"']?([^\"')#:]+)[\"']?\)", path.read_text("utf-8")):
                assert f"{assets}/{(path.parent / name).resolve().relative_to(FOLDER).as_posix()}" in files, name


def test_the_worker_is_asked_again_and_may_answer_for_all(client: FlaskClient) -> None:
    with client.get("/worker.js") as given:
        assert given.headers["Cache-Control"] == "no-cache"
        assert given.mimetype == "text/javascript"


def test_where_reading_needs_an_account_so_does_the_edition(data: Path, client: FlaskClient) -> None:
    name = client.get("/phone/edition.json").get_json()["listing"]
    closed = made(data, CHOCKBOOK_READING="accounts").test_client()
    for path in ("/phone", "/phone/edition.json", "/phone/shell.json", f"/phone/parts/{name}"):
        assert closed.get(path).headers["Location"].startswith("/sign-in"), path


def test_a_device_that_says_what_it_has_is_counted(app: Flask, client: FlaskClient) -> None:
    counts = app.extensions["chockbook"].counts
    counts.take()
    client.get("/phone/edition.json?device=0123456789abcdef0123456789abcdef&has=2")
    client.get("/phone/edition.json?device=short&has=2")
    client.get("/phone/edition.json?device=0123456789abcdef0123456789abcdef")
    assert counts.take()[0] == {("0123456789abcdef0123456789abcdef", 2)}


def test_a_site_has_its_own_bundle(data: Path, tmp_path: Path) -> None:
    local = tmp_path / "local.json"
    local.write_text('{"caller": {}}', "utf-8")
    other = made(data, CHOCKBOOK_DRIVING_SIDE="right", CHOCKBOOK_LOCAL_STEPS=str(local)).extensions["chockbook"]
    site = site_of(other)
    assert site["driving_side"] == "right"
    assert site["local_steps"] == {"caller": {}}
    local.write_text("{ not JSON", "utf-8")
    assert site_of(other)["local_steps"] is None
    assert "local.json" in site_of(other)["notice"]


def test_while_a_newer_bundle_is_made_the_old_one_is_offered(app: Flask) -> None:
    house = app.extensions["chockbook"]
    first = offer(house)
    compiled, tables, parameters, _ = house.bundles.held[0]
    house.bundles.held = (compiled, tables, parameters, "another site"), first
    with house.bundles.making:
        answered: list[object] = []
        thread = threading.Thread(target=lambda: answered.append(offer(house)))
        thread.start()
        thread.join(10)
        assert answered == [first]
    assert offer(house) == first  # made again from the same
    assert house.bundles.held[0][3] != "another site"
