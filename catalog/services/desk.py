"""What the dispatcher's desk shows of one vehicle of a call: read and weighed once, then said in every way."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from catalog.plan.brief import Brief, brief_plan, compose
from catalog.plan.caller import caller_lines, shipped_caller
from catalog.plan.derived import PORT_RULED_OUT
from catalog.plan.proposed import proposed_scene
from catalog.plan.scene import DONE, FIELDS, Said, Scene
from catalog.plan.several import Field as PossibleVehicles
from catalog.plan.several import SeveralPlan, SightOf
from catalog.plan.steps import plan_for
from catalog.plan.table import Table
from catalog.services.brief_composing import BriefAsked, brief_input
from catalog.services.house import House
from catalog.services.local_steps import table_of
from catalog.services.planning import plan_kept
from catalog.services.resolving import Description, answer_of, weigh
from catalog.services.scenes import with_answers
from catalog.services.step_views import PhaseView, StepsView, StepView, phase_views, step_views
from catalog.services.steps import steps_view
from catalog.services.views import Answer
from catalog.services.weighing import StepsAsked, Way, planned, scene_for


@dataclass(frozen=True, slots=True)
class DeskAnswer:
    """scene: what is known of it, field -> yes or no. as_said: by the words alone, yes, no or perhaps.

    port_ruled_out: something said means that the port stays alone. draft: the brief as it would be composed now.
    """

    answer: Answer
    steps: StepsView
    scene: Mapping[str, str]
    as_said: Mapping[str, str]
    port_ruled_out: bool
    draft: Brief
    tell: "Tell"


@dataclass(frozen=True, slots=True)
class TellPlace:
    """Where a caller may be, and what a caller there is told in this scene. key: as it is posted."""

    key: str
    name: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Tell:
    """What the caller is told. said: the place by the words alone, "" for none. unsaid: the lines while no place is
    chosen. ask: the question that finds the place out. foot: where the lines are from."""

    ask: str
    said: str
    unsaid: tuple[str, ...]
    places: tuple[TellPlace, ...]
    foot: str


@dataclass(frozen=True, slots=True)
class GeneralSteps:
    """The steps for any vehicle, which need neither a catalogue nor a database. scene, notice: as in `StepsView`."""

    phases: tuple[PhaseView, ...]
    steps: tuple[StepView, ...]
    scene: Mapping[str, str]
    port_ruled_out: bool
    tell: "Tell"
    notice: str = ""


@dataclass(frozen=True, slots=True)
class SceneSaid:
    """What whoever is at the desk says of the scene. answers: field -> yes, no or unknown. caller: None as said.

    letter: of the vehicle in its call, A to Z.
    """

    answers: Mapping[str, str] = field(default_factory=dict)
    caller: str | None = None
    letter: str = "A"


def desk_answer(house: House, description: Description, said: SceneSaid) -> DeskAnswer:
    """Everything of one vehicle. Nothing of the text is stored or logged. Raises BadInput, Unavailable."""
    weighed = weigh(house, description)
    found = planned(house, _steps_asked(said), weighed, Way(plan=_named_plan))
    made = brief_input(house, BriefAsked(letter=said.letter), found)
    return DeskAnswer(
        answer=answer_of(description, weighed),
        steps=steps_view(found),
        scene=_known(found.scene),
        as_said=_as_said(weighed.found.reading.scene),
        port_ruled_out=_port_ruled_out(found.scene),
        draft=compose(made),
        tell=_tell(found.scene, found.table, proposed_scene(weighed.found.reading.scene).caller),
    )


def known_scene(house: House, description: Description, said: SceneSaid) -> tuple[Mapping[str, str], str]:
    """Every field of the scene as the desk shows it, and where the caller is: a brief says it so, whatever one before
    it said. Raises BadInput, Unavailable."""
    scene = scene_for(_steps_asked(said), weigh(house, description))
    known = _known(scene)
    return {key: known.get(key, Said.UNKNOWN.value) for key in FIELDS}, scene.caller


def _steps_asked(said: SceneSaid) -> StepsAsked:
    return StepsAsked(scene=said.answers, caller=_caller(said.caller))


def _named_plan(vehicles: PossibleVehicles, scene: Scene, sight_of: SightOf, table: Table) -> SeveralPlan:
    """The plan as a brief has it, since a letter is a vehicle of the call; made once while somebody types."""
    return brief_plan(vehicles, scene, sight_of, table, plan_kept)


def _tell(scene: Scene, table: Table, said: str = "unknown") -> Tell:
    def lines(place: str) -> tuple[str, ...]:
        return caller_lines(replace(scene, caller=place), table.caller)

    shipped = shipped_caller()
    places = tuple(TellPlace(one["key"], one["name"], lines(one["key"])) for one in shipped["places"])
    name = next((place.name for place in places if place.key == said), "")
    return Tell(shipped["ask"], name, lines(said), places, shipped["foot"])


def general_steps(house: House, said: SceneSaid) -> GeneralSteps:
    """The steps for any vehicle in a scene. Raises BadInput for a field or a place of the caller there is not."""
    scene = with_answers(proposed_scene({}), said.answers, None, _caller(said.caller))
    table, notice = table_of(house)
    plan = plan_for(None, scene, table)
    told = _known(scene), _port_ruled_out(scene), _tell(scene, table)
    return GeneralSteps(phase_views(plan), step_views(plan), *told, notice)


def _caller(caller: str | None) -> str | None:
    """Who is at the vehicle as crew is no caller."""
    return None if caller in ("crew", "") else caller


def _known(scene: Scene) -> Mapping[str, str]:
    said = {key: scene.said(key) for key in FIELDS} | {key: scene.values.get(key, Said.UNKNOWN) for key in DONE}
    return {key: value.value for key, value in said.items() if value is not Said.UNKNOWN}


def _as_said(words: Mapping[str, str]) -> Mapping[str, str]:
    perhaps = {key: answer for key, answer in words.items() if answer == "perhaps" and key in FIELDS}
    return {**perhaps, **_known(proposed_scene(words))}


def _port_ruled_out(scene: Scene) -> bool:
    return any(scene.said(key) is Said.YES for key in PORT_RULED_OUT)
