"""How every record of a guide update stands, kept until a publication comes between.

Of ten thousand records nearly all stand as they did when somebody looked last, so only those decided of since are
worked out anew.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import Connection

from catalog.services.remembered import Remembered
from catalog.services.review_matters import Standing, standings
from catalog.store import read as store
from catalog.store.updates import OPEN, StoredUpdate, decided_since, next_seq

MANY = 1000  # records of an update that is long
MOST_KEPT_LONG = 4
MOST_KEPT_SHORT = 64
# Of more records all are worked out anew: each asks for its row and its decisions.
MOST_ALONE = 100


@dataclass(frozen=True, slots=True)
class RecordLine:
    """A record of an update in a list; counts as of what was brought. code: of the record. moved: something else is
    listed by now."""

    code: str
    title: str
    action: str
    state: str
    changes: int
    critical: int
    less: int
    more: int
    moved: bool


@dataclass(frozen=True, slots=True)
class Standings:
    """lines: of every record, most pressing first. states: how many stand how. two: open ones with safety-critical
    changes. seq: of the decision that would come next."""

    lines: tuple[RecordLine, ...]
    states: Mapping[str, int]
    two: int
    seq: int


def standings_of(conn: Connection, update: StoredUpdate) -> Standings:
    """How its records stand now."""
    newest = store.latest(conn)
    seq = next_seq(conn, update.number)
    key = (str(conn.engine.url), newest.hash if newest else "", update)
    kept = _long if update.records >= MANY else _short
    return kept.renewed(key, lambda known: _made(conn, update, known, seq))


_long: Remembered[Standings] = Remembered(MOST_KEPT_LONG)
_short: Remembered[Standings] = Remembered(MOST_KEPT_SHORT)


def _made(conn: Connection, update: StoredUpdate, known: Standings | None, seq: int) -> Standings:
    if known is not None and known.seq == seq:
        return known
    # A transaction may have begun before what is kept was decided.
    codes = None if known is None or known.seq > seq else decided_since(conn, update.number, known.seq)
    if known is None or codes is None or len(codes) > MOST_ALONE:
        return _told([_line(one) for one in standings(conn, update)], seq)
    anew = {one.line.code: _line(one) for one in standings(conn, update, codes)} if codes else {}
    return _told([anew.get(one.code, one) for one in known.lines], seq)


def _told(lines: Sequence[RecordLine], seq: int) -> Standings:
    two = sum(one.state == OPEN and one.critical > 0 for one in lines)
    return Standings(tuple(lines), Counter(one.state for one in lines), two, seq)


def _line(one: Standing) -> RecordLine:
    line = one.line
    return RecordLine(
        code=line.code,
        title=line.title,
        action=line.action,
        state=one.state,
        changes=line.changes,
        critical=line.critical,
        less=line.less,
        more=line.more,
        moved=one.stale,
    )
