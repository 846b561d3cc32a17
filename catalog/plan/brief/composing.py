"""A brief from one record, from several possible vehicles or from none, and a scene."""

from dataclasses import replace

from catalog.domain import cautions
from catalog.plan.brief.full import full_text
from catalog.plan.brief.model import Brief, BriefInput
from catalog.plan.brief.points import points_of
from catalog.plan.brief.radio import radio_of
from catalog.plan.brief.sheet import sheet_of
from catalog.plan.brief.vehicles import each_of
from catalog.plan.caller import caller_lines
from catalog.plan.scene import Scene
from catalog.plan.several import Field, PlanOf, SeveralPlan, SightOf, plan_for_several
from catalog.plan.steps import plan_for
from catalog.plan.table import Table


def brief_plan(
    field: Field,
    scene: Scene,
    sight_of: SightOf | None = None,
    table: Table | None = None,
    plan_of: PlanOf = plan_for,
) -> SeveralPlan:
    """The steps as a brief says them: what differs goes by the vehicles' names, since A and B are an incident's."""
    return plan_for_several(replace(field, by_name=True), scene, sight_of, table, plan_of)


def compose(asked: BriefInput) -> Brief:
    """The brief in all its forms."""
    each = each_of(asked)
    breaths, left_out = radio_of(asked, each)
    return Brief(
        letter=asked.letter,
        data=asked.data,
        kind=asked.plan.kind.value,
        breaths=breaths,
        full=full_text(asked),
        sheet=sheet_of(asked, each),
        caller=caller_lines(asked.scene, asked.table.caller),
        points=points_of(asked, each),
        warnings=_warnings(asked),
        left_out=left_out,
    )


def _warnings(asked: BriefInput) -> tuple[str, ...]:
    mark = (cautions.DEMO_MARK,) if asked.data.demo else ()
    said = cautions.FULL_POSSIBLE if asked.vehicles else cautions.FULL
    return (*mark, f"Fixed to {asked.data.words}.", *said)
