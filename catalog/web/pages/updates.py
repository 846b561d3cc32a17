"""Guide updates: the list, one of them record by record, decisions, the checks and publishing."""

from collections.abc import Sequence
from urllib.parse import urlencode

from flask import Blueprint, make_response, redirect, request
from werkzeug.wrappers import Response

from catalog.domain.roles import Right
from catalog.errors import BadInput, ChockbookError, Conflict, Forbidden, NotFound
from catalog.services.acting import require
from catalog.services.edited import fact_from
from catalog.services.gates import WATCH
from catalog.services.publishing import check_publication, known_check, publish_edition
from catalog.services.records import parsed_code
from catalog.services.reviewing import Edit, Judgement, accept_rest, decide, edit, rebase, reopen, set_aside
from catalog.services.update_findings import FindingsAsked, StoredFinding, read_findings
from catalog.services.update_reading import RecordsAsked, read_change, read_file, read_update
from catalog.services.updates import UpdatesAsked, list_updates
from catalog.web import review_wording
from catalog.web.acting import actor
from catalog.web.errors import answered
from catalog.web.paging import asked_part, one_page
from catalog.web.render import house, page
from catalog.web.review import record_rows

_REFUSED = (BadInput, Conflict, Forbidden, NotFound)
_UPDATE = "/steward/updates/<int:number>"
# Findings of a file that stand beside its records; of more only those of the record that is shown.
MOST_BESIDE = 20
# Where the keyboard goes on after a whole record: the next one, else the way to publishing.
GO_ON = "#go-on"


def add(blueprint: Blueprint) -> None:
    """Add /steward/updates and what leads on from it."""
    rule = blueprint.add_url_rule
    rule("/steward/updates", "updates", _updates)
    rule(_UPDATE, "update", lambda number: _shown(number))
    rule(_UPDATE, "update_do", _do, methods=["POST"])
    rule(f"{_UPDATE}/records/<code>", "update_record_do", _decide, methods=["POST"])
    rule(f"{_UPDATE}/findings", "update_findings", _findings)
    rule(f"{_UPDATE}/file", "update_file", _file)
    rule(f"{_UPDATE}/publish", "update_publish", lambda number: _publishing(number))
    rule(f"{_UPDATE}/publish", "update_publish_do", _publish, methods=["POST"])


def _updates() -> str:
    offset, limit = asked_part()
    args = request.args
    asked = UpdatesAsked(
        args.get("state", ""), args.get("origin", ""), args.get("words", ""), args.get("sort", "newest"),
        offset=offset, limit=limit,
    )  # fmt: skip
    found = list_updates(house(), actor(), asked)
    shown = one_page(found.updates, offset, found.total)
    return page("updates.html", found=found, paged=shown, asked=asked, says=review_wording)


def _shown(number: int, problem: ChockbookError | None = None, code: str = "") -> Response:
    who = require(actor(), Right.UPDATE)
    offset, limit = asked_part()
    args = request.args
    code = code or args.get("record", "")
    # A record that is named without a page: its own page of the list.
    beside = code if "page" not in args else ""
    asked = RecordsAsked(
        args.get("state", ""), args.get("only", ""), args.get("words", ""), args.get("sort", "pressing"),
        offset=offset, limit=limit, beside=beside,
    )  # fmt: skip
    view = read_update(house(), who, number, asked)
    code = code or _first(view.lines)
    review = read_change(house(), who, number, code) if code else None
    approves = Right.APPROVE in who.rights
    return answered(
        page(
            "update.html",
            view=view,
            paged=one_page(view.lines, view.offset, view.total, _address_of(number)),
            asked=asked,
            review=review,
            findings=_beside(view.findings, review.record.code if review else ""),
            rows=record_rows(review, who.name, approves=approves) if review else None,
            following=next((one for one in view.undecided if not review or one != review.record.code), ""),
            approves=approves,
            problem=problem,
            says=review_wording,
            address=lambda **more: _address(number, **more),
            doing=lambda code="": _doing(number, code),
        ),
        problem,
    )


def _beside(findings: Sequence[StoredFinding], code: str) -> tuple[StoredFinding, ...]:
    """Those shown beside a record: all of a few, else its own."""
    if len(findings) <= MOST_BESIDE:
        return tuple(findings)
    return tuple(one for one in findings if one["record"] == code)[:MOST_BESIDE]


