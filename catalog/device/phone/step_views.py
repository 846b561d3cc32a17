"""All steps of the plan by phase, with what was ticked; and the waits that run since a tick."""

from collections.abc import Iterator, Mapping

from catalog.device.phone.model import Clock, Part, PhaseView, Said, StepView, Ticked
from catalog.device.phone.shapes import shape_of_step
from catalog.domain.wording import sentence
from catalog.plan.brief.full import joined
from catalog.plan.brief.vehicles import Each
from catalog.plan.brief.wording import brief_words
from catalog.plan.steps import Step
from catalog.plan.table import PARTS

Ticks = Mapping[str, Ticked]

RESTRAINTS = "restraints"
_OVER = "Wait over. Treat as live until checked."
_OVER_RESTRAINTS = "Wait over. An airbag may still fire: keep out of its path."
_SILENT = "Wait not stated: treat as live."
_SILENT_RESTRAINTS = "Wait not stated: treat airbags as armed."
_MEANWHILE = "Casualty care, holding the vehicle, glass. Removal never waits."


def phase_views(each: Each, ticks: Ticks) -> tuple[PhaseView, ...]:
    """Every phase that has a step."""
    made = [
        PhaseView(
            key,
            sentence(label),
            tuple(
                _step(number, step, each, ticks) for number, step in enumerate(each.plan.steps, 1) if step.phase == key
            ),
        )
        for key, label in each.plan.phases
    ]
    return tuple(phase for phase in made if phase.steps)


def clocks(each: Each, ticks: Ticks) -> tuple[Clock, ...]:
    """One for each way that was ticked done, and the restraints' from the last source on."""
    made = [_clock(step, each, ticks[step.key]) for step in each.plan.steps if _runs(step, ticks)]
    return (*made, *_restraints(each, ticks))


def _step(number: int, step: Step, each: Each, ticks: Ticks) -> StepView:
    leads = brief_words()["parts"]
    parts = [
        Part(key, leads[key], tuple(Said(line.text, line.state.value) for line in step.parts[key]))
        for key in PARTS
        if key in step.parts
    ]
    return StepView(
        key=step.key,
        id=step.id,
        number=number,
        phase=step.phase,
        do=step.do,
        shape=shape_of_step(step),
        only_if=joined(step.only_if) if step.only_if else "",
        first=step.holds,
        parts=tuple(parts),
        sources=step.sources,
        ticked=ticks.get(step.key),
        waits="wait" in step.parts,
        seconds=_seconds(each, f"{step.item}.wait") if step.item.startswith("cutoff.") else 0,
    )


def _runs(step: Step, ticks: Ticks) -> bool:
    """A way of cutting off that was done and has a wait."""
    if step.key not in ticks or "wait" not in step.parts or not step.id.startswith("cut_"):
        return False
    return ticks[step.key].state == "done" and step.id != "cut_sources"


def _clock(step: Step, each: Each, ticked: Ticked) -> Clock:
    seconds = _seconds(each, f"{step.item}.wait") if step.item else 0
    check = " ".join(step.part("confirms"))
    over = f"{_OVER} {check}".strip() if seconds else _SILENT
    return Clock(step.key, _title(step), ticked.at, seconds, " ".join(step.part("meanwhile")) or _MEANWHILE, over)


def _title(step: Step) -> str:
    where = " ".join(step.part("where")[:1])
    return f"{step.do.removesuffix('.')}: {where}" if where else step.do.removesuffix(".")


def _restraints(each: Each, ticks: Ticks) -> Iterator[Clock]:
    """Starts when the last 12 or 48 V source is off: every step that takes one off was done."""
    off = [step for step in each.plan.steps if step.id in ("cut_low_voltage", "cut_sources")]
    done = [ticks[step.key].at for step in off if step.key in ticks and ticks[step.key].state == "done"]
    if not off or len(done) < len(off):
        return
    seconds = _seconds(each, "restraints.wait")
    over = _OVER_RESTRAINTS if seconds else _SILENT_RESTRAINTS
    yield Clock(RESTRAINTS, "Airbags, after the last source", max(done), seconds, _MEANWHILE, over)


def _seconds(each: Each, path: str) -> int:
    """The longest any guide states; 0 where none does."""
    return max([value for value in each.subject.said(path) if isinstance(value, int)], default=0)
