"""Steps as a page shows them: by phase, each with what comes at once and what is one key away."""

from dataclasses import dataclass

from catalog.domain.wording import sentence
from catalog.services.desk import GeneralSteps
from catalog.services.step_views import BranchView, LineView, StepsView, StepView
from catalog.web import wording

# Where to reach and how long to wait come at once where it decides what a hand does next.
_AT_ONCE = ("where", "wait")
_AT_ONCE_IN = ("motion", "cutoff")


@dataclass(frozen=True, slots=True)
class StepLine:
    """lead: "Where", or "" where the sentence needs none. state: of the fact behind it. src: its sources."""

    part: str
    lead: str
    text: str
    state: str
    src: str


@dataclass(frozen=True, slots=True)
class StepShown:
    """shape: of its disc; a ring's condition stands in only_if. at_once, more: its lines. sources: of the step."""

    number: int
    key: str
    do: str
    shape: str
    only_if: str
    holds: tuple[str, ...]
    at_once: tuple[StepLine, ...]
    more: tuple[StepLine, ...]
    sources: str
    differs: bool
    site: bool


@dataclass(frozen=True, slots=True)
class PhaseShown:
    """A heading with its steps."""

    key: str
    label: str
    steps: tuple[StepShown, ...]


@dataclass(frozen=True, slots=True)
class StepsShown:
    """title: whom they are for. branches: how to tell one branch from the other, a line each; often none."""

    title: str
    note: str
    phases: tuple[PhaseShown, ...]
    branches: tuple[str, ...] = ()
    scene: tuple[str, ...] = ()
    notice: str = ""


def steps_shown(view: StepsView) -> StepsShown:
    """The steps of an answer."""
    title, note = wording.STEPS_KINDS[view.kind]
    names = _names(view)
    return StepsShown(
        title=title.format(vehicle=view.vehicles[0].title if view.vehicles else ""),
        note=note,
        phases=_phases(view),
        branches=tuple(_branch(branch, names) for branch in view.branches),
        scene=tuple(field.words for field in view.scene),
        notice=view.notice,
    )


def general_shown(view: GeneralSteps) -> StepsShown:
    """The steps for any vehicle."""
    title, note = wording.STEPS_KINDS["any_vehicle"]
    return StepsShown(title, note, _phases(view), notice=view.notice)


def _names(view: StepsView) -> dict[str, str]:
    """What a branch is called on a page, where a letter alone names a vehicle of the call."""
    vehicles = {vehicle.code: vehicle for vehicle in view.vehicles}
    firsts = [(branch, next(v for v in view.vehicles if v.code in branch.codes)) for branch in view.branches]
    same = len({vehicle.title for _, vehicle in firsts}) < len(firsts)
    return {
        branch.letter: f"{vehicle.title}, {vehicle.subtitle}" if same else vehicle.title
        for branch, vehicle in firsts
        if vehicle.code in vehicles
    }


def _branch(branch: BranchView, names: dict[str, str]) -> str:
    return f"{names[branch.letter]}: {branch.sight}" if branch.sight else f"{names[branch.letter]}: badge, then VIN"


def _phases(view: StepsView | GeneralSteps) -> tuple[PhaseShown, ...]:
    made = (
        PhaseShown(
            phase.key,
            sentence(phase.label),
            tuple(_step(step) for step in view.steps if step.phase == phase.key),
        )
        for phase in view.phases
    )
    return tuple(phase for phase in made if phase.steps)


def _step(step: StepView) -> StepShown:
    lines = [_line(line) for line in step.lines]
    first = _AT_ONCE if step.phase in _AT_ONCE_IN else ("wait",)
    return StepShown(
        number=step.number,
        key=step.key,
        do=step.do,
        shape="ring" if step.only_if or step.holds else "solid",
        only_if=", ".join(step.only_if),
        holds=step.holds,
        at_once=tuple(line for line in lines if line.part in first),
        more=tuple(line for line in lines if line.part not in first),
        sources="; ".join(step.sources),
        differs=step.differs,
        site=step.site,
    )


def _line(line: LineView) -> StepLine:
    return StepLine(line.part, wording.STEP_PARTS[line.part], line.text, line.state, ", ".join(line.src))
