"""What a file says of a record, laid over the record as it stands."""

import json
from collections.abc import Iterator, Mapping
from typing import Any

from catalog.domain.findings import Finding as RecordFinding
from catalog.domain.findings import Severity
from catalog.domain.folding import fold
from catalog.domain.record import FORMAT, list_paths
from catalog.intake.claims import Claim
from catalog.intake.finding import Finding
from catalog.intake.given import NEW_ITEM, Given, GivenFact, GivenItem
from catalog.intake.ordering import ordered
from catalog.intake.tree import drop, get, put

Document = dict[str, Any]
_NOTES = "notes"


def apply(base: Mapping[str, Any] | None, given: Given) -> tuple[Document, tuple[Finding, ...]]:
    """The record's document with everything the file says laid over it, and what was wrong in doing so.

    base: the record as it stands, left as it is; None for a new one. The document need not be valid: the gate is next.
    """
    if given.whole is not None:
        return _copied(given.whole), ()
    return _Laying(base, given).done()


def located(finding: RecordFinding, given: Given) -> Finding:
    """A finding of the gate, with the cell it is about."""
    at = given.place_of(finding.path)
    file, sheet, row, column = (at.file, at.sheet, at.row, at.column) if at else ("", "", 0, 0)
    said = (finding.found, finding.allowed, finding.cure, finding.severity, finding.path)
    return Finding(file, sheet, row, column, *said, given.code or given.name)


