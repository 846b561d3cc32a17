"""The steps for a vehicle, for the vehicles a description may mean, or for any vehicle."""

from catalog.plan.scene import DONE, FIELDS, Scene, field_words
from catalog.plan.several import Branch
from catalog.resolve.answering.chances import chance_of
from catalog.services.compiling import edition_view
from catalog.services.doubts import all_in
from catalog.services.house import House
from catalog.services.resolving import Description, Weighed, weigh
from catalog.services.step_views import (
    BranchView,
    FieldView,
    StepsView,
    VehicleView,
    WarningView,
    phase_views,
    step_views,
)
from catalog.services.weighing import Planned, StepsAsked, planned, scene_for

__all__ = ["StepsAsked", "known_fields", "scene_for", "steps_for", "steps_of", "steps_view"]


def steps_of(house: House, asked: StepsAsked) -> StepsView:
    """The steps in a scene. Nothing of the text is stored or logged. Raises BadInput, NotFound, Unavailable."""
    return steps_for(house, asked, weigh(house, Description(asked.text)))


def steps_for(house: House, asked: StepsAsked, weighed: Weighed) -> StepsView:
    """The steps for a description that was weighed already; asked.text is not read again. Raises BadInput, NotFound."""
    return steps_view(planned(house, asked, weighed))


def steps_view(found: Planned) -> StepsView:
    """The steps of what was planned."""
    several, meta = found.several, found.field.tables.meta
    codes = {each.code for each in found.possible.values()}
    return StepsView(
        edition=edition_view(found.compiled),
        kind=several.kind.value,
        phases=phase_views(several.plan),
        steps=step_views(several.plan),
        warnings=tuple(WarningView(key, text) for key, text in several.plan.cautions.items()),
        vehicles=tuple(
            VehicleView(each.code, meta["titles"][at], meta["subtitles"][at], chance_of(each.probability))
            for at, each in found.possible.items()
        ),
        branches=tuple(_branch(branch) for branch in several.branches),
        unlisted=chance_of(found.unlisted),
        scene=known_fields(found.scene),
        caller=found.scene.caller,
        notice=found.notice,
        doubts=tuple(doubt for doubt in all_in(found.compiled) if doubt.code in codes),
    )


def _branch(branch: Branch) -> BranchView:
    return BranchView(branch.letter, branch.sight, branch.codes, chance_of(branch.probability))


def known_fields(scene: Scene) -> tuple[FieldView, ...]:
    """What is known of a scene, in words."""
    said = [(key, scene.said(key)) for key in (*FIELDS, *DONE)]
    return tuple(
        FieldView(key, value.value, field_words(key, value))
        for key, value in said
        if value != "unknown" and not (key in DONE and value == "no")
    )
