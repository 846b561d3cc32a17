"""Editions, what differs between two of them, and the steward's overview."""

from flask import Blueprint, make_response, request
from werkzeug.wrappers import Response

from catalog.domain.roles import Right
from catalog.services.change_file import change_bytes
from catalog.services.editions import ChangesAsked, changes_part, list_editions
from catalog.services.narrowing import with_words
from catalog.services.records import list_records
from catalog.services.sayings import list_sayings
from catalog.services.unread import often_unread
from catalog.services.updates import waiting
from catalog.web import review_wording
from catalog.web.acting import actor
from catalog.web.changes import change_view
from catalog.web.coverage import listed_coverage
from catalog.web.paging import asked_number, asked_part, one_page, paged
from catalog.web.render import house, page

# Changes of the newest edition, and editions, that the steward's page begins with.
LAST = 10
# Records compared on one page, field by field.
CHANGES = 20


def add(blueprint: Blueprint) -> None:
    """Add /editions, the changes between two, /steward and its lists of unread words and of sayings."""
    blueprint.add_url_rule("/editions", "editions", _editions)
    blueprint.add_url_rule("/editions/<int:old>/changes", "changes", _changes)
    blueprint.add_url_rule("/editions/<int:old>/changes.jsonl", "change_file", _change_file)
    blueprint.add_url_rule("/steward", "steward", _steward)
    blueprint.add_url_rule("/steward/unread", "unread", _unread)
    blueprint.add_url_rule("/steward/sayings", "sayings", _sayings)


def _editions() -> str:
    asked = request.args.get("words", "").strip()
    said = with_words(asked)
    every = list_editions(house())
    found = [one for one in reversed(every) if said(f"{one.number} {one.author} {one.reason}")]
    shown = paged(found)
    return page("editions.html", editions=shown.rows, paged=shown, total=len(found), asked=asked, newest=len(every))


def _changes(old: int) -> str:
    new, (offset, limit) = asked_number("to"), asked_part(CHANGES)
    kind, words = request.args.get("kind", ""), request.args.get("words", "").strip()
    found = changes_part(house(), old, new, ChangesAsked(kind, words, offset, limit))
    shown = [change_view(change) for change in found.changes]
    return page(
        "changes.html", old=old, new=new, changes=shown, found=found, kind=kind, asked=words,
        paged=one_page(shown, offset, found.total, most=CHANGES),
    )  # fmt: skip


def _change_file(old: int) -> Response:
    new = asked_number("to")
    made = make_response(change_bytes(house(), old, new))
    made.headers["Content-Type"] = "application/jsonl"
    made.headers["Content-Disposition"] = f'attachment; filename="changes-{old}-{new}.jsonl"'
    return made


def _steward() -> str:
    editions = list_editions(house())
    newest = editions[-1].number if editions else 0
    last = changes_part(house(), newest - 1, newest, ChangesAsked(limit=LAST)) if newest else None
    listed = list_records(house())
    shown = paged(listed)
    rows = [(entry, None if entry.withdrawn else listed_coverage(house(), entry.code)) for entry in shown.rows]
    who = actor()
    waits, open_updates = waiting(house(), who) if who and Right.UPDATE in who.rights else (None, 0)
    return page(
        "steward.html",
        says=review_wording,
        waits=waits,
        open_updates=open_updates,
        editions=tuple(reversed(editions[-LAST:])),
        newest=newest,
        last=tuple(change_view(change) for change in last.changes) if last else (),
        last_of=last,
        rows=rows,
        total=len(listed),
        paged=shown,
    )


def _unread() -> str:
    (offset, limit), part = asked_part(), request.args.get("words", "").strip()
    found, total = often_unread(house(), limit, offset, part)
    return page("unread.html", paged=one_page(found, offset, total), total=total, asked=part)


def _sayings() -> str:
    about, wanted = request.args.get("about", ""), request.args.get("words", "")
    found = list_sayings(house(), about, wanted)
    return page("sayings.html", found=found, paged=paged(found.rows), about=about, wanted=wanted)
