"""Doubting a fact, proposing to put it back, and which doubts stand."""

from urllib.parse import urlencode

from flask import Blueprint, redirect, request
from werkzeug.wrappers import Response

from catalog.domain.doubt import may_be_doubted, said_at
from catalog.domain.numbers import whole_number
from catalog.domain.record import attribute_at
from catalog.domain.roles import Right
from catalog.domain.wording import protective_words
from catalog.errors import BadInput, ChockbookError, Conflict
from catalog.services.acting import require
from catalog.services.compiling import edition_view
from catalog.services.doubting import LONGEST_REASON, doubt, restore
from catalog.services.doubts import all_in, path_words, said_words
from catalog.services.narrowing import with_words
from catalog.services.records import parsed_code, read_record
from catalog.services.shown import ShownAsked, Telling, shown_part, tell_holders
from catalog.services.views import RecordView
from catalog.web.acting import actor
from catalog.web.errors import status_of
from catalog.web.paging import asked_number, asked_part, one_page, paged
from catalog.web.render import house, page


def add(blueprint: Blueprint) -> None:
    """Add /records/<code>/doubt, restore and shown, and /steward/doubts."""
    blueprint.add_url_rule("/records/<code>/doubt", "doubt", _doubt, methods=["GET", "POST"])
    blueprint.add_url_rule("/records/<code>/restore", "restore", _restore, methods=["GET", "POST"])
    blueprint.add_url_rule("/records/<code>/shown", "shown", _shown, methods=["GET", "POST"])
    blueprint.add_url_rule("/steward/doubts", "doubts", _doubts)


def _doubts() -> str:
    compiled, asked = house().shelf.current(), request.args.get("words", "").strip()
    every, titles, said = all_in(compiled), compiled.titles, with_words(asked)
    found = [
        one for one in every
        if not asked
        or said(f"{one.code} {titles.get(one.code, '')} {one.label} {one.path} {one.author} {one.reason}")
    ]  # fmt: skip
    return page(
        "doubts.html", edition=edition_view(compiled), titles=titles, paged=paged(found), total=len(found),
        every=len(every), asked=asked,
    )  # fmt: skip


def _doubt(code: str) -> str | Response | tuple[str, int]:
    person = require(actor(), Right.DOUBT)
    view = read_record(house(), parsed_code(code))
    if request.method == "GET":
        path = request.args.get("path", "")
        return _form(view, path) if path else _choose(view)
    path, reason = request.form.get("path", ""), request.form.get("reason", "")
    try:
        number = doubt(house(), person, view.code, path, reason, seen=request.form.get("seen", ""))
    except (BadInput, Conflict) as error:
        return _form(view, path, error, reason), status_of(error)
    return redirect(f"/records/{view.code}?doubted={number}#doubts", 303)


def _choose(view: RecordView) -> str:
    words = request.args.get("words", "").strip().lower()
    rows = [(path, path_words(path), said_words(said_at(view.record, path))) for path in _paths(view)]
    said = with_words(words)
    rows = [row for row in rows if said(" ".join(row))]
    return page("doubt_choose.html", view=view, words_asked=words, total=len(rows), paged=paged(rows))


def _paths(view: RecordView) -> list[str]:
    """Everything the record says, whole items before what they say."""
    record = view.record
    made: dict[str, None] = {}
    for path in record.facts:
        item, inside, _ = path.rpartition("].")
        if inside and may_be_doubted(f"{item}]"):
            made.setdefault(f"{item}]")
        made.setdefault(path)
    return [*made, *(f"complete.{name}" for name in record.complete), *(f"notes.{note.id}" for note in record.notes)]


def _form(view: RecordView, path: str, problem: ChockbookError | None = None, reason: str = "") -> str:
    if not may_be_doubted(path):
        raise BadInput(f"{path!r} names no fact.", cure="Choose it from the record's facts.")
    said = said_at(view.record, path)
    try:
        reading = protective_words(attribute_at(path))
    except KeyError:  # an item, a note, a list's completeness
        reading = ""
    return page(
        "doubt.html", view=view, path=path, label=path_words(path), said=said_words(said), reading=reading,
        problem=problem, reason=reason, longest=LONGEST_REASON,
    )  # fmt: skip


def _restore(code: str) -> str | Response | tuple[str, int]:
    person = require(actor(), Right.UPDATE)
    view = read_record(house(), parsed_code(code))
    path = request.values.get("path", "")
    standing = next((each for each in view.doubts if each.path == path), None)
    if request.method == "GET":
        return page("restore.html", view=view, doubt=standing, path=path, problem=None, longest=LONGEST_REASON)
    try:
        update = restore(house(), person, view.code, path, request.form.get("reason", ""))
    except (BadInput, Conflict) as error:
        return (
            page("restore.html", view=view, doubt=standing, path=path, problem=error, longest=LONGEST_REASON),
            status_of(error),
        )
    return redirect(f"/steward/updates/{update}", 303)


def _shown(code: str) -> str | Response | tuple[str, int]:
    person = require(actor(), Right.UPDATE)
    path = request.values.get("path", "")
    if request.method == "GET":
        edition = asked_number("edition", 0)
        return _shown_page(code, path, edition)
    edition = whole_number(request.form.get("edition", "")) or 0
    try:
        tell_holders(house(), person, Telling(code, path, request.form.get("words", ""), edition))
    except BadInput as error:
        return _shown_page(code, path, edition, error), status_of(error)
    where = urlencode({"path": path, "edition": edition})
    return redirect(f"/records/{parsed_code(code)}/shown?{where}", 303)


def _shown_page(code: str, path: str, edition: int, problem: ChockbookError | None = None) -> str:
    offset, limit = asked_part()
    view = shown_part(house(), actor(), ShownAsked(code, path, edition or None, offset, limit))
    return page("shown.html", view=view, paged=one_page(view.briefs, offset, view.brief_count), problem=problem)
