"""Guide updates in a list, and which of them wait for whom."""

from dataclasses import dataclass
from datetime import datetime

from catalog.domain.roles import Right
from catalog.services.acting import Actor, require
from catalog.services.clock import moment_of
from catalog.services.house import House
from catalog.services.narrowing import with_words
from catalog.services.update_standings import standings_of
from catalog.store.engine import read
from catalog.store.updates import OPEN, UpdateLine, update_lines

# How updates may be sorted; the first is used where nothing is asked for.
SORTS = ("newest", "oldest", "name", "less cautious")


@dataclass(frozen=True, slots=True)
class UpdateSummary:
    """number: its name. state: open, published or set aside. edition: the last one published with some of it. critical,
    less: changes that need two persons, that leave crews less cautious."""

    number: int
    name: str
    origin: str
    author: str
    time: datetime
    records: int
    state: str
    edition: int | None
    critical: int
    less: int


@dataclass(frozen=True, slots=True)
class UpdatesAsked:
    """state: one of STATES; origin: see `proposing.ORIGINS`; words: all in its number, name or author; each "" for
    all."""

    state: str = ""
    origin: str = ""
    words: str = ""
    sort: str = SORTS[0]
    offset: int = 0
    limit: int = 50


@dataclass(frozen=True, slots=True)
class UpdatesPart:
    """Updates asked for, and how many there are of such."""

    updates: tuple[UpdateSummary, ...]
    total: int


def list_updates(house: House, actor: Actor | None, asked: UpdatesAsked) -> UpdatesPart:
    """Guide updates. Raises NotSignedIn, Forbidden, Unavailable."""
    require(actor, Right.UPDATE)
    with read(house.engine) as conn:
        found = [summary_of(line) for line in update_lines(conn)]
    said = with_words(asked.words)
    kept = [
        one
        for one in found
        if asked.state in ("", one.state)
        and asked.origin in ("", one.origin)
        and said(f"{one.number} {one.name} {one.author}")
    ]
    match asked.sort:
        case "oldest":
            kept.reverse()
        case "name":
            kept.sort(key=lambda one: (one.name.casefold(), one.number))
        case "less cautious":
            kept.sort(key=lambda one: (-one.less, -one.critical, -one.number))
    return UpdatesPart(tuple(kept[asked.offset : asked.offset + asked.limit]), len(kept))


@dataclass(frozen=True, slots=True)
class Waiting:
    """An open update and what it waits for. undecided: records. two: of those, with safety-critical changes that
    somebody else than who brought them in must accept. mine: this person may accept them. accepted: records that could
    be published."""

    summary: UpdateSummary
    undecided: int
    two: int
    mine: bool
    accepted: int


def waiting(house: House, actor: Actor | None, limit: int = 10) -> tuple[tuple[Waiting, ...], int]:
    """Open updates, and how many there are in all: those with less cautious changes before others, the newest before
    others; of these those first that this person can move. Raises NotSignedIn, Forbidden, Unavailable."""
    who = require(actor, Right.UPDATE)
    made = []
    with read(house.engine) as conn:
        found = [line for line in update_lines(conn) if line.state == OPEN]
        found.sort(key=lambda line: -line.less)
        for line in found[:limit]:
            standing = standings_of(conn, line.update)
            accepted = sum(standing.states.get(state, 0) for state in ("accepted", "accepted in part"))
            mine = Right.APPROVE in who.rights and who.name != line.update.author
            made.append(Waiting(summary_of(line), standing.states.get(OPEN, 0), standing.two, mine, accepted))
    made.sort(key=lambda one: (not (one.two and one.mine), not one.undecided, -one.summary.less, one.summary.number))
    return tuple(made), len(found)


def summary_of(line: UpdateLine) -> UpdateSummary:
    """Of what is stored."""
    told = line.update
    return UpdateSummary(
        number=told.number,
        name=told.name,
        origin=told.origin,
        author=told.author,
        time=moment_of(told.time_us),
        records=told.records,
        state=line.state,
        edition=line.edition,
        critical=line.critical,
        less=line.less,
    )
