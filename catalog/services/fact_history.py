"""How one fact came to say what it says: who changed it, when, why, and which guide page it rests on."""

from dataclasses import dataclass, replace
from datetime import datetime

from catalog.domain.doubt import may_be_doubted, said_at
from catalog.errors import NotFound
from catalog.services.clock import moment_of
from catalog.services.compiling import record_of
from catalog.services.doubts import DoubtView, doubt_view, path_words, said_words
from catalog.services.house import House
from catalog.services.records import parsed_code
from catalog.store import read as store
from catalog.store.doubts import all_doubts
from catalog.store.engine import read


@dataclass(frozen=True, slots=True)
class FactStep:
    """A revision in which the fact came to say something else. said: "" where it is not stated. src: references.

    spans: editions that list this revision or later ones that say the same, half-open. update: the guide update it came
    with, or "". doubt: where it was a doubt that took it back.
    """

    seq: int
    hash: str
    author: str
    time: datetime
    reason: str
    update: str
    said: str
    src: tuple[str, ...]
    spans: tuple[tuple[int, int | None], ...]
    doubt: DoubtView | None = None


@dataclass(frozen=True, slots=True)
class FactHistory:
    """steps: newest first."""

    code: str
    path: str
    label: str
    title: str
    steps: tuple[FactStep, ...]


def fact_history(house: House, code: str, path: str) -> FactHistory:
    """The history of one fact, whole item, list's completeness or note. Raises NotFound, Unavailable."""
    known = parsed_code(code)
    if not may_be_doubted(path):
        raise NotFound(f"{path!r} names no fact.", cure="Name it as the record's history does, such as ports[a].place.")
    with read(house.engine) as conn:
        found = store.history(conn, known)
        doubts = {each.edition: each for each in all_doubts(conn, known) if each.path == path}
    if not found:
        raise NotFound(f"There is no record {known}.", cure="Search by description, or list the records.")
    steps: list[FactStep] = []
    before = None
    for one in found:
        record, stored = record_of(one.revision.document), one.revision
        said = said_at(record, path)
        spans = tuple((each.from_edition, each.to_edition) for each in one.listed)
        if said == before or (before is None and not said):
            if steps:
                last = steps[-1]
                steps[-1] = _with(last, (*last.spans, *spans))
            continue
        before = said
        doubt = next((doubts[since] for since, _ in spans if since in doubts), None)
        src = said.note.src if said.note else tuple(dict.fromkeys(r for f in said.facts.values() for r in f.sources()))
        steps.append(
            FactStep(
                seq=stored.seq,
                hash=stored.hash,
                author=stored.author,
                time=moment_of(stored.time_us),
                reason=stored.reason,
                update=stored.update,
                said=said_words(said),
                src=src,
                spans=spans,
                doubt=doubt_view(doubt) if doubt else None,
            )
        )
    title = record_of(found[-1].revision.document).identity.title
    return FactHistory(known, path, path_words(path), title, tuple(reversed(steps)))


def _with(step: FactStep, spans: tuple[tuple[int, int | None], ...]) -> FactStep:
    """The same with these spans, those that meet joined."""
    joined: list[tuple[int, int | None]] = []
    for since, until in sorted(spans):
        if joined and joined[-1][1] == since:
            joined[-1] = (joined[-1][0], until)
        else:
            joined.append((since, until))
    return replace(step, spans=tuple(joined))
