"""Doubts and the newest edition over the API. Docstrings are what the docs page says."""

import dataclasses
from collections.abc import Mapping
from typing import Any

from catalog.api.reply import NEWEST, PRIVATE, Reply
from catalog.domain import cautions
from catalog.services.compiling import edition_view
from catalog.services.doubting import doubt as put_doubt
from catalog.services.doubts import all_in
from catalog.services.fact_history import fact_history
from catalog.services.house import House
from catalog.services.records import parsed_code, read_record
from catalog.services.shown import Telling, tell_holders, who_was_shown
from schemas import doubts
from schemas.answers import with_cautions

Arguments = Mapping[str, Any]


def doubt(house: House, given: Arguments) -> Reply:
    """Doubt a fact: it is not stated from now on, in an edition published at once.

    One person, no second one. The fact's protective reading takes over; every page and answer says that it is doubted,
    since when and why. Putting it back takes a proposal and another person's approval.
    """
    code = parsed_code(given["code"])
    number = put_doubt(house, given["actor"], code, given["path"], given["reason"], seen=given["revision"])
    standing = read_record(house, code, edition=number).doubts
    return Reply(doubts.DoubtedAnswer().dump({"edition": number, "doubts": standing}), number, PRIVATE)


def list_doubts(house: House, given: Arguments) -> Reply:
    """Every doubt that stands in the newest edition, newest first."""
    compiled = house.shelf.current()
    edition = edition_view(compiled)
    told = cautions.full(edition.number, edition.published_at, demo=house.settings.demo)
    view = {"edition": edition, "doubts": all_in(compiled)}
    return Reply(with_cautions(doubts.DoubtsAnswer, view, told), edition.number)


def newest(house: House, given: Arguments) -> Reply:
    """Which edition is the newest, and what was doubted since one that is known.

    For pages and devices to ask often: nothing is looked up in the database, and an unchanged answer is a 304.
    """
    compiled = house.shelf.current()
    if given["device"]:
        house.counts.note_fetch(given["device"], min(given["since"], compiled.number))
    titles = compiled.titles
    since = [each for each in all_in(compiled) if each.edition > given["since"]]
    told = {
        "number": compiled.number,
        "hash": compiled.hash,
        "published_at": compiled.published_at,
        "doubts": [
            {
                "code": each.code, "title": titles.get(each.code, each.code), "path": each.path, "label": each.label,
                "since": each.since, "edition": each.edition, "reason": each.reason,
            }
            for each in since
        ],
    }  # fmt: skip
    return Reply(doubts.NewestAnswer().dump(told), compiled.number, NEWEST)


def history_of_fact(house: House, given: Arguments) -> Reply:
    """How one fact came to say what it says: who changed it, when, why, from which guide page. Newest first."""
    found = fact_history(house, parsed_code(given["code"]), given["path"])
    part = found.steps[given["offset"] : given["offset"] + given["limit"]]
    edition = edition_view(house.shelf.current())
    told = cautions.full(edition.number, edition.published_at, demo=house.settings.demo)
    view = {
        "code": found.code, "title": found.title, "path": found.path, "label": found.label,
        "total": len(found.steps), "steps": [{**_plain(step), "editions": _spans(step.spans)} for step in part],
    }  # fmt: skip
    return Reply(with_cautions(doubts.FactHistoryAnswer, view, told), edition.number)


def shown(house: House, given: Arguments) -> Reply:
    """Who was shown a fact: which briefs rest on it as an edition says it, which devices had such an edition.

    A device is a random id that it drew itself.
    """
    code = parsed_code(given["code"])
    view = who_was_shown(house, given["actor"], code, given["path"], given["edition"] or None)
    document = doubts.ShownAnswer().dump({**_plain(view), "editions": _spans(view.spans)})
    return Reply(document, view.edition, PRIVATE)


def tell(house: House, given: Arguments) -> Reply:
    """Tell the holders of briefs that rest on a fact: the words stand on the page of each of them."""
    code = parsed_code(given["code"])
    count = tell_holders(house, given["actor"], Telling(code, given["path"], given["words"], given["edition"]))
    return Reply(doubts.ToldAnswer().dump({"briefs": count}), given["edition"], PRIVATE)


def _plain(view: Any) -> dict[str, Any]:
    return {field.name: getattr(view, field.name) for field in dataclasses.fields(view)}


def _spans(spans: tuple[tuple[int, int | None], ...]) -> list[dict[str, int | None]]:
    return [{"since": since, "until": until} for since, until in spans]
