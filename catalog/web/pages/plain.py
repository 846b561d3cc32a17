"""Pages that ask no service: the start page, static files."""

from http import HTTPStatus
from typing import Any

from flask import Blueprint, Response, current_app, send_from_directory
from werkzeug.exceptions import NotFound

from catalog.web.assets import FOLDER, Assets
from catalog.web.packed import packed
from catalog.web.render import ASSETS, page


def add(blueprint: Blueprint) -> None:
    """Add / and /assets/<version>/<name>."""
    blueprint.add_url_rule("/", "home", lambda: page("home.html"))
    blueprint.add_url_rule("/assets/<version>/<path:name>", "asset", _asset)


def _asset(version: str, name: str) -> Response:
    """A static file. Kept for good under this build's version; checked each time under another."""
    assets: Assets = current_app.extensions[ASSETS]
    if name not in assets.names:
        raise NotFound
    made = send_from_directory(FOLDER, name)
    fixed = version == assets.version
    made.headers["Cache-Control"] = "public, max-age=31536000, immutable" if fixed else "no-cache"
    return packed(_read(made), name)


def _read(response: Response) -> Response:
    """The file read to its end and closed: one that is sent as it is read stays open where a browser goes away."""
    if response.direct_passthrough:
        file: Any = response.response  # of the server's own kind, with nothing in common but this
        content = b"" if response.status_code == HTTPStatus.NOT_MODIFIED else b"".join(file)
        file.close()
        response.direct_passthrough = False
        response.response = [content]
    return response
