"""Crew reports and the work list over the API. Docstrings are what the docs page says."""

import io
from collections.abc import Mapping
from typing import Any

from catalog.api.reply import PRIVATE, FileReply, Reply
from catalog.domain import cautions
from catalog.errors import BadInput
from catalog.services import report_photos as photos
from catalog.services import sources
from catalog.services.compiling import edition_view
from catalog.services.crew_reports import Reported
from catalog.services.crew_reports import report as keep_report
from catalog.services.house import House
from catalog.services.report_photos import PhotoGiven, keep_photo
from catalog.services.work_list import WorkAsked, close_work, draft_work, list_work, open_work, work_entry
from schemas import reports
from schemas.answers import with_cautions
from schemas.source_list import SourceFileAnswer, SourcesAnswer

Arguments = Mapping[str, Any]


def report(house: House, given: Arguments) -> Reply:
    """Report what a crew saw that a record does not say.

    With the revision they had before them. A steward looks at it on the work list; nothing changes by it. Sent again
    under its id it is stored once. At most 60 a minute are taken.
    """
    names = ("id", "code", "path", "revision", "words", "device")
    new = keep_report(house, Reported(**{name: given[name] for name in names}))
    return _reply(house, reports.ReportAnswer().dump({"id": given["id"], "again": not new}))


def report_shown(house: House, given: Arguments) -> Reply:
    """What `report` answers the first time, with nothing written down: for the docs page."""
    return _reply(house, reports.ReportAnswer().dump({"id": given["id"], "again": False}))


def report_photo(house: House, given: Arguments) -> Reply:
    """Send the photo of a report that has come, as the body.

    JPEG, PNG or WebP. It is drawn anew: at most 1,600 pixels long, and nothing but its pixels is kept. Sent again it is
    stored once. Only who looks after the catalogue sees it.
    """
    new = keep_photo(house, PhotoGiven(given["report"], given["device"], given["file"]))
    return _reply(house, reports.ReportAnswer().dump({"id": given["report"], "again": not new}))


def report_photo_shown(house: House, given: Arguments) -> Reply:
    """What `report_photo` answers the first time, with nothing written down: for the docs page."""
    return _reply(house, reports.ReportAnswer().dump({"id": given["report"], "again": False}))


def see_report_photo(house: House, given: Arguments) -> Reply:
    """The photo of a report, a JPEG without metadata."""
    content = photos.report_photo(house, given["actor"], given["report"])
    file, name = io.BytesIO(content), f"report-{given['report'][:8]}.jpg"
    return FileReply({}, house.shelf.current().number, PRIVATE, file, name)


def work(house: House, given: Arguments) -> Reply:
    """The work list: crew reports, cues of vehicles not in the catalogue, words nobody reads, records that grow old."""
    found = list_work(house, given["actor"], WorkAsked(given["kind"], given["state"], given["words"]))
    part = found[given["offset"] : given["offset"] + given["limit"]]
    return _reply(house, reports.WorkAnswer().dump({"total": len(found), "entries": part}))


def list_sources(house: House, given: Arguments) -> Reply:
    """The guides of the newest edition, with how many facts and records cite each, and whether its file is stored."""
    edition = edition_view(house.shelf.current())
    found = sources.list_sources(house, sources.SourcesAsked(given["words"], given["kind"], given["sort"]))
    part = found[given["offset"] : given["offset"] + given["limit"]]
    told = cautions.full(edition.number, edition.published_at, demo=house.settings.demo)
    view = {"edition": edition, "total": len(found), "sources": part}
    return Reply(with_cautions(SourcesAnswer, view, told), edition.number)


def store_source_file(house: House, given: Arguments) -> Reply:
    """Store a guide's file: the body is the file, as it is.

    Its SHA-256 must be the one the source states; where the source states none, `stated_anew` says that it is its file.
    The same file again is stored once. It is opened at a page by adding `#page=N` to `address`. At most 32 MB.
    """
    key = _source_key(given)
    file = sources.FileGiven(key, given["name"], given["file"], given["stated_anew"])
    digest = sources.keep_file(house, given["actor"], file)
    media_type = sources.media_type_of(given["file"])
    told = {"key": key, "hash": digest, "media_type": media_type, "address": f"/source-files/{key}"}
    return _reply(house, SourceFileAnswer().dump(told))


def read_source_file(house: House, given: Arguments) -> FileReply:
    """A guide's file, the one stored last: to keep, never to be shown inside a page.

    For a browser that opens a PDF at a page there is `/source-files/NUMBER/ISSUE#page=N`.
    """
    found = sources.source_file(house, _source_key(given))
    return FileReply({}, house.shelf.current().number, PRIVATE, io.BytesIO(found.content), found.header_name)


def _source_key(given: Arguments) -> str:
    return f"{given['number'].upper()}/{given['issue']}"


def decide_work(house: House, given: Arguments) -> Reply:
    """Close an entry, open it again, or make a draft change of it."""
    kind, slash, key = given["entry"].partition("/")
    if not slash or not key:
        raise BadInput("That names no entry.", cure="Give KIND/KEY, as the list does.")
    person = given["actor"]
    match given["action"]:
        case "draft":
            draft_work(house, person, kind, key, given["code"])
        case "open":
            open_work(house, person, kind, key, given["reason"])
        case _:
            close_work(house, person, kind, key, given["reason"])
    return _reply(house, reports.WorkEntryAnswer().dump(work_entry(house, person, kind, key)))


def _reply(house: House, document: Mapping[str, Any]) -> Reply:
    return Reply(document, house.shelf.current().number, PRIVATE)
