"""The walk-round strip and the cut points close up, drawn for a record's page, its steps, a brief and the API."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from catalog.device.phone.drawn import drawn_of, places_of
from catalog.device.phone.shapes import shape_of_step
from catalog.domain.places import Place
from catalog.domain.record import Record
from catalog.draw.close_up import close_ups
from catalog.draw.faces import STANCES
from catalog.draw.model import POSTURES, Drawn, Numbered
from catalog.draw.sketch import sketch_svg
from catalog.draw.strip import strip
from catalog.draw.svg import svg, swatch
from catalog.errors import BadInput, NotFound, Unavailable
from catalog.plan.brief.model import Brief
from catalog.plan.scene import UNKNOWN, Said, Scene
from catalog.plan.steps import Plan, Step, plan_for
from catalog.plan.subject import subject_of
from catalog.services.brief_kept import Composed
from catalog.services.drawing_paint import alone
from catalog.services.house import House
from catalog.services.local_steps import table_of
from catalog.services.records import read_record
from catalog.services.resolving import Description, weigh
from catalog.services.step_views import StepsView
from catalog.services.steps import steps_view
from catalog.services.weighing import StepsAsked, planned

ON_SCREEN, ON_PAPER = 2, 1  # rows
# Which field of a scene says how the vehicle lies.
_LIES = {"left_down": "left_down", "right_down": "right_down", "on_roof": "roof"}
_ONLY_IF = "ONLY IF"
_CHOCK = "chock"
_NO_STEPS = Plan((), (), {})


@dataclass(frozen=True, slots=True)
class Swatch:
    """A row of the legend."""

    svg: str
    words: str


@dataclass(frozen=True, slots=True)
class StripView:
    """A strip. twin: the same facts in words, a line each. posture: of `POSTURES`, "" where it was not said.

    height: in pixels, as wide as its row. stands: how it lies, in words. no_place: what has a number and no mark in the
    picture, because no place is stated.
    """

    svg: str
    twin: tuple[str, ...]
    legend: tuple[Swatch, ...]
    posture: str
    height: int = 0
    stands: str = ""
    no_place: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CloseUpView:
    """A cut point. title: the way. twin: its facts in words, a line each."""

    title: str
    svg: str
    twin: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Pointed:
    """A numbered thing of a page, to be pointed at. paths: facts that say where. wheels: it is done at the wheels."""

    number: int
    shape: str
    label: str
    paths: tuple[str, ...] = ()
    wheels: bool = False


def posture_of(scene: Scene) -> str:
    """How the vehicle lies as far as it was said: "wheels" only where every other way was denied."""
    for field, posture in _LIES.items():
        if scene.said(field) is Said.YES:
            return posture
    told = [scene.said(field) for field in (*_LIES, "on_side")]
    return "wheels" if all(said is Said.NO for said in told) else ""


def scene_in(posture: str) -> Scene:
    """Nothing known but how it lies. Raises BadInput."""
    if posture not in POSTURES:
        allowed = ", ".join(key for key in POSTURES if key)
        raise BadInput(f"posture is {posture!r}.", cure=f"Use one of {allowed}, or leave it out.")
    if not posture:
        return UNKNOWN
    said = {field: Said.of(lies == posture) for field, lies in _LIES.items()}
    return UNKNOWN.having(**said, on_side=Said.of(posture in ("left_down", "right_down")))


def steps_drawn(house: House, code: str, answers: Mapping[str, str]) -> tuple[StepsView, StripView]:
    """The steps of one vehicle in a scene, and the strip with their numbers. Raises BadInput, NotFound, Unavailable."""
    found = planned(house, StepsAsked((code,), scene=answers), weigh(house, Description("")))
    (one,) = found.possible.values()
    return steps_view(found), steps_strip(one.record, found.several.plan, found.scene)


def steps_strip(record: Record, plan: Plan, scene: Scene) -> StripView:
    """The strip with the numbers of a plan, in the posture the scene says."""
    return _view(drawn_of(record, plan, scene), posture_of(scene), ON_SCREEN)


def brief_strips(house: House, composed: Composed) -> tuple[StripView, StripView] | None:
    """For the screen and for paper, with the brief's own numbers, from the edition it is fixed to.

    None where it is about no vehicle or may be about several: what is drawn would be taken for the one that is there.
    """
    if len(composed.vehicles) != 1:
        return None
    try:
        found = read_record(house, composed.vehicles[0].code, edition=composed.edition.number)
    except (NotFound, Unavailable):
        return None
    scene = composed.scene
    drawn = drawn_of(found.record, plan_told(composed.brief), scene)
    return _view(drawn, posture_of(scene), ON_SCREEN), _view(drawn, posture_of(scene), ON_PAPER)


def pointed_strip(record: Record, pointed: Sequence[Pointed], posture: str = "") -> StripView:
    """The strip with a page's own numbers."""
    scene = scene_in(posture)
    subject = subject_of(record, scene)
    numbered: list[Numbered] = []
    no_place: list[str] = []
    for each in pointed:
        places = [value for path in each.paths for value in subject.said(path) if isinstance(value, Place)]
        if each.wheels:
            places += places_of(Step(_CHOCK, _CHOCK, "", ""), subject)
        numbered += [
            Numbered(each.number, each.shape, place, each.label, place.at is None, each.wheels)
            for place in dict.fromkeys(places)
        ]
        if not places:
            no_place.append(f"{each.number}: {each.label}")
    drawn = replace(drawn_of(record, _NO_STEPS, scene), numbered=tuple(numbered))
    return replace(_view(drawn, posture, ON_SCREEN), no_place=tuple(no_place))


