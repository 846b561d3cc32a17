"""Steps in order: the table's rules weighed on one vehicle, or on any, in one scene."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from catalog.domain.record import Record
from catalog.plan.conditions import ValueOf, holds, missing
from catalog.plan.derived import MADE_OF, SCENE_NAMES
from catalog.plan.derived_items import OPEN_WORDS, PER, Values
from catalog.plan.lines import Line, lines_of
from catalog.plan.scene import Said, Scene, field_words
from catalog.plan.subject import Subject, subject_of
from catalog.plan.table import PARTS, Phase, Rule, Table, shipped_table


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do, or to leave.

    key: id, and the port or way it is about. only_if: what must be made sure of first. holds: when it is not
    to be done yet. parts: by the names of PARTS, none empty. sources: as they are cited. share: at least so many
    of the possible vehicles have it just so; None for one vehicle, or any. differs: it reads differently on some.
    """

    id: str
    key: str
    phase: str
    do: str
    item: str = ""
    only_if: tuple[str, ...] = ()
    holds: tuple[str, ...] = ()
    parts: Mapping[str, tuple[Line, ...]] = field(default_factory=dict)
    sources: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    site: bool = False
    share: float | None = None
    differs: bool = False

    def part(self, name: str) -> tuple[str, ...]:
        """The sentences of a part: why, where, how, tool, confirms, fails, wait, meanwhile, not."""
        return tuple(line.text for line in self.parts.get(name, ()))

    def texts(self) -> tuple[str, ...]:
        """Everything it says, in order."""
        said = [line.text for name in PARTS for line in self.parts.get(name, ())]
        return (self.do, *self.only_if, *self.holds, *said)


@dataclass(frozen=True, slots=True)
class Plan:
    """Steps in order. phases: (key, label) as they follow here. cautions: id -> words, in order."""

    phases: tuple[tuple[str, str], ...]
    steps: tuple[Step, ...]
    cautions: Mapping[str, str]

    def step(self, id_: str) -> Step | None:
        """The first step of an id."""
        return next((step for step in self.steps if step.id == id_), None)


@dataclass(frozen=True, slots=True)
class _Found:
    """A rule that applies to one item. certain: yes, or unknown and said with conditions."""

    rule: Rule
    subject: Subject
    item: str
    said: Said
    value_of: ValueOf


def plan_for(record: Record | None, scene: Scene, table: Table | None = None) -> Plan:
    """The steps for one vehicle; without a record, for any vehicle."""
    table = table or shipped_table()
    subject = subject_of(record, scene)
    values = Values(subject, scene)
    phases = _in_order(table, values.of(""))
    found = [entry for rule in table.rules for entry in _weighed(rule, subject, values)]
    said = [entry for entry in found if entry.said is Said.YES or entry.rule.unknown == "if"]
    looks = [entry for entry in found if entry.said is Said.UNKNOWN and entry.rule.unknown == "look"]
    look_lines = tuple(Line(table.caution(key)) for key in dict.fromkeys(e.rule.caution for e in looks))
    own = sorted((entry for entry in said if not entry.rule.joins), key=_place_in(phases, subject))
    joining = sorted((entry for entry in said if entry.rule.joins), key=lambda entry: entry.rule.order)
    steps = [_step(entry, table, joining, look_lines) for entry in own if _has_words(entry.rule, look_lines)]
    cautions = dict.fromkeys(key for step in steps for key in step.cautions)
    cautions |= dict.fromkeys(entry.rule.caution for entry in looks)
    return Plan(
        tuple((phase.key, phase.label) for phase in phases),
        tuple(steps),
        {key: table.caution(key) for key in cautions},
    )


def _has_words(rule: Rule, look_lines: Sequence[Line]) -> bool:
    """The two steps that are made of what is found elsewhere: only where there is something."""
    return not rule.several and (bool(look_lines) or not rule.looks)


def _in_order(table: Table, value_of: ValueOf) -> Sequence[Phase]:
    def order(phase: Phase) -> int:
        early = phase.early is not None and holds(phase.early_when, value_of) is Said.YES
        return phase.early if early and phase.early is not None else phase.order

    return sorted(table.phases, key=order)


def _weighed(rule: Rule, subject: Subject, values: Values) -> Iterator[_Found]:
    path = PER[rule.per][0]
    for item in subject.items(path) if path else ("",):
        value_of = values.of(item)
        said = holds(rule.when, value_of)
        if said is not Said.NO and not (said is Said.UNKNOWN and rule.unknown == "drop"):
            yield _Found(rule, subject, item, said, value_of)


def _place_in(phases: Sequence[Phase], subject: Subject) -> Callable[[_Found], tuple[int, int, int]]:
    """Sort key: phase, order, and where the port or way stands in the record."""
    at = {phase.key: number for number, phase in enumerate(phases)}

    def place(entry: _Found) -> tuple[int, int, int]:
        items = subject.items(PER[entry.rule.per][0]) if entry.item else ()
        return at[entry.rule.phase], entry.rule.order, items.index(entry.item) if items else 0

    return place


def _step(entry: _Found, table: Table, joining: Sequence[_Found], look_lines: tuple[Line, ...]) -> Step:
    rule, subject, item = entry.rule, entry.subject, entry.item
    words = table.words["steps"][rule.id]
    parts = {part: list(lines_of(words.get(part, ()), subject, item)) for part in PARTS}
    if rule.looks:
        parts["how"] += look_lines
    cautions, source = [rule.caution], [*rule.source]
    for other in joining:
        if rule.id in other.rule.joins and other.item in ("", item):
            line = table.words["lines"][other.rule.id]
            joined = (Line(line["say"]), *lines_of(line.get("facts", ()), subject, item))
            parts[line["part"]] += joined
            cautions.append(other.rule.caution)
            source += other.rule.source
    kept = {part: tuple(dict.fromkeys(found)) for part, found in parts.items() if found}
    return Step(
        id=rule.id,
        key=f"{rule.id}:{item}" if item else rule.id,
        phase=rule.phase,
        do=words["do"],
        item=item,
        only_if=_only_if(entry),
        holds=tuple(table.words["holds"][key] for key in rule.holds if _holds(table, key, entry)),
        parts=kept,
        sources=_sources(kept, source, table),
        cautions=tuple(key for key in dict.fromkeys(cautions) if key),
        site=rule.site,
    )


def _holds(table: Table, key: str, entry: _Found) -> bool:
    return holds(table.holds[key], entry.value_of) is Said.YES


def _sources(parts: Mapping[str, tuple[Line, ...]], keys: Sequence[str], table: Table) -> tuple[str, ...]:
    """Guides of the facts that are said, then what the step itself rests on."""
    cited = [ref for lines in parts.values() for line in lines for ref in line.src]
    named = [table.sources[key] for key in keys if key != "guide"]
    return tuple(dict.fromkeys((*cited, *named))) or (table.sources["guide"],)


def _only_if(entry: _Found) -> tuple[str, ...]:
    """What is to be made sure of first, each in words, none said twice."""
    if entry.said is not Said.UNKNOWN:
        return ()
    made = [word for name, wanted in missing(entry.rule.when, entry.value_of) for word in _open(name, wanted, entry)]
    return tuple(dict.fromkeys(made))


def _open(name: str, wanted: Said, entry: _Found) -> Iterator[str]:
    if name in SCENE_NAMES:
        yield field_words(name, wanted)
    elif name in MADE_OF:
        unknown = (key for key in MADE_OF[name] if entry.value_of(key) is Said.UNKNOWN)
        yield from (field_words(key, wanted) for key in unknown)
    else:
        yield OPEN_WORDS[name][wanted]