class _Laying:
    def __init__(self, base: Mapping[str, Any] | None, given: Given) -> None:
        self._new = base is None
        self._made: Document = {"format": FORMAT} if base is None else _copied(base)
        self._title = _title(base or {})
        self._given = given
        self._findings: list[Finding] = []
        self._ids: dict[str, str] = {}  # "ports[?1]" -> "ports[a]"

    def done(self) -> tuple[Document, tuple[Finding, ...]]:
        entries: dict[str, list[tuple[str, GivenItem]]] = {}
        for item_path, item in self._given.items.items():
            entries.setdefault(item_path.rpartition("[")[0], []).append((item_path, item))
        for path in (*list_paths(), _NOTES):
            if path in entries:
                self._items(path, entries[path])
        states = {}
        for path, fact in self._given.sets.items():
            if path.startswith("complete."):
                states[path.removeprefix("complete.")] = fact
            elif path.startswith(("identity.", f"{_NOTES}[")):
                self._plain(self._renamed(path), fact)
            else:
                self._fact(path, fact)
        for path in list_paths():
            self._complete(path, states.get(path))
        self._other_vehicle()
        return self._made, tuple(self._findings)

    def _other_vehicle(self) -> None:
        """Whether the file calls the record by another vehicle's name: the code may be a slip."""
        told = fold(self._given.name)
        titles = [fold(title) for title in (self._title, _title(self._made)) if title]
        if self._given.code and told and titles and not any(told.startswith(title) for title in titles):
            cure = "Look whether the code is the right one."
            allowed = f"{self._given.code} is {self._title}"
            self._say("", f'"{self._given.name}" as the vehicle', allowed, cure, Severity.LOOK)

    def _items(self, path: str, entries: list[tuple[str, GivenItem]]) -> None:
        there: list[Document] = get(self._made, path) or []
        by_id = {str(item.get("id")): item for item in there}
        before = list(by_id)
        positions: dict[str, int] = {}
        for item_path, item in entries:
            said = item_path[len(path) + 1 : -1]
            if item.removed:
                self._remove(item_path, said, by_id)
                continue
            named = self._named(path, item_path, said, by_id)
            if named is None:
                continue
            by_id.setdefault(named, {"id": named})
            if item.position is not None:
                positions[named] = item.position
        self._twice(path, positions)
        kept = [by_id[named] for named in ordered(before, by_id, positions)]
        if kept:
            put(self._made, path, kept)
        elif there:
            drop(self._made, path)

    def _named(self, path: str, item_path: str, said: str, by_id: Mapping[str, Document]) -> str | None:
        if not said.startswith(NEW_ITEM):
            return said
        if by_id and not self._new:
            known = ", ".join(by_id)
            cure = f"Write its id ({known}), or a new short one if it is another."
            self._say(item_path, "a row without an id", "which one it is about", cure)
            return None
        named = next(name for name in _names() if name not in by_id and f"{path}[{name}]" not in self._given.items)
        self._ids[item_path] = f"{path}[{named}]"
        return named

    def _remove(self, path: str, said: str, by_id: dict[str, Document]) -> None:
        if by_id.pop(said, None) is None:
            known = ", ".join(by_id) or "none"
            self._say(path, f'remove "{said}"', f"an item that is there: {known}", "Look its id up.", Severity.LOOK)

    def _twice(self, path: str, positions: Mapping[str, int]) -> None:
        taken: dict[int, str] = {}
        for named, position in positions.items():
            if position in taken:
                found = f"{taken[position]} and {named} both at position {position}"
                self._say(f"{path}[{named}]", found, "each position once", "Number them in the guide's order.")
            taken[position] = named

    def _fact(self, said: str, fact: GivenFact) -> None:
        path = self._renamed(said)
        there: Document | None = get(self._made, path)
        if "[" in path and get(self._made, path[: path.index("]") + 1]) is None:
            return  # its row could not be read, which has been said
        if fact.claims == ():
            drop(self._made, path)
            return
        before = _sides(there)
        claims = fact.claims if fact.claims is not None else tuple(_without_src(side) for side in before)
        if not claims:
            self._say(
                f"{said}.src", "a source without a value", "the value it is the source of", "Write the value too."
            )
            return
        sources = fact.sources or _sources_kept(before, claims)
        if sources is None or len(sources) != len(claims):
            self._no_source(said, claims, sources)
            return
        made = [{**claim, "src": list(src)} for claim, src in zip(claims, sources, strict=True)]
        self._same_source(said, before, made)
        put(self._made, path, made[0] if len(made) == 1 else {"disputed": made})

    def _no_source(self, path: str, claims: tuple[Claim, ...], sources: tuple[tuple[str, ...], ...] | None) -> None:
        if sources is None and len(claims) == 1:
            cure = "Name the page in its source column, or in the row's: NUMBER/ISSUE:PAGE."
            self._say(path, "a fact without a source", "who says so", cure)
        else:
            found = f"{len(claims)} sides and sources for {len(sources or ())}"
            cure = "Write the sources of each other side after AGAINST: in its source column."
            self._say(f"{path}.src", found, "sources for each side", cure)

    def _same_source(self, path: str, before: list[Document], made: list[Document]) -> None:
        old = [side.get("src") for side in before]
        if before and old == [side["src"] for side in made] and before != made:
            cited = "; ".join(ref for src in old for ref in src or ())
            allowed = f"its source is still {cited}"
            cure = "Name the new page if another says so."
            self._say(path, "a new value", allowed, cure, Severity.NOTE)

    def _plain(self, path: str, fact: GivenFact) -> None:
        if "[" in path and get(self._made, path[: path.index("]") + 1]) is None:
            return
        if fact.claims:
            put(self._made, path, fact.claims[0]["value"])
        elif fact.claims == ():
            drop(self._made, path)

    def _complete(self, path: str, fact: GivenFact | None) -> None:
        """Keep a list and what is said of its being all there is together."""
        key = f"complete.{path}"
        items: list[Document] | None = get(self._made, path)
        said: Document | None = self._made.get("complete", {}).get(path)
        if fact is None:
            if said is not None and items is None:
                self._forget(path)
                cure = "Write NOT FITTED in sheet lists if the guide says there is none."
                self._say(
                    path, "the last one removed", "taken as not stated, no longer as all there is", cure, Severity.LOOK
                )
            return
        if fact.claims == ():
            self._forget(path)
            if items == []:
                drop(self._made, path)
            return
        none = bool(fact.claims) and fact.claims is not None and fact.claims[0].get("fitted") is False
        if fact.claims is None:
            none = items == []
        if none and items:
            cure = "Remove its rows in the same file, or write ALL LISTED."
            self._say(key, f"NOT FITTED, and {len(items)} listed", "one of the two", cure)
            return
        if not none and not items:
            cure = "Write NOT FITTED if there is none, or list them."
            self._say(key, "ALL LISTED, and none listed", "a list to be complete", cure)
            return
        sources = fact.sources or ((tuple(said["src"]),) if said else None)
        if sources is None or len(sources) != 1:
            self._no_source(key, ({},), None)
            return
        if none:
            put(self._made, path, [])
        self._made.setdefault("complete", {})[path] = {"value": True, "src": list(sources[0])}

    def _forget(self, path: str) -> None:
        complete = self._made.get("complete", {})
        complete.pop(path, None)
        if not complete:
            self._made.pop("complete", None)

    def _renamed(self, path: str) -> str:
        if NEW_ITEM not in path:
            return path
        item, dot, rest = path.partition("].")
        return f"{self._ids[f'{item}]']}{dot[1:]}{rest}" if f"{item}]" in self._ids else path

    def _say(self, path: str, found: str, allowed: str, cure: str, severity: Severity = Severity.BLOCKS) -> None:
        self._findings.append(located(RecordFinding(path, found, allowed, cure, severity), self._given))


def _copied(document: Mapping[str, Any]) -> Document:
    # Ten times faster than a deep copy, and documents are JSON.
    made: Document = json.loads(json.dumps(document))
    return made


def _title(document: Mapping[str, Any]) -> str:
    who = document.get("identity", {})
    return " ".join(str(who[key]) for key in ("make", "model", "variant") if key in who)


def _sides(stored: Document | None) -> list[Document]:
    if stored is None:
        return []
    sides: list[Document] = stored.get("disputed", [stored])
    return sides


def _without_src(side: Document) -> Claim:
    return {key: value for key, value in side.items() if key != "src"}


def _sources_kept(before: list[Document], claims: tuple[Claim, ...]) -> tuple[tuple[str, ...], ...] | None:
    """The sources a fact has, where they are those of the same sides still."""
    return tuple(tuple(side["src"]) for side in before) if len(before) == len(claims) else None


def _names() -> Iterator[str]:
    letters = "abcdefghijklmnopqrstuvwxyz"
    yield from letters
    yield from (f"{one}{two}" for one in letters for two in letters)
    yield from (f"i{number}" for number in range(1, 10_000_000))
