"""Where a file says something else than is listed: by an older issue, or by another source. Both sides are shown."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from catalog.domain.delta import FactChange, RecordDelta
from catalog.domain.facts import Fact, State, fact_to_document
from catalog.domain.findings import Finding, Severity
from catalog.domain.record import attribute_at
from catalog.domain.sources import Source, newest_issues, parse_reference
from catalog.domain.wording import value_words
from catalog.intake.tree import put

Sources = Mapping[str, Source]
_CURE = "Decide in review which holds, or keep it as disputed: both sides are then shown."
_OLDER, _OTHER = "is older than what is stated now", "another source says"


@dataclass(frozen=True, slots=True)
class Sides:
    """A fact said otherwise now. older: by an older issue, or an older document, than the one stated."""

    path: str
    old: Fact
    new: Fact
    older: bool
    finding: Finding


def sides_of(delta: RecordDelta, sources: Sources) -> Iterator[Sides]:
    """Every changed fact whose new source is no newer issue of the one it is stated by now."""
    for change in delta.facts:
        if State.NOT_STATED in (change.old.state, change.new.state) or State.DISPUTED in (
            change.old.state,
            change.new.state,
        ):
            continue
        told = _told(change, sources)
        if told is not None and (told[1] or _claim(change.old) != _claim(change.new)):
            allowed, older = told
            found = f"{said(change.path, change.new)} ({', '.join(change.new.sources())})"
            finding = Finding(change.path, found, allowed, _CURE, Severity.LOOK)
            yield Sides(change.path, change.old, change.new, older, finding)


def keep_disputed(document: dict[str, Any], sides: Sides) -> Finding:
    """Put both sides into the document; what to say of it."""
    both = [fact_to_document(sides.old), fact_to_document(sides.new)]
    put(document, sides.path, {"disputed": both})
    kept = "kept as disputed, as you said: both sides are shown"
    return Finding(sides.path, sides.finding.found, kept, "", Severity.NOTE)


def is_sides(allowed: str) -> bool:
    """Whether what a finding says is allowed is the other side of a fact."""
    return _OLDER in allowed or _OTHER in allowed


def said(path: str, fact: Fact) -> str:
    """A claim in words, as short as it can be."""
    if fact.state is State.NOT_FITTED:
        return "not fitted"
    words = "" if fact.value is None else value_words(attribute_at(path), fact.value)
    return f"may be fitted: {words}" if fact.state is State.MAY_BE_FITTED else words


def _told(change: FactChange, sources: Sources) -> tuple[str, bool] | None:
    new = _documents(change.new.sources(), exclude=change.old.sources())
    old = _documents(change.old.sources())
    if not new or not old:
        return None
    stated = f"{said(change.path, change.old)} ({', '.join(change.old.sources())})"
    same = {number: issue for number, issue in new.items() if number in old}
    older = [issue for number, issue in same.items() if issue < old[number]]
    if older:
        return f"issue {older[0]} {_OLDER}: {stated}", True
    if same:
        return None
    earlier = _newest(new, sources) < _newest(old, sources)
    dated = f"issued {_newest(new, sources)}, before {_newest(old, sources)}; " if earlier else ""
    return f"{dated}{_OTHER}: {stated}", earlier


def _documents(refs: Collection[str], exclude: Collection[str] = ()) -> dict[str, int]:
    """Document number -> the newest issue of it that is cited."""
    return newest_issues(parse_reference(ref).key for ref in refs if ref not in exclude)


def _newest(documents: Mapping[str, int], sources: Sources) -> str:
    keys = [f"{number}/{issue}" for number, issue in documents.items()]
    return max((sources[key].issued for key in keys if key in sources), default="")


def _claim(fact: Fact) -> tuple[object, ...]:
    return fact.state, fact.value, fact.depends
