"""What the caller is told, by where the caller is and what is known of the scene: data/caller.json.

Never anything that puts a caller in front of, behind, under or between vehicles. A site adds lines and says its own by
id; a line that warns keeps the program's sentence, the site's comes after it.
"""

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Any

from catalog.plan.claims import claims
from catalog.plan.conditions import ALWAYS, Condition, faults, holds
from catalog.plan.derived import OF_SCENE, SCENE_NAMES, Case
from catalog.plan.scene import CALLERS, DATA, Said, Scene
from catalog.plan.subject import Subject

# Where a person is crushed, and the words shortly before that keep one away from there.
_IN_ITS_WAY = ("between", "beneath", "under", "underneath", "behind", "front", "below")
_KEPT_AWAY = ("not", "never", "nobody", "away", "clear", "no")
_NEAR = 8  # words
_ELSEWHERE = ("wind",)  # "the wind behind you"


@dataclass(frozen=True, slots=True)
class CallerLine:
    """where: places of a caller it is for. warns: a site cannot take its sentence away."""

    id: str
    order: int
    say: str
    where: tuple[str, ...] = CALLERS
    when: Condition = field(default_factory=lambda: ALWAYS)
    warns: bool = False
    site: bool = False


@cache
def shipped_caller() -> Mapping[str, Any]:
    document: Mapping[str, Any] = json.loads((DATA / "caller.json").read_text("utf-8"))
    return document


@cache
def shipped_lines() -> tuple[CallerLine, ...]:
    """The lines of this program: invented examples until a service approves its own."""
    return tuple(_line(row) for row in shipped_caller()["lines"])


def caller_lines(scene: Scene, lines: Sequence[CallerLine] | None = None) -> tuple[str, ...]:
    """What to say to a caller who is where the scene says, in order."""
    subject = Subject()

    def value_of(name: str) -> Said:
        return scene.said(name) if name in SCENE_NAMES else OF_SCENE[name](Case(subject, scene))

    told = [line for line in lines or shipped_lines() if scene.caller in line.where]
    return tuple(line.say for line in sorted(told, key=_order) if holds(line.when, value_of) is Said.YES)


def with_site_lines(lines: Sequence[CallerLine], local: Mapping[str, Any]) -> tuple[CallerLine, ...]:
    """The lines with a site's. local: id -> what it says; of a new one also where, when, order. Raises ValueError."""
    found = [f"caller.{id_}: {fault}" for id_, row in local.items() for fault in _faults(row)]
    if found:
        raise ValueError("; ".join(found))
    known = {line.id: line for line in lines}
    made = {**known, **{id_: _with(known.get(id_), id_, row) for id_, row in local.items()}}
    return tuple(made.values())


def in_its_way(text: str) -> Iterator[str]:
    """Words that send a person where one is crushed, as they stand in a text."""
    for sentence in text.lower().replace("!", ".").replace("?", ".").replace(";", ".").split("."):
        words = [word.strip(",:()\"'“”") for word in sentence.split()]
        for at, word in enumerate(words):
            before = words[max(0, at - _NEAR) : at]
            kept = any(each in _KEPT_AWAY for each in before) or before[-1:] == list(_ELSEWHERE)
            if word in _IN_ITS_WAY and not kept:
                yield word


def _order(line: CallerLine) -> int:
    return line.order


def _line(row: Mapping[str, Any], *, site: bool = False) -> CallerLine:
    return CallerLine(**{**row, "where": tuple(row.get("where", CALLERS)), "site": site})


def _with(before: CallerLine | None, id_: str, row: Mapping[str, Any]) -> CallerLine:
    if before is None:
        return _line({"order": 65, **row, "id": id_}, site=True)
    if before.warns:
        # Its sentence, its places and its condition stay: only something may be said after it.
        return replace(before, say=f"{before.say} {row['say']}", site=True)
    return _line({"order": before.order, "where": before.where, "when": before.when, **row, "id": id_}, site=True)


def _faults(row: Mapping[str, Any]) -> Iterator[str]:
    known = {"say", "where", "when", "order"}
    yield from (f"a line has no {key}" for key in sorted(set(row) - known))
    say = row.get("say", "")
    if not isinstance(say, str) or not say.strip():
        yield "it says nothing: a line cannot be taken away"
        return
    yield from (f"no place of a caller: {place}" for place in row.get("where", ()) if place not in CALLERS)
    yield from faults(row.get("when", ALWAYS), SCENE_NAMES | frozenset(OF_SCENE))
    yield from (f"states {claim!r} as a fact" for claim in claims(say))
    yield from (f"puts the caller in its way: {word!r}" for word in in_its_way(say))
