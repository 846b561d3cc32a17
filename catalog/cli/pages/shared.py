"""Facts over all possible vehicles, and vehicles put together, as lines."""

from collections.abc import Iterator, Sequence

from catalog.cli.pages.asked import questions_lines
from catalog.cli.paper import Paper, joined
from catalog.domain.numbers import counted
from catalog.resolve.answering.candidates import Candidate
from catalog.resolve.answering.group_views import DifferenceView, GroupsView, GroupView, SightView
from catalog.services.fact_views import SharedFact, ValueView
from catalog.services.views import Answer

_COLUMN = 34  # of the values
_HEAVIEST = 3  # weight of what may kill
_FROM_AWAY = "from where you stand"  # what a caller may be asked; the rest is for a crew to look at
_HEADINGS = {
    "same_on_all": "Same on all",
    "possible_vehicles_agree": "The possible vehicles agree: weaker, mind what stands beside it",
    "differs": "Differs: plan for the most protective (*)",
    "not_stated": "Not stated by the possible vehicles: this is not none",
}


def explained_lines(answer: Answer, paper: Paper) -> list[str]:
    """Why in bits, groups, facts and questions of an answer that was asked for all of them."""
    return [
        *(line for candidate in answer.candidates if candidate.bars for line in _bits(candidate, paper)),
        *(group_lines(answer.groups, paper) if answer.groups else ()),
        *fact_lines(answer.facts, paper),
        *(questions_lines(answer.questions, paper) if answer.questions else ()),
    ]


def fact_lines(facts: Sequence[SharedFact], paper: Paper) -> Iterator[str]:
    """The facts by how far the possible vehicles agree, each part in order of urgency."""
    for verdict, heading in _HEADINGS.items():
        found = [fact for fact in facts if fact.verdict == verdict]
        if found:
            yield paper.heading(heading)
            for fact in found:
                yield from _fact(fact, paper)
            yield ""


def _fact(fact: SharedFact, paper: Paper) -> Iterator[str]:
    if fact.verdict in ("same_on_all", "not_stated"):
        yield from paper.entry(
            fact.label, fact.said.removeprefix(f"{fact.verdict_label.capitalize()}: "), column=_COLUMN
        )
        return
    label = fact.label
    for value in fact.values:
        yield from paper.entry(label, _value(value), column=_COLUMN)
        label = ""
    if fact.several:
        yield from paper.entry(label, "a vehicle may have several of these, and more", column=_COLUMN)
        label = ""
    yield from paper.entry(label, _against(fact), column=_COLUMN)


def _value(value: ValueView) -> str:
    mark = "* " if value.protective else ""
    return f"{mark}{value.words}: {'assumed, nobody states it' if value.assumed else value.chance.frequency}"


def _against(fact: SharedFact) -> str:
    silent = f"not stated: {fact.not_stated.frequency}" if fact.not_stated.probability > 0 else ""
    unlisted = f"not in this catalogue: {fact.unlisted.frequency}"
    return f"{joined((silent, unlisted), '; ')}. Then: {fact.reading.removeprefix('not stated: ')}"


def _bits(candidate: Candidate, paper: Paper) -> Iterator[str]:
    yield paper.heading(f"Why {candidate.title} [{candidate.code}], in bits against the average vehicle")
    for bar in candidate.bars:
        yield from paper.entry(bar.label, f"{bar.bits:+.2f}", column=paper.width - 8)
    yield ""


def group_lines(groups: GroupsView, paper: Paper) -> Iterator[str]:
    """Vehicles that look alike, where there are several, with what they differ in and what tells them apart."""
    merged = [group for group in groups.groups if sum(len(action.members) for action in group.actions) > 1]
    for group in merged:
        yield paper.across("These look alike, together", f"{group.chance.word}, {group.chance.frequency}", bold=True)
        for number, action in enumerate(group.actions, 1):
            names = joined((f"{member.title} [{member.code}]" for member in action.members), "; ")
            lead = f"{number}. " if len(group.actions) > 1 else ""
            yield from paper.entry(f"{lead}{action.chance.frequency}", names, column=_COLUMN)
        yield from _apart(group, paper)
        yield ""


def _apart(group: GroupView, paper: Paper) -> Iterator[str]:
    if len(group.actions) == 1:
        yield from paper.wrap("Every fact of a brief is the same in their records, what is not stated included.", 2)
        return
    yield from paper.wrap(f"{group.headline}.", 2)
    yield from difference_lines(group.differs[1:], paper)
    if more := group.differ_in - len(group.differs):
        yield from paper.wrap(f"And in {counted(more, 'further fact')}: see chockbook lookalikes.", 2)
    yield from sight_lines(group.sights, group.advice, paper)


def difference_lines(differs: Sequence[DifferenceView], paper: Paper) -> Iterator[str]:
    """What a crew must do differently, one value per vehicle; what weighs less is only named."""
    for each in differs:
        if each.weight == _HEAVIEST:
            values = [f"{number}. {value}" for number, value in enumerate(each.values, 1)]
            yield from paper.entry(each.label, values[0], column=_COLUMN)
            for value in values[1:]:
                yield from paper.entry("", value, column=_COLUMN)
    lighter = [each.label for each in differs if each.weight < _HEAVIEST]
    if lighter:
        yield from paper.entry("they also differ in", joined(lighter, "; "), column=_COLUMN)


def sight_lines(sights: Sequence[SightView], advice: str, paper: Paper) -> Iterator[str]:
    """What to ask or look for, where from, and what each one shows."""
    for sight in sights:
        verb = "Ask" if sight.where == _FROM_AWAY else "Look"
        yield from paper.entry(f"{verb} ({sight.where})", sight.ask, column=_COLUMN)
        yield from paper.entry("", f"1. {sight.values[0]}; 2. {sight.values[1]}", column=_COLUMN)
    if advice:
        yield from paper.wrap(advice, 2)
