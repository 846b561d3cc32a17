"""Who was shown a fact: which briefs carried it, which devices had it; and telling the briefs' holders."""

import secrets
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

from catalog.domain.doubt import Said, may_be_doubted, said_at
from catalog.domain.roles import Right
from catalog.errors import BadInput, NotFound
from catalog.services.acting import Actor, require
from catalog.services.brief_views import BriefShort
from catalog.services.briefs import kept_with, short
from catalog.services.clock import moment_of, now_us
from catalog.services.compiling import record_of
from catalog.services.doubts import noted_as, path_words, said_words
from catalog.services.house import House
from catalog.services.records import parsed_code
from catalog.services.trail import note
from catalog.store import read as store
from catalog.store.briefs import briefs_about
from catalog.store.engine import read, write
from catalog.store.rows import RevisionHistory
from catalog.store.shown import StoredNotice, add_notice, devices_with, notices_of

MOST_DEVICES = 200
LONGEST = 400


@dataclass(frozen=True, slots=True)
class DeviceShown:
    """A device that had an edition with the fact. device: its random id. days: UTC."""

    device: str
    edition: int
    first_day: date
    last_day: date


@dataclass(frozen=True, slots=True)
class NoticeView:
    """What the holders of briefs were told."""

    id: str
    path: str
    words: str
    author: str
    time: datetime


@dataclass(frozen=True, slots=True)
class ShownView:
    """said: in words, as edition `edition` says it; "" where it is silent. spans: editions that said it, half-open.

    briefs: of the `brief_count` that rest on the fact as it was said then, those asked for. device_count: of `devices`
    at most MOST_DEVICES rows are given.
    """

    code: str
    path: str
    label: str
    edition: int
    revision: str
    said: str
    spans: tuple[tuple[int, int | None], ...]
    brief_count: int
    briefs: tuple[BriefShort, ...]
    device_count: int
    devices: tuple[DeviceShown, ...]
    notices: tuple[NoticeView, ...]


@dataclass(frozen=True, slots=True)
class ShownAsked:
    """A fact as an edition says it; of the newest where none is named. Of its briefs so many from offset on, all where
    limit is None."""

    code: str
    path: str
    edition: int | None = None
    offset: int = 0
    limit: int | None = None


def who_was_shown(house: House, actor: Actor | None, code: str, path: str, edition: int | None = None) -> ShownView:
    """Who was shown a fact, with every brief. Raises as `shown_part`."""
    return shown_part(house, actor, ShownAsked(code, path, edition))


def shown_part(house: House, actor: Actor | None, asked: ShownAsked) -> ShownView:
    """Who was shown a fact. Raises NotSignedIn, Forbidden, BadInput, NotFound, Unavailable."""
    require(actor, Right.UPDATE)
    known = _path(asked.path)
    with read(house.engine) as conn:
        newest = store.latest(conn)
        number = asked.edition or (newest.number if newest else 0)
        found = store.record_at(conn, parsed_code(asked.code), number)
        if found is None or newest is None or number > newest.number:
            raise NotFound(f"Edition {number} has no record {asked.code}.", cure="Name an edition that lists it.")
        said = said_at(record_of(found.document), known)
        alike = [one for one in store.history(conn, found.code) if _says(one, known) == said]
        spans = tuple(sorted((each.from_edition, each.to_edition) for one in alike for each in one.listed))
        hashes = {one.revision.hash for one in alike}
        kept = list(kept_with(briefs_about(conn, found.code, hashes), noted_as(known)))
        shown = kept[asked.offset : None if asked.limit is None else asked.offset + asked.limit]
        briefs = tuple(short(conn, one) for one in shown)
        count, devices = devices_with(conn, spans, MOST_DEVICES)
        told = tuple(
            NoticeView(each.id, each.path, each.words, each.author, moment_of(each.time_us))
            for each in notices_of(conn, found.code, known)
        )
    return ShownView(
        code=found.code,
        path=known,
        label=path_words(known),
        edition=number,
        revision=found.hash,
        said=said_words(said),
        spans=spans,
        brief_count=len(kept),
        briefs=briefs,
        device_count=count,
        devices=tuple(DeviceShown(d.device, d.edition, _day(d.first_day), _day(d.last_day)) for d in devices),
        notices=told,
    )


@dataclass(frozen=True, slots=True)
class Telling:
    """What holders are told of a fact, as an edition says it. words: read on the page of each brief."""

    code: str
    path: str
    words: str
    edition: int


def tell_holders(house: House, actor: Actor | None, telling: Telling) -> int:
    """Mark every brief that rests on the fact as that edition says it; returns how many there are.

    Briefs made of it later from the same revisions are marked as well. Raises NotSignedIn, Forbidden, BadInput,
    NotFound, Unavailable.
    """
    person = require(actor, Right.UPDATE)
    words = " ".join(telling.words.split())
    if not words or len(words) > LONGEST:
        raise BadInput(
            "There is nothing to tell." if not words else "It is too long.", cure=f"1 to {LONGEST} characters."
        )
    view = shown_part(house, person, ShownAsked(telling.code, telling.path, telling.edition, limit=0))
    with write(house.engine) as conn:
        for one in store.history(conn, view.code):
            if said_words(_says(one, view.path)) == view.said:
                id_ = secrets.token_urlsafe(18)
                add_notice(
                    conn, StoredNotice(id_, view.code, view.path, one.revision.hash, words, person.name, now_us())
                )
        note(conn, person, "tell holders", view.code, {"path": view.path, "briefs": view.brief_count})
    return view.brief_count


def _path(path: str) -> str:
    if not may_be_doubted(path):
        raise NotFound(f"{path!r} names no fact.", cure="Name it as the record's history does, such as ports[a].place.")
    return path


def _says(one: RevisionHistory, path: str) -> Said:
    return said_at(record_of(one.revision.document), path)


def _day(days: int) -> date:
    return (datetime(1970, 1, 1, tzinfo=UTC) + timedelta(days=days)).date()
