"""The most dangerous truths of a scene, in the order of data/brief.json."""

from collections.abc import Sequence
from dataclasses import dataclass

from catalog.plan.brief.model import BriefInput
from catalog.plan.brief.wording import brief_words
from catalog.plan.conditions import holds
from catalog.plan.derived_items import Values
from catalog.plan.scene import Said
from catalog.plan.subject import subject_of


@dataclass(frozen=True, slots=True)
class Danger:
    """say, short: a breath. also: named beside a greater one, "" where that one says it."""

    id: str
    say: str
    short: str
    also: str


def values_of(asked: BriefInput) -> Sequence[Values]:
    """What may be tested, of each vehicle that counts; of any vehicle where none does."""
    if not asked.vehicles:
        return [Values(subject_of(None, asked.scene), asked.scene)]
    return [Values(subject_of(vehicle.record, asked.scene), asked.scene) for vehicle in asked.vehicles]


def dangers_of(asked: BriefInput) -> tuple[Danger, ...]:
    """Those that hold whichever vehicle it is, worst first. There is always one."""
    values = [each.of("") for each in values_of(asked)]
    return tuple(
        Danger(row["id"], row["say"], row["short"], row["also"])
        for row in brief_words()["dangers"]
        if all(holds(row["when"], value_of) is Said.YES for value_of in values)
    )
