"""What the app on a phone fetches: which edition is newest, its parts, the engine, the app's own files, its worker."""

import hashlib
import json
from collections.abc import Mapping
from functools import lru_cache

from flask import Blueprint, Response, current_app, request
from werkzeug.exceptions import NotFound

from catalog.domain.numbers import whole_number
from catalog.services.phone import engine_for_phones, part, phone_edition
from catalog.web.assets import FOLDER, Assets
from catalog.web.packed import packed
from catalog.web.pages.phone import version_here
from catalog.web.phone_shell import Shell, shell_of
from catalog.web.render import ASSETS, house

# Not every browser's worker takes modules: it is these files one after another.
_WORKER = ("worker.js", "sending.js", "background.js")
_SCRIPT, _JSON = "text/javascript", "application/json"


def add(blueprint: Blueprint) -> None:
    """Add /phone/edition.json, shell.json, parts, engine and /worker.js."""
    blueprint.add_url_rule("/phone/edition.json", "phone_edition", _edition)
    blueprint.add_url_rule("/phone/shell.json", "phone_shell", _shell)
    blueprint.add_url_rule("/phone/parts/<name>", "phone_part", _part)
    blueprint.add_url_rule("/phone/engine/<hash_>.<kind>", "phone_engine", _engine)
    blueprint.add_url_rule("/worker.js", "worker", _worker)


def _edition() -> Response:
    """Asked often by every phone: nothing is looked up in the database, and an unchanged answer is a 304."""
    told = phone_edition(house())
    device, has = request.args.get("device", ""), whole_number(request.args.get("has", ""))
    if device and has:
        house().counts.note_fetch(device, min(has, told.newest))
    offered = told.offered
    return _asked_again(
        {
            "format": offered.format,
            "number": offered.number,
            "hash": offered.hash,
            "published_at": offered.published_at.isoformat().replace("+00:00", "Z"),
            "reason": offered.reason,
            "records": offered.records,
            "listing": offered.listing,
            "packed": offered.packed,
            "unpacked": offered.unpacked,
            "engine": offered.engine,
            "shell": version_here(),
            "demo": house().settings.demo,
            "newest": told.newest,
            "doubts": told.doubts,
            "withdrawn": told.withdrawn,
        }
    )


def _shell() -> Response:
    shell = _shell_here()
    return _asked_again({"version": shell.version, "files": shell.files})


def _part(name: str) -> Response:
    """The bytes as the phone keeps them: packed. They are unpacked where they are read, so no encoding is named."""
    content = part(house(), name)
    if content is None:
        raise NotFound
    return _for_good(content, "application/gzip")


def _engine(hash_: str, kind: str) -> Response:
    engine = engine_for_phones()
    if hash_ != engine.hash or kind not in ("js", "json"):
        raise NotFound
    content, mimetype = (engine.script, _SCRIPT) if kind == "js" else (engine.tables, _JSON)
    return packed(_for_good(content, f"{mimetype}; charset=utf-8"), f"engine.{kind}")


def _worker() -> Response:
    """The service worker, from the root so that it may answer for every page of the app."""
    script = "".join((FOLDER / "phone" / name).read_text("utf-8") for name in _WORKER)
    made = Response(script, mimetype=_SCRIPT)
    made.headers["Cache-Control"] = "no-cache"
    return made


def _shell_here() -> Shell:
    assets: Assets = current_app.extensions[ASSETS]
    return _shell_of(assets, version_here())


_shell_of = lru_cache(maxsize=2)(shell_of)


def _asked_again(document: Mapping[str, object]) -> Response:
    made = Response(json.dumps(document, ensure_ascii=False), mimetype=_JSON)
    made.headers["Cache-Control"] = "no-cache"
    made.set_etag(hashlib.sha256(made.get_data()).hexdigest()[:32])
    made.make_conditional(request)
    return made


def _for_good(content: bytes, content_type: str) -> Response:
    made = Response(content, content_type=content_type)
    whose = "private" if house().settings.reading == "accounts" else "public"
    made.headers["Cache-Control"] = f"{whose}, max-age=31536000, immutable"
    return made