def record_strip(house: House, record: Record, posture: str, *, paper: bool) -> StripView:
    """The strip with the numbers of the steps in a posture, painted to stand alone. Raises BadInput."""
    scene = scene_in(posture)
    plan = plan_for(record, scene, table_of(house)[0])
    made = _view(drawn_of(record, plan, scene), posture, ON_PAPER if paper else ON_SCREEN)
    legend = tuple(Swatch(alone(row.svg), row.words) for row in made.legend)
    return replace(made, svg=alone(made.svg), legend=legend)


def shape_told(key: str, *, conditional: bool) -> str:
    """The shape of a step's disc by its key, for pages that keep no more of it. conditional: something is to be made
    sure of first.
    """
    return shape_of_step(_step_told(key, "", ("",) if conditional else ()))


def cut_points(record: Record, *, alone_standing: bool = False) -> tuple[CloseUpView, ...]:
    """The close-up of every way the record gives to cut high voltage off, in its order."""
    drawn = ((made, sketch_svg(made)) for made in close_ups(record))
    return tuple(CloseUpView(made.title, alone(text) if alone_standing else text, made.twin) for made, text in drawn)


def plan_told(brief: Brief) -> Plan:
    """The steps of a brief as its full text tells them: numbers, conditions and what each is about; no more."""
    steps: dict[int, Step] = {}
    last = 0
    for line in (line for section in brief.full for line in section.lines):
        if line.number and line.number not in steps:
            steps[line.number], last = _step_told(line.key, line.text, ()), line.number
        elif line.level == 0:
            last = line.number
        elif last and line.lead == _ONLY_IF:
            steps[last] = replace(steps[last], only_if=(line.text,))
    most = max(steps, default=0)
    return Plan((), tuple(steps.get(number, Step("", "", "", "")) for number in range(1, most + 1)), {})


def _step_told(key: str, do: str, only_if: tuple[str, ...]) -> Step:
    id_, _, item = key.partition(":")
    return Step(id_, key, "", do, item, only_if)


def _view(drawn: Drawn, posture: str, rows: int) -> StripView:
    # On paper a line of words takes less room than the heading in the picture.
    made = strip(drawn, posture, rows, header=rows == ON_SCREEN)
    prefix = f"strip{rows}"
    legend = tuple(Swatch(swatch(fill, f"{prefix}{fill}"), words) for fill, words in made.legend)
    return StripView(svg(made, prefix), made.twin, legend, posture, made.height // 10, STANCES[posture].words)
