"""One record: its page, as it stood then, and its history."""

from datetime import datetime
from urllib.parse import urlencode

from flask import Blueprint, redirect, request
from werkzeug.wrappers import Response

from catalog.domain.numbers import whole_number
from catalog.domain.roles import RIGHTS, Right
from catalog.domain.spec.template_order import ISO_17840_3
from catalog.errors import BadInput, NotFound, Unavailable
from catalog.services.doubts import doubter
from catalog.services.fact_history import fact_history
from catalog.services.fact_views import Lookalikes
from catalog.services.lookalikes import find_lookalikes
from catalog.services.records import history_part, parsed_code, read_record
from catalog.services.views import RecordView
from catalog.web.acting import seen
from catalog.web.changes import delta_rows
from catalog.web.paging import asked_part, one_page, paged
from catalog.web.record_view import record_view
from catalog.web.render import house, page
from catalog.web.walk_round import walk_round

MOST_ALIKE = 3


def add(blueprint: Blueprint) -> None:
    """Add /records/<code> and its history."""
    blueprint.add_url_rule("/records/<code>", "record", _record)
    blueprint.add_url_rule("/records/<code>/history", "history", _history)


def _record(code: str) -> str | Response:
    known = parsed_code(code)
    if known != code:
        query = request.query_string.decode("ascii", "ignore")
        return redirect(f"/records/{known}?{query}" if query else f"/records/{known}")
    found = read_record(house(), known, edition=asked_edition(), at=asked_moment())
    if found.withdrawn:
        return page("withdrawn.html", view=found)
    house().counts.note_opened(found.code)
    order = _order()
    shown = record_view(found, order)
    return page(
        "record.html",
        view=found,
        record=shown,
        walk=walk_round(found.record, shown.first, request.args.get("posture", ""), _address(found, order)),
        alike=_alike(found),
        doubter=doubter(found.doubts),
        may_doubt=found.code if _may_doubt(found) else "",
    )


def _may_doubt(found: RecordView) -> bool:
    """Whether who is signed in may doubt what the page shows: the newest edition's facts only."""
    visitor = seen()
    return visitor is not None and found.edition.number == found.latest and Right.DOUBT in RIGHTS[visitor.role]


def _alike(found: RecordView) -> Lookalikes | None:
    """Those of the newest edition only: what looked like it in an older one may read otherwise now."""
    if found.edition.number < found.latest:
        return None
    try:
        return find_lookalikes(house(), found.code, observer="crew", limit=MOST_ALIKE)
    except (NotFound, Unavailable):  # published, and not compiled on this host yet
        return None


def _history(code: str) -> str:
    if path := request.args.get("path"):
        found = fact_history(house(), code, path)
        return page("fact_history.html", found=found, paged=paged(found.steps))
    offset, limit = asked_part()
    revisions, total = history_part(house(), code, offset, limit)
    latest = read_record(house(), code)
    shown = [(revision, delta_rows(revision.changes)) for revision in revisions]
    return page("history.html", view=latest, revisions=shown, total=total, paged=one_page(shown, offset, total))


def _address(found: RecordView, order: str) -> str:
    """The page as it stands, without a posture."""
    kept = {"order": order, "edition": str(found.edition.number) if found.edition.number < found.latest else ""}
    query = urlencode({key: value for key, value in kept.items() if value})
    return f"/records/{found.code}?{query}" if query else f"/records/{found.code}"


def _order() -> str:
    order = request.args.get("order", "")
    if order not in ("", ISO_17840_3):
        raise BadInput(f"order is {order!r}.", cure=f"Use {ISO_17840_3}, or leave it out.")
    return order


def asked_edition() -> int | None:
    """The edition the address asks for. Raises BadInput."""
    text = request.args.get("edition")
    if text is None:
        return None
    number = whole_number(text)
    if number is None:
        raise BadInput(f"edition is {text!r}.", cure="Give its number, such as 2.")
    return number


def asked_moment() -> datetime | None:
    """The time the address asks for; a naive one is refused by the service. Raises BadInput."""
    text = request.args.get("at")
    if text is None:
        return None
    try:
        # A plus sign that was not escaped arrives as a space.
        return datetime.fromisoformat(text.replace(" ", "+"))
    except ValueError as error:
        raise BadInput(f"at is {text!r}.", cure="Write it as RFC 3339, such as 2026-03-01T09:00:00Z.") from error
