"""The steps as a page of lines: what must be made sure of stands before what is done."""

from collections.abc import Iterator, Sequence

from catalog.cli.paper import Paper, joined
from catalog.domain.cautions import FULL, FULL_POSSIBLE
from catalog.services.step_views import PhaseView, StepsView, StepView

_LEADS = {"why": "Why", "where": "Where", "how": "How", "tool": "With", "confirms": "Check",
          "fails": "If not", "wait": "Wait", "meanwhile": "Meanwhile", "not": "But"}  # fmt: skip
_SHORT = ("where", "wait")
_LOOK = "look_first"  # holds the cautions that cannot be told yet: never cut short
_LISTED = 6  # more sentences than this stand one under the other
_HEADINGS = {
    "any_vehicle": "Steps for any vehicle",
    "one_vehicle": "Steps for",
    "same_on_all": "Steps, the same on all that it may be",
    "two_branches": "Steps for two that it may be, what differs said as A and B",
    "any_vehicle_and_what_agrees": "Steps for any vehicle, and what the possible ones agree on",
}


def steps_lines(found: StepsView, paper: Paper, *, short: bool = False) -> list[str]:
    """The vehicles, the scene, then the steps by phase. short: what to do, where and the waits only."""
    return [
        *(paper.wrap(found.notice) if found.notice else ()),
        *(line for doubt in found.doubts for line in paper.wrap(doubt.words)),
        paper.heading(_HEADINGS[found.kind]),
        *(line for line in _vehicles(found, paper)),
        *paper.wrap(f"Scene: {joined(_scene(found)) or 'nothing known'}. What is not said is unknown.", 0, hang=2),
        *numbered_lines(found.phases, found.steps, paper, short=short),
        "",
        *(line for caution in (FULL_POSSIBLE if found.vehicles else FULL) for line in paper.wrap(caution)),
    ]


def _vehicles(found: StepsView, paper: Paper) -> Iterator[str]:
    letters = {code: branch.letter for branch in found.branches for code in branch.codes}
    for vehicle in found.vehicles:
        letter = f"{letters[vehicle.code]}: " if vehicle.code in letters else ""
        name = f"{letter}{vehicle.title} [{vehicle.code}]"
        if len(found.vehicles) == 1 and found.kind == "one_vehicle":
            yield from paper.wrap(f"{name}, {vehicle.subtitle}", 2, hang=2)
        else:
            yield paper.across(f"  {name}", vehicle.chance.frequency)
    if found.vehicles and found.kind != "one_vehicle":
        yield paper.across("  Not in this catalogue", found.unlisted.frequency)


def _scene(found: StepsView) -> Iterator[str]:
    """What is so first: it weighs more than what is not."""
    for said in ("yes", "no"):
        yield from dict.fromkeys(entry.words for entry in found.scene if entry.said == said)


def numbered_lines(
    phases: Sequence[PhaseView], steps: Sequence[StepView], paper: Paper, *, short: bool = False
) -> Iterator[str]:
    """A heading per phase that has steps, and its steps."""
    for phase in phases:
        inside = [step for step in steps if step.phase == phase.key]
        if inside:
            yield ""
            yield paper.heading(phase.label.upper())
        for step in inside:
            yield from _step(step, paper, short)


def _step(step: StepView, paper: Paper, short: bool) -> Iterator[str]:
    yield from paper.wrap(f"{step.number:2}. {step.do}{' (differs)' if step.differs else ''}", 0, hang=4)
    if step.only_if:
        yield from paper.wrap(f"ONLY IF {_and(step.only_if)}.", 4, hang=2)
    for text in step.holds:
        yield from paper.wrap(text, 4, hang=2)
    for part, lead in _LEADS.items():
        texts = [line.text for line in step.lines if line.part == part]
        if not texts or (short and part not in _SHORT and step.key != _LOOK):
            continue
        if len(texts) > _LISTED:
            yield from paper.wrap(f"{lead}:", 4)
            for text in texts:
                yield from paper.wrap(f"- {_sentence(text)}", 4, hang=2)
        else:
            yield from paper.wrap(f"{lead}: {' '.join(map(_sentence, texts))}", 4, hang=2)


def _and(texts: Sequence[str]) -> str:
    return texts[0] if len(texts) == 1 else f"{', '.join(texts[:-1])} and {texts[-1]}"


def _sentence(text: str) -> str:
    return text if text.endswith((".", "!", "?")) else f"{text}."
