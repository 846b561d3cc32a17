"""Free text over every note and guide of the current edition."""

from collections.abc import Mapping

from catalog.compiled import Compiled
from catalog.domain import codes
from catalog.domain.sources import newest_issues, number_and_issue
from catalog.errors import BadInput
from catalog.search.port import TextHit
from catalog.services.compiling import edition_view
from catalog.services.house import House
from catalog.services.views import Found, Hit

LONGEST = 2000


def find_text(house: House, query: str, *, limit: int = 20) -> Found:
    """The notes that hold the query's words, best first; a record code finds its record.

    Raises BadInput, Unavailable.
    """
    if len(query) > LONGEST:
        raise BadInput(f"The query has {len(query)} characters; at most {LONGEST} are read.", cure="Use a few words.")
    if limit < 1:
        raise BadInput(f"limit is {limit}.", cure="Use 1 or more.")
    compiled = house.shelf.current()
    if code := _code(query, compiled):
        return Found(edition_view(compiled), query, 1, (_record_hit(code, compiled),))
    total, found = compiled.text.find(query, limit)
    newest = newest_issues(compiled.source_keys)
    # What a newer issue of the same guide has replaced is still found, but after what holds now.
    hits = sorted((_hit(hit, newest) for hit in found), key=lambda hit: bool(hit.replaced_by))
    return Found(edition_view(compiled), query, total, tuple(hits))


def _code(query: str, compiled: Compiled) -> str | None:
    """The record code the query is, in any spelling, if this edition lists it."""
    known = codes.parse(query)
    return known if known in compiled.codes else None


def _record_hit(code: str, compiled: Compiled) -> Hit:
    meta = compiled.tables.meta
    place = meta["codes"].index(code)
    return Hit("record", code, meta["titles"][place], code, None, ((meta["subtitles"][place], False),), 0.0)


def _hit(hit: TextHit, newest: Mapping[str, int]) -> Hit:
    where = hit.key if hit.page is None else f"{hit.key}, page {hit.page}"
    replaced = ""
    if hit.kind == "guide":
        number, issue = number_and_issue(hit.key)
        if newest.get(number, issue) > issue:
            replaced = f"{number}/{newest[number]}"
            where = f"{where}: OLDER ISSUE, {replaced} replaces it"
    return Hit(hit.kind, hit.key, hit.title, where, hit.page, hit.snippet, hit.score, replaced)
