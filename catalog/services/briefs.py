"""Briefs: composed, kept behind a link, read again, looked up by what they were about.

A brief is fixed to its edition and revisions, and never changes. Nothing a caller said is kept: cues, codes, scene.
"""

import hashlib
import re
import secrets
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from sqlalchemy import Connection

from catalog.domain.canonical import canonical_bytes
from catalog.domain.codes import ALPHABET
from catalog.domain.record import shape_of
from catalog.domain.roles import Right
from catalog.errors import BadInput, NotFound, Unavailable
from catalog.services.acting import Actor, require
from catalog.services.brief_composing import BriefAsked, body_mac, compose_asked
from catalog.services.brief_kept import Composed, composed_of, document_of
from catalog.services.brief_newer import newer_of
from catalog.services.brief_views import (
    UNSTORED,
    BriefShort,
    BriefView,
    DayView,
    FollowerView,
    IncidentView,
    ReadBackView,
    RecallView,
    SentView,
    ToldView,
    title_of,
)
from catalog.services.clock import HOUR, moment_of, now_us, us_of
from catalog.services.doubts import noted_as, path_words
from catalog.services.house import House
from catalog.services.trail import note
from catalog.store import briefs as store
from catalog.store.engine import read, write
from catalog.store.shown import notices_about
from catalog.store.tables_briefs import BRIEF, CORRECTION, OPENED, READ_BACK, RECALLED, SENT

__all__ = [
    "BriefAsked",
    "BriefView",
    "brief_by_token",
    "briefs_with",
    "compose_brief",
    "compose_unstored",
    "kept_with",
    "read_brief",
]

_TOKEN_BYTES = 16  # 128 random bits
_ID = 10
MOST_LISTED = 500
KEY = re.compile(r"[A-Za-z0-9_-]{16,64}", re.ASCII)
INCIDENT = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,31}", re.ASCII)


def compose_brief(house: House, actor: Actor | None, asked: BriefAsked) -> BriefView:
    """Compose a brief and keep it, with a link.

    While the database is away it is composed all the same, unstored and marked. The same request under the same key
    gives the same brief with a link of its own. Raises NotSignedIn, Forbidden, BadInput, NotFound, Conflict, and
    Unavailable where there is no catalogue at all.
    """
    by = require(actor, Right.BRIEF)
    _check(asked)
    return keep(house, by, asked, compose_asked(house, asked))


def compose_unstored(house: House, asked: BriefAsked) -> BriefView:
    """The same brief, kept nowhere and marked so. Raises BadInput, NotFound, Unavailable."""
    _check(asked)
    return unstored(compose_asked(house, asked), "")


@dataclass(frozen=True, slots=True)
class Follows:
    """That what is composed follows a brief. id: "" where it follows none. kind: its own. more: asked for besides."""

    id: str = ""
    kind: str = BRIEF
    more: object = None


_FIRST = Follows()


def keep(house: House, by: Actor, asked: BriefAsked, composed: Composed, follows: Follows = _FIRST) -> BriefView:
    """Store what was composed; unstored and marked where that cannot be. Raises Conflict."""
    now = now_us()
    row = _row(by, asked, composed, follows, now)
    about = [store.AboutRecord(one.code, one.revision) for one in composed.vehicles]
    try:
        with write(house.engine) as conn:
            kept = store.add_brief(conn, row, about)
            token = make_link(house, conn, by, kept.id, now)
            note(conn, by, "brief", kept.id, {"incident": kept.incident, "letter": kept.letter, "kind": kept.kind})
    except Unavailable as error:
        return unstored(composed, by.name, error.message)
    view = _with_link(kept_view(kept), token, house, now)
    return replace(view, again=kept.id != row.id)


def _row(by: Actor, asked: BriefAsked, composed: Composed, follows: Follows, now: int) -> store.StoredBrief:
    """What is to be stored of a brief."""
    content = canonical_bytes(document_of(composed))
    key_hash = hashlib.sha256(f"{by.name}\0{asked.key}".encode()).hexdigest() if asked.key else None
    return store.StoredBrief(
        id=f"B-{_drawn(_ID)}",
        # One that is minted follows from the key, so that the same request sent twice at once opens one.
        incident=asked.incident or f"N-{_drawn(_ID) if key_hash is None else _drawn_from(key_hash)}",
        letter=asked.letter,
        number=0,
        kind=follows.kind,
        corrects=follows.id or None,
        edition=composed.edition.number,
        rules=composed.rules,
        composed_us=now,
        composed_by=by.name,
        via=by.via,
        content=content,
        content_hash=hashlib.sha256(content).hexdigest(),
        key_hash=key_hash,
        body_mac=body_mac(asked, [follows.id, follows.kind, follows.more]) if asked.key else None,
    )


