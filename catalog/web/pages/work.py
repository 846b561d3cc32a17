"""The work list, and the guides with their files."""

from urllib.parse import urlencode

from flask import Blueprint, Response, redirect, request
from werkzeug.wrappers import Response as Answer

from catalog.domain.roles import Right
from catalog.domain.sources import KEY_PATTERN, KIND
from catalog.errors import BadInput, ChockbookError, Conflict, NotFound
from catalog.services.acting import require
from catalog.services.clock import years_ago
from catalog.services.report_photos import remove_photo, report_photo
from catalog.services.sources import (
    LARGEST,
    OTHER,
    SORTS,
    FileGiven,
    SourcesAsked,
    keep_file,
    list_sources,
    old_records,
    source_file,
)
from catalog.services.work_entries import STATES
from catalog.services.work_list import (
    KIND_WORDS,
    STALE_YEARS,
    WorkAsked,
    close_work,
    draft_work,
    list_work,
    open_work,
    work_entry,
)
from catalog.web.acting import actor
from catalog.web.errors import status_of
from catalog.web.paging import asked_number, paged
from catalog.web.render import house, page


def add(blueprint: Blueprint) -> None:
    """Add /steward/work, /steward/sources and the files of guides."""
    rule = blueprint.add_url_rule
    rule("/steward/work", "work", _work)
    rule("/steward/work/<kind>/<path:key>", "work_entry", _entry, methods=["GET", "POST"])
    rule("/steward/reports/<report>/photo", "report_photo", _photo)
    rule("/steward/sources", "sources", _sources)
    rule("/steward/sources/old", "sources_old", _old)
    rule("/source-files/<number>/<int:issue>", "source_file", _file)
    rule("/source-files/<number>/<int:issue>", "source_file_kept", _stored, methods=["POST"])
    blueprint.before_app_request(_room)


def _room() -> None:
    """A guide's file may be larger than what is typed; only here, and only for who may store one."""
    if request.endpoint == "pages.source_file_kept":
        require(actor(), Right.UPDATE)
        request.max_content_length = LARGEST + 64 * 1024


def _work() -> str:
    years = asked_number("years", STALE_YEARS)
    asked = WorkAsked(
        request.args.get("kind", ""), request.args.get("state", "open"), request.args.get("words", "").strip(), years
    )
    found = list_work(house(), actor(), asked)
    return page("work.html", asked=asked, kinds=KIND_WORDS, states=STATES, total=len(found), paged=paged(found))


def _entry(kind: str, key: str) -> str | Answer | tuple[str, int]:
    person = require(actor(), Right.UPDATE)
    entry = work_entry(house(), person, kind, key)
    if request.method == "GET":
        return page("work_entry.html", entry=entry, kinds=KIND_WORDS, problem=None, back=_list())
    reason = request.form.get("reason", "")
    try:
        match request.form.get("action", ""):
            case "draft":
                update = draft_work(house(), person, kind, key, request.form.get("code", "").strip())
                return redirect(f"/steward/updates/{update}", 303)
            case "remove photo":
                remove_photo(house(), person, key, reason)
                return redirect(request.full_path.rstrip("?"), 303)
            case "open":
                open_work(house(), person, kind, key, reason)
            case _:
                close_work(house(), person, kind, key, reason)
    except (BadInput, Conflict, NotFound) as error:
        return page("work_entry.html", entry=entry, kinds=KIND_WORDS, problem=error, back=_list()), status_of(error)
    return redirect(_list(), 303)


def _list() -> str:
    """The list that the entry was opened from, with its filters."""
    asked = {name: value for name, value in request.args.items() if name in ("kind", "state", "words", "years", "page")}
    return f"/steward/work{f'?{urlencode(asked)}' if asked else ''}#rows"


def _photo(report: str) -> Answer:
    made = Response(report_photo(house(), actor(), report), mimetype="image/jpeg")
    made.headers["Cache-Control"] = "no-store"
    made.headers["X-Content-Type-Options"] = "nosniff"
    made.headers["Content-Disposition"] = "inline; filename=photo.jpg"
    made.headers["Cross-Origin-Resource-Policy"] = "same-origin"
    made.headers["Content-Security-Policy"] = "default-src 'none'; frame-ancestors 'none'"
    return made


def _sources() -> str:
    asked = SourcesAsked(
        request.args.get("words", "").strip(), request.args.get("kind", ""), request.args.get("sort", "key")
    )
    found = list_sources(house(), asked)
    kinds = {key: KIND.label_of(key) for key in KIND.keys}
    return page("sources.html", asked=asked, kinds=kinds, sorts=SORTS, total=len(found), paged=paged(found))


def _old() -> str:
    years = asked_number("years", STALE_YEARS)
    before = years_ago(years)
    found = old_records(house(), before)
    return page("sources_old.html", years=years, before=before, total=len(found), paged=paged(found))


def _file(number: str, issue: int) -> Answer:
    found = source_file(house(), _key(number, issue))
    made = Response(found.content, mimetype=found.media_type)
    how = "attachment" if found.media_type == OTHER else "inline"
    made.headers["Content-Disposition"] = f'{how}; filename="{found.header_name}"'
    made.headers["X-Content-Type-Options"] = "nosniff"
    # Whatever is in it runs no script, loads nothing and is in no frame; a PDF is shown by the browser's own viewer.
    made.headers["Content-Security-Policy"] = (
        "default-src 'none'; object-src 'self'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; "
        "frame-ancestors 'none'"
    )
    made.headers["Cache-Control"] = "private, max-age=3600"
    return made


def _stored(number: str, issue: int) -> Answer | tuple[str, int]:
    person, key = require(actor(), Right.UPDATE), _key(number, issue)
    given = request.files.get("file")
    try:
        if given is None or not given.filename:
            raise BadInput("No file was chosen.", cure="Choose the guide's file.")
        content = given.stream.read(LARGEST + 1)
        keep_file(house(), person, FileGiven(key, given.filename, content, "is_its_file" in request.form))
    except (BadInput, Conflict) as error:
        return _refused(key, error)
    return redirect(f"/sources/{key}", 303)


def _key(number: str, issue: int) -> str:
    key = f"{number.upper()}/{issue}"
    if not KEY_PATTERN.fullmatch(key):
        raise NotFound(f"{key} is no source.", cure="Take number and issue from a fact.")
    return key


def _refused(key: str, error: ChockbookError) -> tuple[str, int]:
    return page("source_file.html", key=key, problem=error), status_of(error)
