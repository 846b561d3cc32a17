"""What one printed sheet holds: the scene in six cells, the danger, how to be sure, and the steps in short.

The numbers are those of the full text. Where a list is cut short the sheet says so.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from catalog.domain.wording import sentence
from catalog.plan.brief.dangers import also_words, dangers_of
from catalog.plan.brief.full import joined
from catalog.plan.brief.hand_over import typed_fields
from catalog.plan.brief.model import BriefInput, Line, Section
from catalog.plan.brief.vehicles import Each
from catalog.plan.brief.wording import brief_words
from catalog.plan.scene import DONE, Said, Scene, field_words
from catalog.plan.steps import Step


def sheet_of(asked: BriefInput, each: Sequence[Each]) -> tuple[Section, ...]:
    """In the order they stand on the sheet; a section without anything to say is left out."""
    words = brief_words()["sheet"]
    dangers = dangers_of(each)
    said = filter(None, (dangers[0]["forms"][-1], also_words(dangers)))
    made = (
        Section("danger", words["danger"], tuple(Line(text) for text in said)),
        Section("scene", words["scene"], tuple(_cells(asked.scene))),
        Section("confirm", words["confirm"], tuple(_confirm(asked))),
        *(Section(row["key"], row["title"], tuple(_steps(row, asked))) for row in words["parts"]),
        Section("hand_over", words["hand_over"], tuple(_blanks())),
    )
    return tuple(section for section in made if section.lines)


def _cells(scene: Scene) -> Iterator[Line]:
    """One line a cell. lead: its name. What nobody said reads so, whatever else is known."""
    for cell in brief_words()["sheet"]["cells"]:
        yes = [key for key in cell["fields"] if scene.said(key) is Said.YES]
        open_ = [key for key in cell["fields"] if key not in DONE and scene.said(key) is Said.UNKNOWN]
        if yes:
            yield Line(f"YES: {joined([field_words(key, Said.YES) for key in yes])}", lead=cell["label"])
        elif open_:
            yield Line(brief_words()["sheet"]["not_said"], lead=cell["label"], state="not_stated")
        else:
            words = dict.fromkeys(field_words(key, Said.NO) for key in cell["fields"] if key not in DONE)
            yield Line(sentence(joined([*words])), lead=cell["label"])


def _confirm(asked: BriefInput) -> Iterator[Line]:
    """Badges and where they are, then what tells two apart."""
    for id_ in ("identify", "identify_any", "tell_apart"):
        for step in asked.plan.plan.steps:
            if step.id == id_:
                yield Line(step.do, key=step.key)
                told = step.part("how" if id_ == "tell_apart" else "where")
                yield from (Line(text, level=1) for text in told)


def _steps(row: Mapping[str, Any], asked: BriefInput) -> Iterator[Line]:
    shortened = False
    for number, step in enumerate(asked.plan.plan.steps, 1):
        if step.phase in row["phases"] or step.id in row["steps"]:
            made = list(_step(number, step, row["most"]))
            told = sum(line.level == 1 and line.lead in _leads(row["most"]) for line in made)
            shortened = shortened or told < sum(len(step.parts.get(part, ())) for part in row["most"])
            yield from made
    if shortened:
        yield Line(brief_words()["sheet"]["more"])


def _leads(most: Mapping[str, int]) -> Sequence[str]:
    return [brief_words()["parts"][part] for part in most]


def _step(number: int, step: Step, most: Mapping[str, int]) -> Iterator[Line]:
    yield Line(step.do, number=number, key=step.key)
    if step.only_if:
        yield Line(f"{joined(step.only_if)}.", lead="ONLY IF", level=1)
    yield from (Line(text, level=1) for text in step.holds)
    for part, lead in zip(most, _leads(most), strict=True):
        # Of what is not plainly stated nothing is left out.
        kept = [line for at, line in enumerate(step.parts.get(part, ())) if at < most[part] or line.state != "stated"]
        yield from (Line(line.text, lead, 1, state=line.state.value, src=line.src) for line in kept)


def _blanks() -> Iterator[Line]:
    """What is written by hand: the label, and nothing after it."""
    words, labels = brief_words()["sheet"], typed_fields()
    yield from (Line("", lead=labels[key], key=key) for key in words["hand_over_fields"])
    yield Line("", lead=words["temperature"], key="temperature")
