"""The watch list: descriptions that must go on finding their record, as a steward fixes them.

Kept are the cues, not the words. Each is weighed before every publication, against the edition as it is and as it
would be.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from catalog.domain.canonical import canonical_bytes
from catalog.domain.roles import Right
from catalog.errors import BadInput, NotFound
from catalog.resolve.cue import Cue
from catalog.resolve.evidence import gather
from catalog.resolve.field import Field
from catalog.resolve.names import lexicon_of
from catalog.resolve.posterior import posterior
from catalog.resolve.reading.canonical import canonical
from catalog.services.acting import Actor, require
from catalog.services.clock import moment_of, now_us
from catalog.services.house import House
from catalog.services.narrowing import with_words
from catalog.services.outcomes import kept_cues, packed_cue, unpacked_cues
from catalog.services.reading import read_description
from catalog.services.records import parsed_code
from catalog.services.trail import note
from catalog.store import watch_list as stored
from catalog.store.engine import read, write

RANKS = range(1, 11)
LONGEST_NAME = 200
SORTS = ("oldest", "newest", "vehicle")


@dataclass(frozen=True, slots=True)
class WatchAsked:
    """What must find which record. text: read and forgotten. cues: as they were understood, with the text or without.

    rank: among so many first. name: "" for the cues in words.
    """

    code: str
    text: str = ""
    cues: tuple[Cue, ...] = ()
    rank: int = 3
    name: str = ""


@dataclass(frozen=True, slots=True)
class Watch:
    """cues: what was understood, as phrases that read back to it. rank: among so many first `code` must be found."""

    number: int
    name: str
    cues: tuple[str, ...]
    code: str
    title: str
    rank: int
    author: str
    time: datetime


def watch(house: House, actor: Actor | None, asked: WatchAsked) -> Watch:
    """Put a description on the list. One that does not find its record yet may be put there too.

    Raises NotSignedIn, Forbidden, BadInput (nothing in it tells vehicles apart), NotFound.
    """
    who = require(actor, Right.UPDATE)
    known = parsed_code(asked.code)
    if asked.rank not in RANKS:
        raise BadInput(f"rank is {asked.rank}.", cure=f"Use {RANKS.start} to {RANKS.stop - 1}.")
    compiled = house.shelf.current()
    if known not in compiled.codes:
        raise NotFound(f"There is no record {known} in this edition.", cure="Watch for a record that is listed.")
    said = tuple(view.cue for view in read_description(house, asked.text).cues) if asked.text.strip() else ()
    cues = tuple(kept_cues((*said, *asked.cues), lexicon_of(compiled.tables)))
    if not cues:
        raise BadInput("Nothing in it can tell vehicles apart.", cure="Say shape, places, names, years.")
    told = " ".join(asked.name.split()) or ", ".join(canonical(cue) for cue in cues)
    row = stored.StoredWatch(
        number=0,
        name=told[:LONGEST_NAME],
        cues=canonical_bytes([packed_cue(cue) for cue in cues]),
        code=known,
        rank=asked.rank,
        author=who.name,
        time_us=now_us(),
    )
    with write(house.engine) as conn:
        number = stored.add_watch(conn, row)
        note(conn, who, "watch", f"watch {number}", {"record": known, "rank": asked.rank})
    return _watch(replace(row, number=number), compiled.titles)


def unwatch(house: House, actor: Actor | None, number: int, reason: str) -> None:
    """Take an entry off the list. Raises NotSignedIn, Forbidden, BadInput, NotFound."""
    who = require(actor, Right.UPDATE)
    why = " ".join(reason.split())
    if not why:
        raise BadInput("No reason is given.", cure="Say why it need not be found any more.")
    with write(house.engine) as conn:
        if not stored.end_watch(conn, number, who.name, now_us(), why):
            raise NotFound(f"Nothing is watched as number {number}.", cure="List them: chockbook watch list")
        note(conn, who, "unwatch", f"watch {number}", {"reason": why})


@dataclass(frozen=True, slots=True)
class WatchedAsked:
    """words: all in name, vehicle or code. sort: one of SORTS."""

    words: str = ""
    sort: str = "oldest"
    offset: int = 0
    limit: int = 50


def watched(house: House) -> tuple[Watch, ...]:
    """What is watched, by number."""
    titles = house.shelf.current().titles
    with read(house.engine) as conn:
        return tuple(_watch(row, titles) for row in stored.watched(conn))


def watched_part(house: House, asked: WatchedAsked) -> tuple[tuple[Watch, ...], int]:
    """Some of what is watched, and how many there are of such. Raises BadInput, Unavailable."""
    if asked.sort not in SORTS:
        raise BadInput(f"sort is {asked.sort!r}.", cure=f"Use one of: {', '.join(SORTS)}.")
    titles = house.shelf.current().titles
    said = with_words(asked.words)
    with read(house.engine) as conn:
        rows = [row for row in stored.watched(conn) if said(f"{row.name} {row.code} {titles.get(row.code, '')}")]
    if asked.sort == "newest":
        rows.reverse()
    elif asked.sort == "vehicle":
        rows.sort(key=lambda row: (titles.get(row.code, row.code), row.code, row.number))
    return tuple(_watch(row, titles) for row in rows[asked.offset : asked.offset + asked.limit]), len(rows)


def _watch(row: stored.StoredWatch, titles: Mapping[str, str]) -> Watch:
    return Watch(
        number=row.number,
        name=row.name,
        cues=tuple(canonical(cue) for cue in unpacked_cues(row.cues)),
        code=row.code,
        title=titles.get(row.code, row.code),
        rank=row.rank,
        author=row.author,
        time=moment_of(row.time_us),
    )


def rank_of(cues: Sequence[Cue], code: str, field: Field) -> int | None:
    """At which place a description finds a record, from 1; of equals the last. None where it is not listed."""
    codes = field.tables.meta["codes"]
    if code not in codes:
        return None
    found = posterior(gather(tuple(cues), field.tables, field.parameters), field).records
    return int((found >= found[codes.index(code)] - 1e-12).sum())
