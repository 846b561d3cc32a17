"""Editions, what differs between two of them, and the steward's overview."""

from flask import Blueprint, make_response, request
from werkzeug.wrappers import Response

from catalog.domain.roles import Right
from catalog.services.change_file import change_bytes
from catalog.services.editions import edition_changes, list_editions
from catalog.services.records import list_records, read_record
from catalog.services.sayings import list_sayings
from catalog.services.unread import often_unread
from catalog.services.updates import waiting
from catalog.web import review_wording
from catalog.web.acting import actor
from catalog.web.changes import change_view
from catalog.web.coverage import coverage
from catalog.web.paging import asked_number, paged
from catalog.web.render import house, page


def add(blueprint: Blueprint) -> None:
    """Add /editions, the changes between two, /steward and its lists of unread words and of sayings."""
    blueprint.add_url_rule("/editions", "editions", _editions)
    blueprint.add_url_rule("/editions/<int:old>/changes", "changes", _changes)
    blueprint.add_url_rule("/editions/<int:old>/changes.jsonl", "change_file", _change_file)
    blueprint.add_url_rule("/steward", "steward", _steward)
    blueprint.add_url_rule("/steward/unread", "unread", lambda: page("unread.html", found=often_unread(house())))
    blueprint.add_url_rule("/steward/sayings", "sayings", _sayings)


def _editions() -> str:
    return page("editions.html", editions=tuple(reversed(list_editions(house()))))


def _changes(old: int) -> str:
    new = asked_number("to")
    changes = tuple(change_view(change) for change in edition_changes(house(), old, new))
    ordered = sorted(changes, key=lambda change: change.weight)
    return page("changes.html", old=old, new=new, changes=ordered, editions=list_editions(house()))


def _change_file(old: int) -> Response:
    new = asked_number("to")
    made = make_response(change_bytes(house(), old, new))
    made.headers["Content-Type"] = "application/jsonl"
    made.headers["Content-Disposition"] = f'attachment; filename="changes-{old}-{new}.jsonl"'
    return made


def _steward() -> str:
    editions = list_editions(house())
    newest = editions[-1].number if editions else 0
    last = edition_changes(house(), newest - 1, newest) if newest else ()
    listed = list_records(house())
    shown = paged(listed)
    rows = [
        (entry, None if entry.withdrawn else coverage(read_record(house(), entry.code).record)) for entry in shown.rows
    ]
    who = actor()
    return page(
        "steward.html",
        says=review_wording,
        waits=waiting(house(), who) if who and Right.UPDATE in who.rights else None,
        editions=tuple(reversed(editions)),
        newest=newest,
        last=sorted((change_view(change) for change in last), key=lambda change: change.weight),
        last_words=sum(change.kind not in ("record", "source") for change in last),
        rows=rows,
        total=len(listed),
        paged=shown,
    )


def _sayings() -> str:
    about, wanted = request.args.get("about", ""), request.args.get("words", "")
    found = list_sayings(house(), about, wanted)
    return page("sayings.html", found=found, paged=paged(found.rows), about=about, wanted=wanted)