def read_brief(house: House, actor: Actor | None, id_: str) -> BriefView:
    """A kept brief with what became of it. Raises NotSignedIn, Forbidden, NotFound, Unavailable."""
    require(actor, Right.BRIEF)
    with read(house.engine) as conn:
        return whole_view(conn, there(conn, id_))


def brief_by_token(house: House, token: str) -> BriefView:
    """The brief behind a link, for whoever has the link. Raises NotFound for a wrong and an ended one; one that was
    recalled says so for good. Raises Unavailable."""
    now = now_us()
    with read(house.engine) as conn:
        found = store.brief_by_link(conn, token_hash(token))
        if found is None:
            raise NotFound("There is no brief at this address.", cure="Ask the control room for the link again.")
        kept, link = found
        view = replace(whole_view(conn, kept), expires_at=moment_of(link.expires_us))
    if link.expires_us <= now and view.recalled is None:
        raise NotFound(
            f"This link ended at {moment_of(link.expires_us):%H:%M on %d %b %Y} UTC.",
            cure="Ask the control room for a new one. Until then go by the steps for any vehicle.",
        )
    return view


def new_link(house: House, actor: Actor | None, id_: str) -> BriefView:
    """Another link to a kept brief: one that was made is not shown again. Raises NotFound, Unavailable."""
    by, now = require(actor, Right.BRIEF), now_us()
    with write(house.engine) as conn:
        kept = there(conn, id_)
        token = make_link(house, conn, by, kept.id, now)
        view = _with_link(whole_view(conn, kept), token, house, now)
        note(conn, by, "link", kept.id)
    return view


def briefs_with(conn: Connection, code: str, path: str = "") -> Iterator[BriefShort]:
    """Every kept brief that a fact of a record helped to decide, the newest first. path: "" for the record as a whole.

    Call inside `engine.read`. A path of a list or its item counts where the list was looked through.
    """
    return (short(conn, kept) for kept in kept_with(store.briefs_about(conn, code), path))


def kept_with(briefs: Iterable[store.StoredBrief], path: str) -> Iterator[store.StoredBrief]:
    """Those of some kept briefs that a fact helped to decide, "" for all."""
    return (kept for kept in briefs if _rests_on(kept.document["shapes"], path))


def _rests_on(shapes: Collection[str], path: str) -> bool:
    shape = shape_of(path)
    return not path or shape in shapes or f"{shape.removesuffix('[]')}[]" in shapes


def list_briefs(house: House, actor: Actor | None, day: str = "") -> DayView:
    """The newest briefs of a day, in the site's zone. day: "2026-03-02", "" for today. Raises BadInput, Unavailable."""
    require(actor, Right.BRIEF)
    zone = ZoneInfo(house.settings.site_zone)
    try:
        wanted = date.fromisoformat(day) if day else datetime.now(zone).date()
        since, until = (datetime.combine(one, time(), zone) for one in (wanted, wanted + timedelta(days=1)))
    except (ValueError, OverflowError) as error:
        raise BadInput(f"day is {day!r}.", cure="Write it as 2026-03-02.") from error
    with read(house.engine) as conn:
        found = store.briefs_between(conn, us_of(since), us_of(until), MOST_LISTED)
        return DayView(wanted.isoformat(), tuple(short(conn, kept) for kept in found))


def read_incident(house: House, actor: Actor | None, id_: str) -> IncidentView:
    """An incident with its briefs. Raises NotFound, Unavailable."""
    require(actor, Right.BRIEF)
    with read(house.engine) as conn:
        opened = store.incident_opened(conn, id_)
        if opened is None:
            raise NotFound(f"There is no incident {id_}.", cure="Check how it is written.")
        found = tuple(short(conn, kept) for kept in store.briefs_of_incident(conn, id_))
        return IncidentView(id_, moment_of(opened[0]), opened[1], found)


def there(conn: Connection, id_: str) -> store.StoredBrief:
    """The brief of an id. Raises NotFound."""
    kept = store.brief_at(conn, id_.strip().upper())
    if kept is None:
        raise NotFound(f"There is no brief {id_}.", cure="Check how it is written, such as B-4K7QM29XWT.")
    return kept


def kept_view(kept: store.StoredBrief) -> BriefView:
    """A kept brief as it was composed, without what became of it."""
    return BriefView(
        composed=composed_of(kept.document),
        kind=kept.kind,
        composed_at=moment_of(kept.composed_us),
        composed_by=kept.composed_by,
        letter=kept.letter,
        id=kept.id,
        incident=kept.incident,
        number=kept.number,
        corrects=kept.corrects or "",
    )


