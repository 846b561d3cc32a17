"""Steps while the vehicle is uncertain: what is the same first, what differs named.

Vehicles with more than one chance in a hundred count. Those whose steps read the same are one group.
One group: its steps. Two: their steps in one, what differs said as A and as B, with the sight that
decides. More: the steps for any vehicle and what agrees; of what differs, every place, wait and
thing that it does not do is said.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from catalog.domain.record import Record
from catalog.plan.lines import Line
from catalog.plan.merging import Variant, in_turn, pooled
from catalog.plan.scene import Scene
from catalog.plan.steps import Plan, Step, plan_for
from catalog.plan.table import PARTS, Table, shipped_table

COUNTS = 0.01
_LETTERS = "AB"

# A record, or none for any vehicle, in a scene, by a table -> its steps.
PlanOf = Callable[[Record | None, Scene, Table], Plan]
# Codes of one group and of the other -> the cheapest safe sight that decides, in words: (A has, B has); None if none.
SightOf = Callable[[frozenset[str], frozenset[str]], tuple[str, str] | None]


class Kind(StrEnum):
    """How the steps came about. Values are what the API writes."""

    ANY = "any_vehicle"
    ONE = "one_vehicle"
    SAME = "same_on_all"
    BRANCHES = "two_branches"
    WIDE = "any_vehicle_and_what_agrees"


@dataclass(frozen=True, slots=True)
class Possible:
    """A vehicle it may be."""

    code: str
    record: Record
    probability: float


@dataclass(frozen=True, slots=True)
class Branch:
    """letter, name: one of them is said before its own lines. sight: what shows it, "" where no sight decides.

    codes: its vehicles.
    """

    letter: str
    sight: str
    codes: tuple[str, ...]
    probability: float
    name: str


@dataclass(frozen=True, slots=True)
class SeveralPlan:
    """The steps for all of them. branches: only where there are two. groups: those whose steps read the same."""

    plan: Plan
    kind: Kind
    branches: tuple[Branch, ...] = ()
    groups: tuple["Group", ...] = ()


@dataclass(frozen=True, slots=True)
class Group:
    """Vehicles whose steps read the same, likeliest first."""

    plan: Plan
    members: tuple[Possible, ...]

    @property
    def probability(self) -> float:
        return sum(member.probability for member in self.members)

    @property
    def codes(self) -> frozenset[str]:
        return frozenset(member.code for member in self.members)


@dataclass(frozen=True, slots=True)
class Field:
    """The possible vehicles, and the probability of one that is not in the catalogue.

    by_name: two groups are told apart by their vehicles' names, where A and B would be vehicles of an incident.
    """

    possible: Sequence[Possible]
    unlisted: float = 0.0
    by_name: bool = False


def plan_for_several(
    field: Field,
    scene: Scene,
    sight_of: SightOf | None = None,
    table: Table | None = None,
    plan_of: PlanOf = plan_for,
) -> SeveralPlan:
    """The steps for all vehicles it may be. Without one that counts: the steps for any vehicle.

    plan_of: `plan_for`, or the same with a memory.
    """
    table = table or shipped_table()
    plans = [
        (each, plan_of(each.record, scene, table))
        for each in sorted(field.possible, key=lambda entry: (-entry.probability, entry.code))
        if each.probability > COUNTS
    ]
    groups = _groups(plans)
    if not groups:
        return SeveralPlan(plan_of(None, scene, table), Kind.ANY)
    if len(groups) == 1:
        alone = len(groups[0].members) == 1 and field.unlisted <= COUNTS
        steps = tuple(replace(step, share=groups[0].probability) for step in groups[0].plan.steps)
        plan = replace(groups[0].plan, steps=steps)
        return SeveralPlan(plan, Kind.ONE if alone else Kind.SAME, (), tuple(groups))
    if len(groups) == len(_LETTERS):
        branches = _branches(groups, sight_of)
        named = [
            Variant(branch.letter, group.probability, group.plan, branch.name if field.by_name else branch.letter)
            for branch, group in zip(branches, groups, strict=True)
        ]
        plan = _joined(in_turn(named), groups, table, _how_to_tell(branches, by_name=field.by_name))
        return SeveralPlan(plan, Kind.BRANCHES, branches, tuple(groups))
    any_plan = plan_of(None, scene, table)
    shares = [Variant("", group.probability, group.plan) for group in groups]
    at = {rule.id: number for number, rule in enumerate(table.rules)}
    steps = tuple(sorted(pooled(any_plan, shares, table.words["says"]["some"]), key=lambda step: at[step.id]))
    return SeveralPlan(_joined(steps, [Group(any_plan, ()), *groups], table, ()), Kind.WIDE, (), tuple(groups))


def _groups(plans: Sequence[tuple[Possible, Plan]]) -> Sequence[Group]:
    """Likeliest first; of equal ones the code has decided, so that the letters do not change."""
    made: dict[tuple[object, ...], Group] = {}
    for each, plan in plans:
        reads = tuple((step.id, step.texts()) for step in plan.steps)
        before = made.get(reads)
        made[reads] = Group(plan, (each,)) if before is None else replace(before, members=(*before.members, each))
    return sorted(made.values(), key=lambda group: -group.probability)


def _branches(groups: Sequence[Group], sight_of: SightOf | None) -> tuple[Branch, ...]:
    first, other = groups
    sights = sight_of(first.codes, other.codes) if sight_of is not None else None
    return tuple(
        Branch(letter, sight, tuple(sorted(group.codes)), group.probability, name)
        for letter, sight, group, name in zip(_LETTERS, sights or ("", ""), groups, _names(first, other), strict=True)
    )


def _names(first: Group, other: Group) -> tuple[str, str]:
    """What each group is called; with its model years where the other is called the same."""
    made = (_name(first), _name(other))
    return made if made[0] != made[1] else (_name(first, years=True), _name(other, years=True))


def _name(group: Group, *, years: bool = False) -> str:
    identity = group.members[0].record.identity
    more = len(group.members) - 1
    called = f"{identity.title} {identity.years}" if years else identity.title
    return f"{called} and {more} more" if more else called


def _how_to_tell(branches: Sequence[Branch], *, by_name: bool) -> tuple[Line, ...]:
    called = [branch.name if by_name else branch.letter for branch in branches]
    if not all(branch.sight for branch in branches):
        return (Line(f"No sight tells {called[0]} from {called[1]} for sure: badge, then VIN."),)
    return tuple(Line(f"{name}: {branch.sight}") for name, branch in zip(called, branches, strict=True))


def _joined(steps: Sequence[Step], groups: Sequence[Group], table: Table, how: tuple[Line, ...]) -> Plan:
    """Steps in the order of the table, the same ones first where their phase allows it, and how to tell apart."""
    first = groups[0].plan
    strict = {phase.key for phase in table.phases if phase.strict}
    made = []
    for key, _ in first.phases:
        inside = [step for step in (*steps, *_telling(table, how)) if step.phase == key]
        inside.sort(key=_order(table))
        made += inside if key in strict else sorted(inside, key=lambda step: step.differs)
    cautions: Mapping[str, str] = {}
    for group in groups:
        cautions = {**cautions, **group.plan.cautions}
    return Plan(first.phases, tuple(made), {**cautions, "tell_apart": table.caution("tell_apart")})


def _order(table: Table) -> Callable[[Step], int]:
    at = {rule.id: rule.order for rule in table.rules}
    return lambda step: at[step.id]


def _telling(table: Table, how: tuple[Line, ...]) -> Iterator[Step]:
    for rule in table.rules:
        if rule.several:
            words = table.words["steps"][rule.id]
            parts = {part: tuple(Line(text) for text in words[part]) for part in PARTS if part in words}
            named = tuple(table.sources[key] for key in rule.source)
            parts |= {"how": how} if how else {}
            yield Step(rule.id, rule.id, rule.phase, words["do"], parts=parts, sources=named, cautions=(rule.caution,))
