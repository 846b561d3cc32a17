"""Possible vehicles put together: what cannot be told apart by its looks is one line with one chance.

Records join the likeliest one they look like, so a group hangs together by its first member and
never by a chain. Within a group, records on which a crew acts the same are counted together; where
they differ in action, that difference is the group's headline.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from catalog.resolve.fact_index import indexed_facts
from catalog.resolve.field import Field
from catalog.resolve.lookalikes import ALIKE, Difference, Telling, differences, looks_between, tellings
from catalog.resolve.posterior import Posterior
from catalog.resolve.sights import Observer

# How many records are looked at, and what share of the vehicles one must have to be told of.
_LOOKED_AT, _WORTH = 50, 0.005
_DIFFERENCES = 6  # told of a group; all of them are told of two records


@dataclass(frozen=True, slots=True)
class ActionGroup:
    """Records with the same brief facts. positions: likeliest first. probability: their sum."""

    positions: tuple[int, ...]
    probability: float


@dataclass(frozen=True, slots=True)
class Group:
    """Records that look alike. actions: likeliest first, one where a crew acts the same on all.

    differs: the heaviest facts they differ in, one value per action group; the first is the headline.
    differ_in: how many facts they differ in. telling: safe sights that tell the first two action groups
    apart, cheapest first.
    """

    actions: tuple[ActionGroup, ...]
    probability: float
    differs: tuple[Difference, ...]
    differ_in: int
    telling: tuple[Telling, ...]

    @property
    def positions(self) -> tuple[int, ...]:
        return tuple(position for action in self.actions for position in action.positions)


@dataclass(frozen=True, slots=True)
class Grouped:
    """groups: by looks, likeliest first. acting: all of the same records by action alone, whatever they look like.

    rest: share of the listed records in none of them.
    """

    groups: tuple[Group, ...]
    acting: tuple[ActionGroup, ...]
    rest: float


def grouped(result: Posterior, field: Field, observer: Observer = Observer.CALLER) -> Grouped:
    """Group the likeliest records; the first is always told of."""
    order = result.order(_LOOKED_AT)
    likely = order[result.records[order] >= min(_WORTH, result.records[order].max(initial=0.0))]
    groups = [_group(members, result, field, observer) for members in _alike(likely, field)]
    groups.sort(key=lambda group: (-group.probability, group.positions[0]))
    told = sum(group.probability for group in groups)
    return Grouped(
        tuple(groups), _by_action(likely.tolist(), result, field), max(0.0, float(result.records.sum()) - told)
    )


def _alike(likely: NDArray[np.intp], field: Field) -> list[list[int]]:
    """Partition: each record goes with the likeliest one left that it looks like."""
    near = looks_between(likely, field) < ALIKE
    made, left = [], np.ones(len(likely), dtype=np.bool_)
    for place in range(len(likely)):
        if left[place]:
            members = np.flatnonzero(near[place] & left)
            left[members] = False
            made.append([int(position) for position in likely[members]])
    return made


def _group(members: list[int], result: Posterior, field: Field, observer: Observer) -> Group:
    if len(members) == 1:
        alone = float(result.records[members[0]])
        return Group((ActionGroup(tuple(members), alone),), alone, (), 0, ())
    actions = _by_action(members, result, field)
    probability = sum(action.probability for action in actions)
    if len(actions) == 1:
        return Group(actions, probability, (), 0, ())
    leaders = [action.positions[0] for action in actions]
    telling = tellings(leaders[0], leaders[1], field, observer)
    differs, differ_in = differences(leaders, field.tables, _DIFFERENCES)
    return Group(actions, probability, differs, differ_in, telling)


def _by_action(members: list[int], result: Posterior, field: Field) -> tuple[ActionGroup, ...]:
    made: dict[int, list[int]] = {}
    for position, action in zip(members, indexed_facts(field.tables).alike[members].tolist(), strict=True):
        made.setdefault(action, []).append(position)
    groups = [ActionGroup(tuple(alike), float(result.records[alike].sum())) for alike in made.values()]
    return tuple(sorted(groups, key=lambda group: (-group.probability, group.positions[0])))
