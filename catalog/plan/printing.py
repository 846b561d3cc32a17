"""Steps as plain text, as they are read out: a heading per phase, a number per step."""

from collections.abc import Iterator, Sequence

from catalog.plan.steps import Plan, Step

_LEADS = {"why": "Why", "where": "Where", "how": "How", "tool": "With", "confirms": "Check",
          "fails": "If not", "wait": "Wait", "meanwhile": "Meanwhile", "not": "But"}  # fmt: skip

_LISTED = 6  # more sentences than this stand one under the other


def plan_lines(plan: Plan) -> Iterator[str]:
    """Every step with its parts, numbered through."""
    number = 0
    for key, label in plan.phases:
        steps = [step for step in plan.steps if step.phase == key]
        if steps:
            yield ""
            yield label.upper()
        for step in steps:
            number += 1
            yield from step_lines(step, number)


def step_lines(step: Step, number: int) -> Iterator[str]:
    """One step. What must be made sure of first stands before everything else."""
    yield f"{number:2}. {step.do}{' (differs)' if step.differs else ''}"
    if step.only_if:
        yield f"    Only if: {joined(step.only_if)}."
    for text in step.holds:
        yield f"    {text}"
    for part, lead in _LEADS.items():
        texts = step.part(part)
        if len(texts) > _LISTED:
            yield f"    {lead}:"
            yield from (f"    - {sentences((text,))}" for text in texts)
        elif texts:
            yield f"    {lead}: {sentences(texts)}"


def joined(texts: Sequence[str]) -> str:
    """ "a, b and c"."""
    return texts[0] if len(texts) == 1 else f"{', '.join(texts[:-1])} and {texts[-1]}"


def sentences(texts: Sequence[str]) -> str:
    """Sentences one after the other, each with its full stop."""
    return " ".join(text if text.endswith((".", "!", "?")) else f"{text}." for text in texts)
