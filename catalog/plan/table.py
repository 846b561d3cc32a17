"""The rule table and its wording: data/rules.json and data/words.json, read once and checked.

A rule gives a step of its own, or a line that joins another step. `when` is weighed for the whole
vehicle or for each port, way or pack. Where it cannot be told: "drop" says nothing, "if" gives the
step with what is to be made sure of first, "look" has its caution said before anybody touches
anything. A rule with a caution must not drop it.
"""

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from catalog.plan.caller import CallerLine, shipped_lines
from catalog.plan.conditions import ALWAYS, Condition, faults
from catalog.plan.derived_items import PER, names_for
from catalog.plan.scene import DATA

PARTS = ("why", "where", "how", "tool", "confirms", "fails", "wait", "meanwhile", "not")
_UNKNOWN = ("drop", "if", "look")

Words = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Rule:
    """One row. order: within its phase. joins: ids of the steps a line belongs to, empty for a step of its own.

    caution: id of what it warns of, "" for none. holds: conditions said beside the step. looks: gathers the
    cautions that cannot be told yet. several: only where several vehicles are possible. site: added locally.
    """

    id: str
    order: int
    phase: str = ""
    per: str = "once"
    when: Condition = field(default_factory=lambda: ALWAYS)
    unknown: str = "drop"
    caution: str = ""
    joins: tuple[str, ...] = ()
    holds: tuple[str, ...] = ()
    looks: bool = False
    several: bool = False
    source: tuple[str, ...] = ()
    site: bool = False


@dataclass(frozen=True, slots=True)
class Phase:
    """early: the order it takes when early_when holds. strict: its steps keep their order whatever differs."""

    key: str
    order: int
    label: str
    strict: bool = False
    early: int | None = None
    early_when: Condition = field(default_factory=lambda: ALWAYS)


@dataclass(frozen=True, slots=True)
class Table:
    """Everything that decides which steps there are and how they read, and what the caller is told."""

    phases: tuple[Phase, ...]
    rules: tuple[Rule, ...]
    holds: Mapping[str, Condition]
    sources: Mapping[str, str]
    words: Words
    caller: tuple[CallerLine, ...] = ()

    def caution(self, key: str) -> str:
        text: str = self.words["cautions"][key]
        return text


@cache
def shipped_table() -> Table:
    """The table of this program."""
    stored = json.loads((DATA / "rules.json").read_text("utf-8"))
    words = json.loads((DATA / "words.json").read_text("utf-8"))
    rules = tuple(rule_of(row) for row in stored["rules"])
    phases = tuple(Phase(**row) for row in stored["phases"])
    return Table(phases, rules, stored["holds"], stored["sources"], words, shipped_lines())


def rule_of(row: Mapping[str, Any], *, site: bool = False) -> Rule:
    """A row as an object. Raises TypeError for a key that no rule has."""
    lists = {key: tuple(row[key]) for key in ("joins", "holds", "source") if key in row}
    return Rule(**{**row, **lists, "site": site})


def table_faults(table: Table) -> Iterator[str]:
    """What is wrong with a table, in words a steward can act on; nothing where it can be used."""
    ids = [rule.id for rule in table.rules]
    yield from (f"{id_} is there twice" for id_ in sorted({id_ for id_ in ids if ids.count(id_) > 1}))
    steps = {rule.id for rule in table.rules if not rule.joins}
    phases = {phase.key for phase in table.phases}
    for rule in table.rules:
        yield from (f"{rule.id}: {fault}" for fault in _rule_faults(rule, table, phases, steps))


def _rule_faults(rule: Rule, table: Table, phases: set[str], steps: set[str]) -> Iterator[str]:
    if rule.joins:
        yield from (f"joins {id_}, which is no step" for id_ in rule.joins if id_ not in steps)
        yield from _wording_faults(rule.id, table.words["lines"], ("part", "say"))
    else:
        if rule.phase not in phases:
            yield f"phase {rule.phase!r} is not one of {', '.join(sorted(phases))}"
        yield from _wording_faults(rule.id, table.words["steps"], ("do",))
    if rule.per not in PER:
        yield f"per {rule.per!r} is not one of {', '.join(PER)}"
        return
    yield from faults(rule.when, names_for(rule.per))
    if rule.unknown not in _UNKNOWN:
        yield f"unknown {rule.unknown!r} is not one of {', '.join(_UNKNOWN)}"
    if rule.caution and rule.caution not in table.words["cautions"]:
        yield f"its caution {rule.caution} has no words"
    if rule.unknown == "look" and not rule.caution:
        yield "nothing to say where it cannot be told: it has no caution"
    yield from (f"source {key} is not known" for key in rule.source if key not in table.sources)
    if not rule.source:
        yield "it names no source"
    yield from (f"holds {key}, which is not known" for key in rule.holds if key not in table.holds)


def _wording_faults(id_: str, words: Words, needed: Sequence[str]) -> Iterator[str]:
    yield from (f"no {key!r} is worded" for key in needed if not words.get(id_, {}).get(key))
