"""The steps of one record in one scene, kept a while: while somebody types, vehicles and scene seldom change.

What is kept holds nothing of a text: a record of the catalogue, fields of a scene, the steps that follow.
"""

from dataclasses import dataclass
from functools import lru_cache

from catalog.domain.record import Record
from catalog.plan.scene import Scene
from catalog.plan.steps import Plan, plan_for
from catalog.plan.table import Table

_KEPT = 512  # a plan is some 40 kB


@dataclass(frozen=True, slots=True, eq=False)
class _Asked:
    """Equal by which record and table it is about (they are kept with it), and by what the scene says."""

    record: Record | None
    scene: Scene
    table: Table

    def _key(self) -> tuple[object, ...]:
        scene = self.scene
        return id(self.record), id(self.table), frozenset(scene.values.items()), scene.carried, scene.caller

    def __hash__(self) -> int:
        return hash(self._key())

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Asked) and self._key() == other._key()


def plan_kept(record: Record | None, scene: Scene, table: Table) -> Plan:
    """`plan_for`, made once for the same record, scene and table."""
    return _plan(_Asked(record, scene, table))


@lru_cache(maxsize=_KEPT)
def _plan(asked: _Asked) -> Plan:
    return plan_for(asked.record, asked.scene, asked.table)


def forget() -> None:
    """For measuring what is not remembered yet."""
    _plan.cache_clear()
