"""The watch list, and going back to an earlier edition."""

from flask import Blueprint, redirect, request
from werkzeug.wrappers import Response

from catalog.domain.numbers import whole_number
from catalog.domain.roles import Right
from catalog.errors import BadInput, ChockbookError, Conflict, Forbidden, NotFound
from catalog.services.acting import require
from catalog.services.editions import list_editions
from catalog.services.publishing import go_back
from catalog.services.watch_list import RANKS, WatchedAsked, unwatch, watch, watched_part
from catalog.web import review_wording
from catalog.web.acting import actor
from catalog.web.errors import answered
from catalog.web.outcomes import posted_watch
from catalog.web.paging import asked_part, one_page
from catalog.web.render import house, page

_REFUSED = (BadInput, Conflict, Forbidden, NotFound)


def add(blueprint: Blueprint) -> None:
    """Add /steward/watch and /editions/<n>/back."""
    blueprint.add_url_rule("/steward/watch", "watch", lambda: _watch())
    blueprint.add_url_rule("/steward/watch", "watch_do", _watch_do, methods=["POST"])
    blueprint.add_url_rule("/editions/<int:number>/back", "back", lambda number: _back(number))
    blueprint.add_url_rule("/editions/<int:number>/back", "back_do", _back_do, methods=["POST"])


def _watch(problem: ChockbookError | None = None) -> Response:
    require(actor(), Right.UPDATE)
    offset, limit = asked_part()
    asked = WatchedAsked(request.args.get("words", "").strip(), request.args.get("sort", "oldest"), offset, limit)
    rows, total = watched_part(house(), asked)
    shown = page(
        "watch.html",
        asked=asked,
        total=total,
        paged=one_page(rows, offset, total),
        ranks=RANKS,
        problem=problem,
        given=request.form,
        says=review_wording,
    )
    return answered(shown, problem)


def _watch_do() -> Response:
    form = request.form
    try:
        if form.get("do") == "end":
            unwatch(house(), actor(), _number(form.get("number", "")), form.get("reason", ""))
            return redirect(f"/steward/watch?{request.query_string.decode('ascii', 'ignore')}".rstrip("?"), 303)
        watch(house(), actor(), posted_watch(form))
    except _REFUSED as error:
        return _watch(error)
    return redirect("/steward/watch?sort=newest", 303)


def _back(number: int, problem: ChockbookError | None = None) -> Response:
    require(actor(), Right.APPROVE)
    editions = list_editions(house())
    found = next((edition for edition in editions if edition.number == number), None)
    if found is None:
        raise NotFound(f"There is no edition {number}.", cure="Look at the list of editions.")
    shown = page(
        "back.html", edition=found, newest=editions[-1].number, problem=problem, given=request.form, says=review_wording
    )
    return answered(shown, problem)


def _back_do(number: int) -> Response:
    try:
        made = go_back(house(), actor(), number, request.form.get("reason", ""))
    except _REFUSED as error:
        return _back(number, error)
    return redirect(f"/editions/{made - 1}/changes?to={made}", 303)


def _number(text: str) -> int:
    number = whole_number(text)
    if number is None:
        raise BadInput(f"{text!r} is no number.", cure="Use the buttons of the page.")
    return number
