"""What the steps and briefs are made from: the vehicles it may be, the scene, and the plan for them in it."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

import numpy as np

from catalog.compiled import Compiled
from catalog.domain.canonical import parse_canonical
from catalog.domain.record import Record
from catalog.plan.proposed import proposed_scene
from catalog.plan.scene import Scene
from catalog.plan.several import COUNTS, Possible, SeveralPlan, SightOf, plan_for_several
from catalog.plan.several import Field as PossibleVehicles
from catalog.plan.table import Table
from catalog.resolve.explain import tells_apart
from catalog.resolve.field import Field
from catalog.resolve.lookalikes import tellings
from catalog.resolve.posterior import Posterior
from catalog.resolve.sights import Observer
from catalog.services.compiling import record_of
from catalog.services.house import House
from catalog.services.local_steps import table_of
from catalog.services.planning import plan_kept
from catalog.services.records import ANY_VEHICLE, not_listed, parsed_code
from catalog.services.resolving import Weighed
from catalog.services.scenes import with_answers

_MOST = int(1 / COUNTS)  # more than so many cannot have more than that share each

Planner = Callable[[PossibleVehicles, Scene, SightOf, Table], SeveralPlan]


def _as_steps(field: PossibleVehicles, scene: Scene, sight_of: SightOf, table: Table) -> SeveralPlan:
    return plan_for_several(field, scene, sight_of, table, plan_kept)


@dataclass(frozen=True, slots=True)
class Way:
    """read_as: a record as it is to be read; a brief has what is read of it noted. plan: makes the plan."""

    read_as: Callable[[Record], Record] = lambda record: record
    plan: Planner = _as_steps


STEPS = Way()


@dataclass(frozen=True, slots=True)
class StepsAsked:
    """codes: vehicles it may be, alike likely; with none, text is weighed; with neither, any vehicle.

    scene: field -> yes, no or unknown, over what the text says of it. carried: connector standards on board.
    """

    codes: tuple[str, ...] = ()
    text: str = ""
    scene: Mapping[str, str] = field(default_factory=dict)
    carried: tuple[str, ...] | None = None
    caller: str | None = None


@dataclass(frozen=True, eq=False)
class Planned:
    """weighed: the description, with every record's share, as named where codes were given. possible: those that
    count, likeliest first, by their place in the tables. notice: why this site's own steps are left out, "" where they
    are not."""

    weighed: Weighed
    possible: Mapping[int, Possible]
    scene: Scene
    several: SeveralPlan
    table: Table
    notice: str

    @property
    def compiled(self) -> Compiled:
        return self.weighed.found.compiled

    @property
    def field(self) -> Field:
        return self.weighed.found.field

    @property
    def unlisted(self) -> float:
        return float(self.weighed.result.unlisted)


def scene_for(asked: StepsAsked, weighed: Weighed) -> Scene:
    """The scene as said, put right by who was asked. Raises BadInput."""
    return with_answers(proposed_scene(weighed.found.reading.scene), asked.scene, asked.carried, asked.caller)


def planned(house: House, asked: StepsAsked, weighed: Weighed, way: Way = STEPS) -> Planned:
    """The plan for a description that was weighed already; asked.text is not read again. Raises BadInput, NotFound."""
    compiled, ground = weighed.found.compiled, weighed.found.field
    scene = scene_for(asked, weighed)
    if asked.codes:
        order, named = _named(asked.codes, compiled)
        weighed = replace(weighed, result=named)
    else:
        # Where nothing tells vehicles apart nobody looks likely: any vehicle.
        order = weighed.result.order(_MOST).tolist() if tells_apart(weighed.result) else []
    result = weighed.result
    codes = ground.tables.meta["codes"]
    counting = {at: float(result.records[at]) for at in order if result.records[at] > COUNTS}
    possible = {
        at: Possible(codes[at], way.read_as(_record(compiled, codes[at])), share) for at, share in counting.items()
    }
    table, notice = table_of(house)
    vehicles = PossibleVehicles([*possible.values()], float(result.unlisted))
    several = way.plan(vehicles, scene, _sight_of(ground, possible), table)
    return Planned(weighed, possible, scene, several, table, notice)


def _named(codes: Sequence[str], compiled: Compiled) -> tuple[list[int], Posterior]:
    """Places of the records that somebody named, each as likely as the others."""
    listed = compiled.tables.meta["codes"]
    known = tuple(dict.fromkeys(parsed_code(code) for code in codes))
    for code in known:
        if code not in compiled.codes:
            raise not_listed(compiled, code, ANY_VEHICLE)
    order = [listed.index(code) for code in known]
    shares = np.zeros(compiled.tables.size)
    shares[order] = 1 / len(known)
    return order, Posterior(shares, 0.0, ())


def _record(compiled: Compiled, code: str) -> Record:
    return _parsed(bytes(compiled.record_bytes(code)))


@lru_cache(maxsize=256)
def _parsed(document: bytes) -> Record:
    """Parsed once: while somebody types the same vehicles come again and again, and reading one takes milliseconds."""
    return record_of(parse_canonical(document))


def forget() -> None:
    """For measuring what is not remembered yet."""
    _parsed.cache_clear()


def _sight_of(ground: Field, possible: Mapping[int, Possible]) -> SightOf:
    """The cheapest sight that decides between two groups of the possible, as a crew at the vehicle sees it."""
    at = {each.code: position for position, each in possible.items()}

    def sight_of(first: frozenset[str], other: frozenset[str]) -> tuple[str, str] | None:
        pairs = [(at[a], at[b]) for a in sorted(first) for b in sorted(other)]
        told = [{t.sight.attribute: t for t in tellings(a, b, ground, Observer.CREW)} for a, b in pairs]
        for attribute, telling in told[0].items():
            # It decides only where it shows the same on every vehicle of a group.
            shown = [found[attribute].values for found in told if attribute in found]
            if len(shown) == len(pairs) and len(set(shown)) == 1:
                return f"{telling.sight.ask} {shown[0][0]}", f"{telling.sight.ask} {shown[0][1]}"
        return None

    return sight_of
