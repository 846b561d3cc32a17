"""The steps for a vehicle, for the vehicles a description may mean, or for any vehicle."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from catalog.compiled import Compiled
from catalog.domain.canonical import parse_canonical
from catalog.domain.record import Record
from catalog.plan.scene import DONE, FIELDS, Scene, field_words
from catalog.plan.several import COUNTS, Branch, Possible, SightOf, plan_for_several
from catalog.plan.several import Field as PossibleVehicles
from catalog.resolve.explain import tells_apart
from catalog.resolve.field import Field
from catalog.resolve.lookalikes import tellings
from catalog.resolve.sights import Observer
from catalog.services.compiling import edition_view, record_of
from catalog.services.fact_views import chance_of
from catalog.services.house import House
from catalog.services.local_steps import table_of
from catalog.services.planning import plan_kept
from catalog.services.records import ANY_VEHICLE, not_listed, parsed_code
from catalog.services.resolving import Description, Weighed, weigh
from catalog.services.scenes import proposed_scene, with_answers
from catalog.services.step_views import (
    BranchView,
    FieldView,
    StepsView,
    VehicleView,
    WarningView,
    phase_views,
    step_views,
)


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


def steps_of(house: House, asked: StepsAsked) -> StepsView:
    """The steps in a scene. Nothing of the text is stored or logged. Raises BadInput, NotFound, Unavailable."""
    return steps_for(house, asked, weigh(house, Description(asked.text)))


def scene_for(asked: StepsAsked, weighed: Weighed) -> Scene:
    """The scene as said, put right by who was asked. Raises BadInput."""
    return with_answers(proposed_scene(weighed.found.reading.scene), asked.scene, asked.carried, asked.caller)


def steps_for(house: House, asked: StepsAsked, weighed: Weighed) -> StepsView:
    """The steps for a description that was weighed already; asked.text is not read again. Raises BadInput, NotFound."""
    found, result = weighed.found, weighed.result
    compiled, ground = found.compiled, found.field
    scene = scene_for(asked, weighed)
    if asked.codes:
        shares, unlisted = _named(asked.codes, compiled), 0.0
    else:
        # Where nothing tells vehicles apart nobody looks likely: any vehicle.
        order = result.order(None) if tells_apart(result) else ()
        shares = {int(at): float(result.records[at]) for at in order if result.records[at] > COUNTS}
        unlisted = float(result.unlisted)
    meta = ground.tables.meta
    codes = {at: meta["codes"][at] for at in shares}
    possible = [Possible(codes[at], _record(compiled, codes[at]), share) for at, share in shares.items()]
    table, notice = table_of(house)
    several = plan_for_several(PossibleVehicles(possible, unlisted), scene, _sight_of(ground), table, plan_kept)
    return StepsView(
        edition=edition_view(compiled),
        kind=several.kind.value,
        phases=phase_views(several.plan),
        steps=step_views(several.plan),
        warnings=tuple(WarningView(key, text) for key, text in several.plan.cautions.items()),
        vehicles=tuple(
            VehicleView(codes[at], meta["titles"][at], meta["subtitles"][at], chance_of(share))
            for at, share in shares.items()
        ),
        branches=tuple(_branch(branch) for branch in several.branches),
        unlisted=chance_of(unlisted),
        scene=_known(scene),
        caller=scene.caller,
        notice=notice,
    )


def _named(codes: Sequence[str], compiled: Compiled) -> dict[int, float]:
    """Positions of the records that somebody named, each as likely as the others."""
    listed = compiled.tables.meta["codes"]
    known = tuple(dict.fromkeys(parsed_code(code) for code in codes))
    for code in known:
        if code not in compiled.codes:
            raise not_listed(compiled, code, ANY_VEHICLE)
    return {listed.index(code): 1 / len(known) for code in known}


def _record(compiled: Compiled, code: str) -> Record:
    return _parsed(bytes(compiled.record_bytes(code)))


@lru_cache(maxsize=256)
def _parsed(document: bytes) -> Record:
    """Parsed once: while somebody types the same vehicles come again and again, and reading one takes milliseconds."""
    return record_of(parse_canonical(document))


def _sight_of(ground: Field) -> SightOf:
    """The cheapest sight that decides between the two groups, as a crew at the vehicle sees it."""
    at = {code: position for position, code in enumerate(ground.tables.meta["codes"])}

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


def _branch(branch: Branch) -> BranchView:
    return BranchView(branch.letter, branch.sight, branch.codes, chance_of(branch.probability))


def _known(scene: Scene) -> tuple[FieldView, ...]:
    said = [(key, scene.said(key)) for key in (*FIELDS, *DONE)]
    return tuple(
        FieldView(key, value.value, field_words(key, value))
        for key, value in said
        if value != "unknown" and not (key in DONE and value == "no")
    )