def _findings(number: int) -> str:
    offset, limit = asked_part()
    args = request.args
    asked = FindingsAsked(args.get("severity", ""), args.get("words", "").strip(), offset=offset, limit=limit)
    part = read_findings(house(), actor(), number, asked)
    return page(
        "update_findings.html", number=number, part=part, asked=asked, says=review_wording,
        paged=one_page(part.findings, offset, part.total),
    )  # fmt: skip


def _first(lines: tuple[object, ...]) -> str:
    return str(getattr(lines[0], "code", "")) if lines else ""


def _do(number: int) -> Response:
    form = request.form
    try:
        match form.get("do", ""):
            case "rest":
                accept_rest(house(), actor(), number, critical=True)
            case "rest_plain":
                accept_rest(house(), actor(), number, critical=False)
            case "aside":
                set_aside(house(), actor(), number, form.get("words", ""))
            case "reopen":
                reopen(house(), actor(), number, form.get("words", ""))
            case other:
                raise BadInput(f"{other!r} is nothing that can be done here.", cure="Use the buttons of the page.")
    except _REFUSED as error:
        return _shown(number, error)
    return redirect(_address(number) + GO_ON, 303)


def _decide(number: int, code: str) -> Response:
    form = request.form
    known, path = parsed_code(code), form.get("path", "") or None
    kind, words, of = form.get("do", ""), form.get("words", ""), form.get("of", "")
    try:
        if kind == "rebase":
            rebase(house(), actor(), number, known)
        elif kind == "edit":
            fact = fact_from(path or "", form.get("value", ""), form.get("source", ""))
            edit(house(), actor(), Edit(number, known, path or "", fact, words, of))
        else:
            decide(house(), actor(), Judgement(number, known, kind, path, words, of))
    except _REFUSED as error:
        return _shown(number, error, known)
    anchor = form.get("at", "")
    return redirect(_address(number, record=known) + (f"#{anchor}" if anchor.isalnum() else GO_ON), 303)


def _file(number: int) -> Response:
    name, content = read_file(house(), actor(), number)
    made = make_response(content)
    made.headers["Content-Type"] = "application/octet-stream"
    safe = "".join(char if char.isascii() and (char.isalnum() or char in "._-") else "_" for char in name)
    made.headers["Content-Disposition"] = f'attachment; filename="{safe or "update"}"'
    made.headers["Cache-Control"] = "no-store"
    return made


def _publishing(number: int, problem: ChockbookError | None = None, note: str = "", override: str = "") -> Response:
    who = require(actor(), Right.UPDATE)
    view = read_update(house(), who, number, RecordsAsked(limit=1))
    checked = None
    try:
        checked = known_check(house(), who, [number])
    except _REFUSED as error:
        problem = problem or error
    return answered(
        page(
            "publish.html",
            view=view,
            checked=checked,
            watch=WATCH,
            approves=Right.APPROVE in who.rights,
            problem=problem,
            note=note,
            override=override,
            says=review_wording,
        ),
        problem if request.method == "POST" else None,
    )


def _publish(number: int) -> Response:
    form = request.form
    note, override = form.get("note", ""), form.get("override", "")
    try:
        if form.get("do") == "check":
            check_publication(house(), actor(), [number])
            return redirect(f"/steward/updates/{number}/publish", 303)
        overrides = {WATCH: override} if override.strip() else {}
        made = publish_edition(house(), actor(), [number], note, overrides)
    except _REFUSED as error:
        return _publishing(number, error, note, override)
    return redirect(f"/editions/{made - 1}/changes?to={made}", 303)


def _address(number: int, **more: object) -> str:
    """Of the update with the filters asked for; more: others in their place."""
    return _address_of(number) + _asked_again(**more)


def _doing(number: int, code: str) -> str:
    """Where decisions of the update, or of a record of it, are posted: the filters go along and hold afterwards."""
    return _address_of(number) + (f"/records/{code}" if code else "") + _asked_again()


def _address_of(number: int) -> str:
    return f"/steward/updates/{number}"


def _asked_again(**more: object) -> str:
    kept = {key: value for key, value in request.args.items() if key in ("state", "only", "words", "sort", "page")}
    asked = {key: value for key, value in {**kept, **more}.items() if value not in ("", None)}
    return f"?{urlencode(asked)}" if asked else ""
