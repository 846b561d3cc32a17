"""How old the statements of each record are, how many cite no source, how many safety facts are not stated.

Reckoned once a revision: an edition in which one record changed costs one record. Ten thousand take half a minute, so
whoever follows the store does it before somebody asks, and leaves it in the data folder for the next process.
"""

import json
import logging
import threading
from collections import Counter
from collections.abc import Mapping
from dataclasses import astuple, dataclass
from functools import lru_cache
from pathlib import Path

from catalog.compiled import Compiled
from catalog.compiled.files import locked, replace_file
from catalog.compiled.program import program
from catalog.domain.facts import State
from catalog.domain.record import lines
from catalog.domain.sources import parse_reference
from catalog.errors import Unavailable
from catalog.services.compiling import record_of
from catalog.services.house import House

FILE = "ages.json"
# With fewer new ones the file is left as it is: the next process reckons them itself.
WORTH_KEEPING = 20
LONGEST_WAIT = 5.0  # seconds that somebody waits for who reckons them already

_log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class Ages:
    """issued: how many facts rest on a newest issue of each ISO date. cited: how many rest on each source.

    facts: all that are stated. unsourced: that cite nothing listed. safety, silent: hazards and aids stated and not.
    """

    title: str
    facts: int
    unsourced: int
    issued: Mapping[str, int]
    cited: Mapping[str, int]
    safety: int
    silent: int

    def older_than(self, day: str) -> int:
        """How many facts rest on nothing issued since an ISO date."""
        return sum(count for issued, count in self.issued.items() if issued < day)


def record_ages(house: House) -> Mapping[str, Ages]:
    """By code, of every record of the newest edition; the last edition's are kept. Raises Unavailable while whoever
    follows the store reckons those of a large catalogue."""
    compiled = house.shelf.current()
    if not _lock.acquire(timeout=LONGEST_WAIT):
        raise Unavailable("How old the facts are is being reckoned anew.", cure="Try again in a minute.")
    try:
        return _ages(compiled, house.settings.data / FILE)
    finally:
        _lock.release()


@lru_cache(maxsize=2)
def _ages(compiled: Compiled, kept: Path) -> Mapping[str, Ages]:
    revisions = {code: compiled.revision(code)[0] for code in compiled.codes}
    known = {**_known.get(kept, {})}
    if sum(revision not in known for revision in revisions.values()) < WORTH_KEEPING:
        _reckon(compiled, revisions, known)
    else:
        try:
            with locked(kept.with_suffix(".lock")):  # one process of a host reckons, the others wait and read
                known |= _read(kept)
                if _reckon(compiled, revisions, known) >= WORTH_KEEPING:
                    told = {"program": program(), "ages": {revision: astuple(one) for revision, one in known.items()}}
                    replace_file(kept, json.dumps(told, ensure_ascii=False))
        except OSError:  # a full or read-only disk costs the next process its time, nothing else
            _log.warning("How old facts are could not be kept in %s", kept, exc_info=True)
            _reckon(compiled, revisions, known)
    _known.clear()
    _known[kept] = known
    return {code: known[revision] for code, revision in revisions.items()}


# By revision, of the edition asked for last: it is one that this process follows.
_known: dict[Path, dict[str, Ages]] = {}
_lock = threading.Lock()


def _reckon(compiled: Compiled, revisions: Mapping[str, str], known: dict[str, Ages]) -> int:
    """Add those that are not known yet, and leave only those that are listed; how many were added."""
    issued = {key: str(json.loads(compiled.source_bytes(key))["issued"]) for key in compiled.source_keys}
    new = [code for code, revision in revisions.items() if revision not in known]
    for code in new:
        known[revisions[code]] = _of(compiled.record_bytes(code), issued)
    for revision in known.keys() - set(revisions.values()):
        del known[revision]
    return len(new)


def _read(kept: Path) -> dict[str, Ages]:
    """What an earlier process reckoned, where the same program did."""
    try:
        told = json.loads(kept.read_bytes())
        return {revision: Ages(*one) for revision, one in told["ages"].items()} if told["program"] == program() else {}
    except (OSError, ValueError, KeyError, TypeError):
        return {}


def _of(content: bytes, issued: Mapping[str, str]) -> Ages:
    record = record_of(json.loads(content))
    dates: Counter[str] = Counter()
    cited: Counter[str] = Counter()
    unsourced = 0
    for fact in record.facts.values():
        keys = {parse_reference(text).key for text in fact.sources()} & issued.keys()
        cited.update(keys)
        if keys:
            dates[max(issued[key] for key in keys)] += 1
        else:
            unsourced += 1
    states = [line.fact.state for line in lines(record) if line.attr.critical]
    silent = states.count(State.NOT_STATED)
    return Ages(
        record.identity.title, len(record.facts), unsourced, dict(dates), dict(cited), len(states) - silent, silent
    )
