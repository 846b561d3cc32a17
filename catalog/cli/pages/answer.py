"""The answer to a description, as a page of lines."""

from collections.abc import Iterator
from dataclasses import replace

from catalog.cli.pages import boxes
from catalog.cli.pages.asked import excluded_lines
from catalog.cli.pages.understood import understood_lines
from catalog.cli.paper import Paper
from catalog.domain.cautions import FULL_POSSIBLE
from catalog.domain.numbers import counted
from catalog.domain.wording import sentence
from catalog.resolve import chance
from catalog.resolve.answering.candidates import Candidate
from catalog.resolve.answering.chances import Chance
from catalog.services.views import Answer

_ALWAYS = 3
_WORTH_A_ROW = 0.025  # what `chance.frequency` still calls "about 1 in 20"


def answer_lines(answer: Answer, paper: Paper) -> list[str]:
    """What was understood, the possible vehicles, the share not in this catalogue, the cautions."""
    return [
        *understood_lines(answer, paper),
        *excluded_lines(answer.excluded, paper),
        *_possible(answer, paper),
        *_closing(answer, paper),
    ]


def folded(answer: Answer) -> Answer:
    """The answer with vehicles that are fewer than 1 in 20 counted together, after the first three."""
    kept = tuple(
        candidate
        for place, candidate in enumerate(answer.candidates)
        if place < _ALWAYS or candidate.chance.probability >= _WORTH_A_ROW
    )
    rest = answer.candidates[len(kept) :]
    return replace(
        answer,
        candidates=kept,
        others=answer.others + sum(candidate.chance.probability for candidate in rest),
        others_count=answer.others_count + len(rest),
    )


def _possible(answer: Answer, paper: Paper) -> Iterator[str]:
    if answer.message:
        yield from paper.wrap(answer.message)
        yield ""
    shares = [candidate.chance.probability for candidate in answer.candidates]
    rows = chance.boxes([*shares, answer.unlisted.probability])
    if answer.candidates:
        yield paper.across("Possible vehicles", "of 10 calls like this one", bold=True)
        for number, (candidate, row) in enumerate(zip(answer.candidates, rows, strict=False), 1):
            yield from _row(paper, str(number), candidate.title, candidate.chance)
            yield from _beside(paper, _subtitle(candidate), boxes.draw(row, paper))
            yield from paper.wrap(candidate.why, 4)
            for doubt in candidate.doubts:
                yield from paper.wrap(f"{sentence(doubt.label)}: {doubt.mark}.", 4)
            yield ""
    if answer.candidates or not answer.message:
        yield from _row(paper, "0", "Not in this catalogue", answer.unlisted)
        yield from _beside(paper, "go by the steps for any vehicle", boxes.draw(rows[-1], paper, dotted=True))
        yield ""
    if answer.candidates and answer.others_count:
        others = counted(answer.others_count, "other vehicle", "other vehicles together")
        yield paper.across(f"    {others}", chance.frequency(answer.others))
        yield ""


def _subtitle(candidate: Candidate) -> str:
    return f"{candidate.subtitle} [{candidate.code}]"


def _row(paper: Paper, number: str, title: str, sure: Chance) -> Iterator[str]:
    right = f"{sure.word}{sure.frequency.rjust(boxes.WIDTH - len(sure.word))}"
    yield from _beside(paper, title, right, lead=number.rjust(2).ljust(4))


def _beside(paper: Paper, left: str, right: str, *, lead: str = "    ") -> Iterator[str]:
    """Text on the left, wrapped, and the right-hand block beside its first line."""
    column = paper.width - boxes.WIDTH
    narrow = Paper(column - 2, paper.encoding, paper.styled)
    first, *rest = narrow.wrap(left, len(lead))
    first = f"{lead}{first.strip()}"
    if column < boxes.WIDTH:
        yield from (first, *rest, f"    {right}")
    else:
        yield from (f"{first.ljust(column)}{right}", *rest)


def _closing(answer: Answer, paper: Paper) -> Iterator[str]:
    for warning in answer.warnings:
        yield from paper.wrap(warning)
    if answer.candidates:
        yield from paper.wrap(f"How sure: {answer.calibration}.")
        yield ""
    for caution in FULL_POSSIBLE:
        yield from paper.wrap(caution)
