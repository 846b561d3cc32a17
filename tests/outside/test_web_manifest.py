"""The app's manifest against published rules for web app manifests.

Rules of form: the JSON schema "JSON schema for Web Application manifest files" of the SchemaStore project
(src/schemas/json/web-manifest.json, commit 0e972237), restated here for the members we use; its text is not copied.
Rules of meaning: W3C, Web Application Manifest, in our words and from memory where the test says so.
"""

import shutil
from collections.abc import Iterator
from io import BytesIO
from math import hypot
from pathlib import Path
from typing import Any
from urllib.parse import urljoin, urlsplit

import pytest
from flask.testing import FlaskClient
from jsonschema import Draft4Validator
from PIL import Image

from catalog.app import create_app
from catalog.config import Settings

TEXT = {"type": "string"}
SCHEMA: dict[str, Any] = {
    "$schema": "http://json-schema.org/draft-04/schema#",
    "type": "object",
    "required": ["name", "icons"],
    "properties": {
        **dict.fromkeys(
            ("name", "short_name", "description", "lang", "scope", "start_url", "theme_color", "background_color"), TEXT
        ),
        "dir": {"enum": ["ltr", "rtl", "auto"]},
        "display": {"enum": ["fullscreen", "standalone", "minimal-ui", "browser"]},
        "orientation": {
            "enum": [
                "any", "natural", "landscape", "portrait", "portrait-primary", "portrait-secondary",
                "landscape-primary", "landscape-secondary",
            ],
        },
        "icons": {
            "type": "array",
            "items": {
                "type": "object",
                "properties": {
                    "sizes": {"oneOf": [{"type": "string", "pattern": "^[0-9 x]+$"}, {"enum": ["any"]}]},
                    "src": TEXT,
                    "type": {"type": "string", "pattern": r"^[\sa-z0-9\-+;\.=\/]+$"},
                    "purpose": {"type": "string", "enum": ["badge", "maskable", "any"]},
                },
            },
        },
    },
}  # fmt: skip
ADDRESS = "https://catalogue.example/phone/app.webmanifest"


@pytest.fixture(scope="module")
def client(demo_data: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[FlaskClient]:
    data = tmp_path_factory.mktemp("manifest") / "data"
    shutil.copytree(demo_data, data)
    app = create_app(Settings.from_environment({"CHOCKBOOK_DATA": str(data)}))
    yield app.test_client()
    app.extensions["chockbook"].engine.dispose()


@pytest.fixture(scope="module")
def manifest(client: FlaskClient) -> dict[str, Any]:
    answer = client.get("/phone/app.webmanifest")
    # Its registered media type (W3C, from memory).
    assert answer.mimetype == "application/manifest+json"
    made: dict[str, Any] = answer.get_json(force=True)
    return made


def test_it_has_the_published_form(manifest: dict[str, Any]) -> None:
    assert [error.message for error in Draft4Validator(SCHEMA).iter_errors(manifest)] == []


@pytest.mark.parametrize(
    "wrong", [{"display": "app"}, {"icons": [{"sizes": "big"}]}, {"dir": "left"}, {"name": None}], ids=str
)
def test_a_wrong_one_is_refused(manifest: dict[str, Any], wrong: dict[str, Any]) -> None:
    assert list(Draft4Validator(SCHEMA).iter_errors({**manifest, **wrong}))


def test_it_starts_within_its_scope(manifest: dict[str, Any]) -> None:
    """A start outside the scope is not used (W3C, from memory); a shortcut needs a name and a url within it."""
    scope, start = urlsplit(urljoin(ADDRESS, manifest["scope"])), urlsplit(urljoin(ADDRESS, manifest["start_url"]))
    assert (start.scheme, start.netloc) == (scope.scheme, scope.netloc)
    assert start.path.startswith(scope.path)
    for shortcut in manifest["shortcuts"]:
        assert {"name", "url"} <= shortcut.keys()
        assert urlsplit(urljoin(ADDRESS, shortcut["url"])).path.startswith(scope.path)


def test_its_icons_are_what_it_says(client: FlaskClient, manifest: dict[str, Any]) -> None:
    """192 and 512 pixels are what browsers ask for before they offer to install: common practice, no source."""
    for icon in manifest["icons"]:
        side = int(icon["sizes"].partition("x")[0])
        with client.get(icon["src"]) as answer:
            assert answer.mimetype == icon["type"]
            assert Image.open(BytesIO(answer.data)).size == (side, side)
    assert {("192x192", "any"), ("512x512", "any"), ("512x512", "maskable")} <= {
        (icon["sizes"], icon["purpose"]) for icon in manifest["icons"]
    }


def test_the_maskable_icon_keeps_to_the_safe_zone(client: FlaskClient, manifest: dict[str, Any]) -> None:
    """All but a circle in the middle, its radius two fifths of the side, may be cut away (W3C, from memory)."""
    [icon] = [icon for icon in manifest["icons"] if icon["purpose"] == "maskable"]
    with client.get(icon["src"]) as answer:
        drawn = Image.open(BytesIO(answer.data)).convert("RGB")
    ground, middle = drawn.getpixel((0, 0)), drawn.width / 2
    beyond = [
        (x, y)
        for x in range(drawn.width)
        for y in range(drawn.height)
        if drawn.getpixel((x, y)) != ground and hypot(x + 0.5 - middle, y + 0.5 - middle) > 0.4 * drawn.width
    ]
    assert beyond == []


def test_a_ground_of_its_own_before_the_first_paint(manifest: dict[str, Any]) -> None:
    assert manifest["background_color"] == manifest["theme_color"] == "#e8edeb"
