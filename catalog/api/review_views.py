"""Guide updates, review, publication and the watch list over the API. Docstrings are what the docs page says."""

from collections.abc import Mapping
from typing import Any

from catalog.api.reply import FIXED, PRIVATE, Reply
from catalog.domain import cautions
from catalog.services import publishing, reviewing, update_reading, updates, watch_list
from catalog.services.amending import cue_of
from catalog.services.change_file import change_lines
from catalog.services.compiling import edition_view
from catalog.services.house import House
from catalog.services.records import parsed_code
from catalog.services.reviewing import Edit, Judgement
from catalog.services.watch_list import WatchAsked
from schemas import review
from schemas.answers import with_cautions

Arguments = Mapping[str, Any]


def list_updates(house: House, given: Arguments) -> Reply:
    """Guide updates, newest first.

    What was brought in and is to be reviewed, was published, or was set aside. Nothing of an update is in the catalogue
    before it is published.
    """
    names = ("state", "words", "sort", "offset", "limit")
    asked = updates.UpdatesAsked(**{name: given[name] for name in names})
    return _reply(house, review.UpdatesAnswer, updates.list_updates(house, given["actor"], asked))


def update(house: House, given: Arguments) -> Reply:
    """One guide update: how its records stand, and those asked for, most pressing first.

    Less cautious changes come first, then more cautious ones, then other safety-critical ones, then the rest.
    """
    names = ("state", "only", "words", "sort", "offset", "limit")
    asked = update_reading.RecordsAsked(**{name: given[name] for name in names})
    view = update_reading.read_update(house, given["actor"], given["update"], asked)
    return _reply(house, review.UpdateViewAnswer, view)


def update_record(house: House, given: Arguments) -> Reply:
    """One record of a guide update, field by field.

    Old, new, what the change does to a crew's caution, where it came from, what was decided and by whom.
    """
    return _record(house, given)


def decide(house: House, given: Arguments) -> Reply:
    """Accept or reject a record or one field of it, or comment.

    What is decided later counts; nothing is ever taken back. Whoever brought a safety-critical change in, or edited
    it, cannot accept it: 403. A record that has moved on since is a 409: bring it up to what is listed first.
    """
    code = parsed_code(given["code"])
    judgement = Judgement(given["update"], code, given["kind"], given["path"] or None, given["words"], given["change"])
    reviewing.decide(house, given["actor"], judgement)
    return _record(house, given)


def edit(house: House, given: Arguments) -> Reply:
    """Put another value in a field's place.

    The record must pass the schema with it; another person has to accept it.
    """
    code = parsed_code(given["code"])
    made = Edit(given["update"], code, given["path"], given["fact"], given["words"], given["change"])
    reviewing.edit(house, given["actor"], made)
    return _record(house, given)


def rebase(house: House, given: Arguments) -> Reply:
    """Bring a record's changes up to what is listed now.

    Changes of other fields are kept as they are; of the same field both sides are shown, and it is decided anew.
    """
    reviewing.rebase(house, given["actor"], given["update"], parsed_code(given["code"]))
    return _record(house, given)


def set_aside(house: House, given: Arguments) -> Reply:
    """Close a guide update without publishing it. Nothing of it is removed."""
    reviewing.set_aside(house, given["actor"], given["update"], given["words"])
    view = update_reading.read_update(house, given["actor"], given["update"], update_reading.RecordsAsked())
    return _reply(house, review.UpdateViewAnswer, view)


def check(house: House, given: Arguments) -> Reply:
    """The checks of what is accepted of some updates, as if it were published now.

    Schema and plausibility of every record, every chain, what facts rest on, the watch list, and simulated descriptions
    of the edition's vehicles, before and after. They are stored. Takes some seconds.
    """
    checked = publishing.check_publication(house, given["actor"], given["updates"])
    return _reply(house, review.GatesAnswer, review.gates_view(checked))


def publish(house: House, given: Arguments) -> Reply:
    """Publish what is accepted of some updates as the next edition.

    All of it or nothing. A check that blocks is a 409; the watch list can be overridden with a reason.
    """
    number = publishing.publish_edition(
        house, given["actor"], given["updates"], given["note"], overrides=given["overrides"]
    )
    return _reply(house, review.PublishedAnswer, {"edition": number})


def back(house: House, given: Arguments) -> Reply:
    """Go back: publish an earlier edition's members as the next edition.

    One approver may, with a reason. Nothing is lost; what was published in between stays in the history.
    """
    number = publishing.go_back(house, given["actor"], given["edition"], given["reason"])
    return _reply(house, review.PublishedAnswer, {"edition": number})


def change_file(house: House, given: Arguments) -> Reply:
    """What differs between two editions, for another site to follow.

    A header, every member that is closed or opened with its document and hashes, and a last line that covers them
    all. As canonical JSON, one a line, they are the file that `chockbook edition changes --file` writes.
    """
    lines = change_lines(house, given["a"], given["to"])
    return Reply({"lines": list(lines)}, given["to"], FIXED)


def watched(house: House, given: Arguments) -> Reply:
    """The watch list: descriptions that must go on finding their record."""
    return _reply(house, review.WatchListAnswer, {"watched": watch_list.watched(house)})


def watch(house: House, given: Arguments) -> Reply:
    """Watch that a description goes on finding a record.

    The text is read and forgotten, its cues are kept; what an answer understood can be sent as `cues` instead.
    """
    cues = tuple(map(cue_of, given["cues"]))
    asked = WatchAsked(given["code"], given["text"], cues, given["rank"], given["name"])
    watch_list.watch(house, given["actor"], asked)
    return watched(house, given)


def unwatch(house: House, given: Arguments) -> Reply:
    """Watch an entry no more."""
    watch_list.unwatch(house, given["actor"], given["number"], given["reason"])
    return watched(house, given)


def _record(house: House, given: Arguments) -> Reply:
    found = update_reading.read_change(house, given["actor"], given["update"], given["code"])
    return _reply(house, review.RecordReviewAnswer, review.record_view(found))


def _reply(house: House, schema: Any, view: Any) -> Reply:
    edition = edition_view(house.shelf.current())
    told = cautions.full(edition.number, edition.published_at, demo=house.settings.demo)
    return Reply(with_cautions(schema, view, told), edition.number, PRIVATE)
