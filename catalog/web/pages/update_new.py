"""Bringing in a guide update: drop a file, read what was found, take the marked copy, send it to review."""

import io
import re

from flask import Blueprint, redirect, request, send_file
from werkzeug.wrappers import Response

from catalog.domain.roles import Right
from catalog.errors import BadInput, ChockbookError
from catalog.services.acting import require
from catalog.services.importing import (
    BroughtFile,
    check_update,
    marked_file,
    propose_checked,
    template_file,
)
from catalog.services.importing_kept import keep_file, kept_file
from catalog.services.importing_views import CheckedUpdate
from catalog.web import import_wording
from catalog.web.acting import actor
from catalog.web.errors import answered
from catalog.web.render import house, page

LARGEST = 64 * 1024 * 1024
_NEW = "/steward/updates/new"
_BOOK = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
# Records shown with their findings; the marked copy has all.
MOST = 200


def add(blueprint: Blueprint) -> None:
    """Add /steward/updates/new and what its forms post to."""
    rule = blueprint.add_url_rule
    rule(_NEW, "update_new", lambda: _shown())
    rule(_NEW, "update_check", _check, methods=["POST"])
    rule(f"{_NEW}/template.xlsx", "update_template", _template)
    rule(f"{_NEW}/<kept>/marked.xlsx", "update_marked", _marked)
    rule(f"{_NEW}/<kept>/send", "update_send", _send, methods=["POST"])
    blueprint.before_app_request(_room)


def _room() -> None:
    """A file may be larger than what is typed; only here, and only for who may bring one."""
    if request.endpoint == "pages.update_check":
        require(actor(), Right.UPDATE)
        request.max_content_length = LARGEST


def _shown(
    checked: CheckedUpdate | None = None, kept: str = "", problem: ChockbookError | None = None, encoding: str = ""
) -> Response:
    require(actor(), Right.UPDATE)
    shown = page(
        "update_new.html",
        checked=checked,
        kept=kept,
        problem=problem,
        encoding=encoding,
        says=import_wording,
        groups=import_wording.groups(checked, MOST) if checked else (),
    )
    return answered(shown, problem, kept=False)


def _check() -> Response:
    who = require(actor(), Right.UPDATE)
    encoding = request.form.get("encoding", "").strip()
    try:
        given = request.files.get("file")
        if given is None or not given.filename:
            raise BadInput("No file was chosen.", cure="Choose one, or drop it on the field.")
        file = BroughtFile(_named(given.filename), given.read(), encoding)
        checked = check_update(house(), file)
        kept = keep_file(house(), who, file)
    except BadInput as error:
        return _shown(problem=error, encoding=encoding)
    return _shown(checked, kept, encoding=encoding)


def _marked(kept: str) -> Response:
    who = require(actor(), Right.UPDATE)
    file = kept_file(house(), who, kept)
    content = marked_file(file, check_update(house(), file).findings)
    name = f"{file.name.rsplit('.', 1)[0]}-marked.xlsx"
    return send_file(io.BytesIO(content), _BOOK, as_attachment=True, download_name=name, max_age=0)


def _send(kept: str) -> Response:
    who = require(actor(), Right.UPDATE)
    file = kept_file(house(), who, kept, frozenset(request.form.getlist("dispute")), request.form.get("reason", ""))
    checked = check_update(house(), file)
    try:
        sent = propose_checked(house(), who, checked, file)
    except BadInput as error:
        return _shown(checked, kept, error)
    if not sent.update:
        return _shown(sent, kept)
    return redirect(f"/steward/updates/{sent.update}", 303)


def _template() -> Response:
    require(actor(), Right.UPDATE)
    return send_file(io.BytesIO(template_file()), _BOOK, as_attachment=True, download_name="guide-update.xlsx")


def _named(filename: str) -> str:
    """A file's own name: browsers may send the folders it lay in."""
    return re.split(r"[\\/]", filename)[-1][:120]
