"""The vehicles of a brief, each with its own steps, as the rules may rely on it in the scene."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from catalog.plan.brief.model import BriefInput
from catalog.plan.derived_items import Values
from catalog.plan.several import Kind
from catalog.plan.steps import Plan, Step
from catalog.plan.subject import Subject, subject_of


@dataclass(frozen=True, slots=True)
class Each:
    """A vehicle that counts; or any vehicle, with a subject that knows nothing."""

    subject: Subject
    plan: Plan
    values: Values

    def steps(self, *starts: str) -> Iterator[Step]:
        """Its steps whose id begins so, in order."""
        return (step for step in self.plan.steps if step.id.startswith(starts))


def each_of(asked: BriefInput) -> Sequence[Each]:
    """Every vehicle that counts, likeliest group first; one for any vehicle where none does."""
    if asked.plan.kind is Kind.ANY:
        return [_each(subject_of(None, asked.scene), asked.plan.plan, asked)]
    return [
        _each(subject_of(member.record, asked.scene), group.plan, asked)
        for group in asked.plan.groups
        for member in group.members
    ]


def _each(subject: Subject, plan: Plan, asked: BriefInput) -> Each:
    return Each(subject, plan, Values(subject, asked.scene))