def whole_view(conn: Connection, kept: store.StoredBrief) -> BriefView:
    """A kept brief with what became of it, and what a newer edition says otherwise."""
    view, events = kept_view(kept), store.events_of(conn, kept.id)
    return replace(
        view,
        recalled=_recall(events),
        newer=newer_of(conn, view.composed),
        told=tuple(
            ToldView(path_words(one.path), one.words, one.author, moment_of(one.time_us))
            for one in notices_about(conn, [vehicle.revision for vehicle in view.composed.vehicles])
            if _rests_on(view.composed.shapes, noted_as(one.path))
        ),
        sent=tuple(
            SentView(told.detail["form"], told.detail["to"], told.said_by or "", moment_of(told.time_us))
            for told in events
            if told.kind == SENT
        ),
        read_back=tuple(
            ReadBackView(told.detail["who"], told.detail["words"], told.said_by or "", moment_of(told.time_us))
            for told in events
            if told.kind == READ_BACK
        ),
        openings=tuple(moment_of(told.time_us) for told in events if told.kind == OPENED),
        followed_by=tuple(_follower(one) for one in store.corrections_of(conn, kept.id)),
    )


def unstored(composed: Composed, by: str, why: str = "") -> BriefView:
    """A brief that is kept nowhere. why: "" where nobody is signed in."""
    mark = f"{UNSTORED} {why}".strip()
    letter = composed.brief.letter
    return BriefView(composed, BRIEF, moment_of(now_us()), by, letter, mark=mark)


def make_link(house: House, conn: Connection, by: Actor, id_: str, now: int) -> str:
    """Store a new link of a brief; its token, which is kept nowhere."""
    token = secrets.token_urlsafe(_TOKEN_BYTES)
    expires = now + house.settings.brief_hours * HOUR
    store.add_link(conn, store.StoredLink(token_hash(token), id_, now, by.name, expires))
    return token


def token_hash(token: str) -> str:
    return hashlib.sha256(token.encode("utf-8", "surrogatepass")).hexdigest()


def short(conn: Connection, kept: store.StoredBrief) -> BriefShort:
    """A brief in a list."""
    kinds = [told.kind for told in store.events_of(conn, kept.id)]
    return BriefShort(
        id=kept.id,
        incident=kept.incident,
        letter=kept.letter,
        number=kept.number,
        kind=kept.kind,
        title=title_of(composed_of(kept.document)),
        edition=kept.edition,
        composed_at=moment_of(kept.composed_us),
        composed_by=kept.composed_by,
        corrects=kept.corrects or "",
        sent=kinds.count(SENT),
        read_back=kinds.count(READ_BACK),
        opened=kinds.count(OPENED),
        recalled=RECALLED in kinds,
        corrected=any(one.kind == CORRECTION for one in store.corrections_of(conn, kept.id)),
    )


def _recall(events: Sequence[store.StoredEvent]) -> RecallView | None:
    for told in events:
        if told.kind == RECALLED:
            return RecallView(told.detail["why"], told.detail["instead"], told.said_by or "", moment_of(told.time_us))
    return None


def _follower(kept: store.StoredBrief) -> FollowerView:
    changes = composed_of(kept.document).brief.changes
    return FollowerView(kept.id, kept.kind, moment_of(kept.composed_us), kept.composed_by, changes)


def _with_link(view: BriefView, token: str, house: House, now: int) -> BriefView:
    expires = moment_of(now + house.settings.brief_hours * HOUR)
    return replace(view, link=f"/b/{token}", expires_at=expires)


def _check(asked: BriefAsked) -> None:
    if asked.incident and not INCIDENT.fullmatch(asked.incident):
        raise BadInput(
            "The incident is no number of an incident.",
            cure="Give letters, digits, . _ and -, at most 32; no name and no telephone number. Or leave it out.",
        )
    if asked.key and not KEY.fullmatch(asked.key):
        raise BadInput("The key is no random key.", cure="Give 16 to 64 letters, digits, - and _ drawn at random.")


def _drawn(length: int) -> str:
    return "".join(secrets.choice(ALPHABET) for _ in range(length))


def _drawn_from(digest: str) -> str:
    """The same for the same digest, which nobody can foresee without the key."""
    number, made = int(digest, 16), ""
    for _ in range(_ID):
        number, at = divmod(number, len(ALPHABET))
        made += ALPHABET[at]
    return made
