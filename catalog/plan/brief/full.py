"""The full text: who it is about, the scene as said, the steps in the order of the phases, and what it rests on."""

from collections.abc import Iterator, Sequence

from catalog.domain.wording import sentence
from catalog.plan.brief.model import BriefInput, Line, Section
from catalog.plan.brief.wording import brief_words
from catalog.plan.scene import DONE, FIELDS, Said, field_words
from catalog.plan.steps import Step
from catalog.plan.table import PARTS


def full_text(asked: BriefInput) -> tuple[Section, ...]:
    """Every section that has something to say, in reading order."""
    made = (
        Section("vehicle", f"Vehicle {asked.letter}", tuple(vehicle_lines(asked))),
        Section("scene", "The scene as said", tuple(scene_lines(asked))),
        *phases(asked),
        Section("agreed", "Over all possible vehicles", tuple(_agreed(asked))),
    )
    return tuple(section for section in made if section.lines)


def vehicle_lines(asked: BriefInput) -> Iterator[Line]:
    """Each vehicle it may be with how sure, what tells two apart, and that it may be none of them."""
    if not asked.vehicles:
        yield Line("Vehicle not known: the steps hold for any vehicle.")
    for vehicle in asked.vehicles:
        sure = ", ".join(part for part in (vehicle.sure.word, vehicle.sure.said) if part) or "named, not confirmed"
        yield Line(f"{vehicle.title}, {vehicle.subtitle}: {sure}", key=vehicle.code)
    for branch in asked.plan.branches:
        if branch.sight:
            yield Line(f"{branch.name}: {branch.sight}", lead="Told apart by", level=1)
    if asked.unlisted.word:
        yield Line(f"Not in this catalogue: {asked.unlisted.word}, {asked.unlisted.said}")


def scene_lines(asked: BriefInput) -> Iterator[Line]:
    """What is known of the scene; of what decides most, that it was not said."""
    scene = asked.scene
    always = brief_words()["scene_always"]
    for key in (*FIELDS, *DONE):
        said = scene.said(key)
        if said is not Said.UNKNOWN and not (key in DONE and said is Said.NO):
            yield Line(sentence(field_words(key, said)), key=key)
        elif key in always:
            yield Line(f"{sentence(field_words(key, Said.YES))}: not said", key=key, state="not_stated")


def phases(asked: BriefInput) -> Iterator[Section]:
    """The steps, numbered through."""
    numbered = list(enumerate(asked.plan.plan.steps, 1))
    for key, label in asked.plan.plan.phases:
        inside = [line for number, step in numbered if step.phase == key for line in step_lines(number, step)]
        yield Section(key, sentence(label), tuple(inside))


def step_lines(number: int, step: Step) -> Iterator[Line]:
    """A step and what belongs to it, its sources last."""
    yield Line(step.do + (" (differs)" if step.differs else ""), number=number, key=step.key)
    leads = brief_words()["parts"]
    if step.only_if:
        yield Line(f"{joined(step.only_if)}.", lead="ONLY IF", level=1)
    yield from (Line(text, lead="First", level=1) for text in step.holds)
    for part in PARTS:
        for line in step.parts.get(part, ()):
            yield Line(line.text, leads[part], 1, state=line.state.value, src=line.src)
    if step.sources:
        yield Line(f"{'; '.join(step.sources)}.", lead="Source", level=1)


def joined(words: Sequence[str], last: str = "and") -> str:
    """ "a, b and c"."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} {last} {words[-1]}"


def _agreed(asked: BriefInput) -> Iterator[Line]:
    yield from (Line(each.said, lead=sentence(each.label), key=each.verdict) for each in asked.agreed)
