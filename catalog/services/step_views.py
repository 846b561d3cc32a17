"""What `steps_of` returns: the steps as plain views, without HTTP or terminal words."""

from dataclasses import dataclass

from catalog.plan.steps import Plan, Step
from catalog.plan.table import PARTS
from catalog.resolve.answering.chances import Chance, chance_of
from catalog.services.doubts import DoubtView
from catalog.services.views import EditionView


@dataclass(frozen=True, slots=True)
class VehicleView:
    """A vehicle the steps are for."""

    code: str
    title: str
    subtitle: str
    chance: Chance


@dataclass(frozen=True, slots=True)
class FieldView:
    """A field of the scene that is known. said: yes or no. words: "no fire or smoke"."""

    key: str
    said: str
    words: str


@dataclass(frozen=True, slots=True)
class LineView:
    """A sentence of a step. part: why, where, how, tool, confirms, fails, wait, meanwhile or not (what it does not do).

    state: of the fact behind it. src: the guide's pages it is from.
    """

    part: str
    text: str
    state: str
    src: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StepView:
    """A numbered step. only_if: what must be made sure of first.

    chance: least share of vehicles that have it just so, None for one vehicle or any. differs: it reads
    differently on some of the possible vehicles.
    """

    number: int
    key: str
    phase: str
    do: str
    only_if: tuple[str, ...]
    holds: tuple[str, ...]
    lines: tuple[LineView, ...]
    chance: Chance | None
    differs: bool
    cautions: tuple[str, ...]
    sources: tuple[str, ...]
    site: bool


@dataclass(frozen=True, slots=True)
class WarningView:
    """A caution of the steps: it is said by a step, or among what to look for first."""

    key: str
    text: str


@dataclass(frozen=True, slots=True)
class PhaseView:
    """A heading; the steps of a phase stand together."""

    key: str
    label: str


@dataclass(frozen=True, slots=True)
class BranchView:
    """One of two branches. sight: what shows it, "" where none decides."""

    letter: str
    sight: str
    codes: tuple[str, ...]
    chance: Chance


@dataclass(frozen=True, slots=True)
class StepsView:
    """What `steps_of` returns. scene: what is known of it. unlisted: that it is in no record of the catalogue.

    notice: why this site's own steps are left out, "" where they are not. doubts: that stand of its vehicles.
    """

    edition: EditionView
    kind: str
    phases: tuple[PhaseView, ...]
    steps: tuple[StepView, ...]
    warnings: tuple[WarningView, ...]
    vehicles: tuple[VehicleView, ...]
    branches: tuple[BranchView, ...]
    unlisted: Chance
    scene: tuple[FieldView, ...]
    caller: str
    notice: str = ""
    doubts: tuple[DoubtView, ...] = ()


def step_views(plan: Plan) -> tuple[StepView, ...]:
    """The steps, numbered from 1."""
    return tuple(_step(number, step) for number, step in enumerate(plan.steps, 1))


def phase_views(plan: Plan) -> tuple[PhaseView, ...]:
    """The phases as they follow here."""
    return tuple(PhaseView(key, label) for key, label in plan.phases)


def _step(number: int, step: Step) -> StepView:
    lines = tuple(
        LineView(part, line.text, line.state.value, line.src) for part in PARTS for line in step.parts.get(part, ())
    )
    return StepView(
        number=number,
        key=step.key,
        phase=step.phase,
        do=step.do,
        only_if=step.only_if,
        holds=step.holds,
        lines=lines,
        chance=None if step.share is None else chance_of(step.share),
        differs=step.differs,
        cautions=step.cautions,
        sources=step.sources,
        site=step.site,
    )
