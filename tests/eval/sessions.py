"""Simulated calls: a vehicle, what is said of it at first, and its caller's answers to questions.

Answers follow their own error law, not the engine's: a caller cannot tell a share of all questions
whichever they are, names the wrong thing evenly among all others, and some take left for right
throughout. Where a record does not state a thing its vehicle looks like any other's.
"""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from random import Random
from typing import Any

from catalog.domain.folding import fold_name
from catalog.resolve.cue import Cue
from catalog.resolve.questions.safety import Caller as Place
from catalog.resolve.questions.table import Question, QuestionSet
from catalog.resolve.rows import Row
from catalog.resolve.truth import NO_PORT, TRUTHS

_PLACE = {name: place for place, name in enumerate(TRUTHS)}
_OTHER = {"left": "right", "right": "left"}
_FACES = ("front_face", "rear_face")
# Share of callers who say a thing unasked.
SAID_AT_FIRST = {"body": 0.9, "port_place": 0.35, "propulsion": 0.3, "name": 0.3, "doors": 0.3, "front_lamps": 0.15,
                 "tailpipe": 0.1, "roof": 0.1, "size": 0.1}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Caller:
    """Shares. cannot: of questions they cannot answer; None: what the questions' table says of `place`. wrong: of
    answers that are another one. mirrored: of callers who take left for right. misheard: of names that lose or
    change a letter."""

    place: Place
    cannot: float | None = 0.15
    wrong: float = 0.15
    mirrored: float = 0.12
    misheard: float = 0.25

    def cannot_tell(self, question: Question) -> float:
        return question.cannot_tell[self.place] if self.cannot is None else self.cannot


class Session:
    """One call. Answers to a question are the same whenever it is put. rows: records to borrow looks from."""

    def __init__(self, vehicle: Row, rows: Sequence[Row], seed: str, caller: Caller) -> None:
        self.vehicle, self._rows, self._seed, self._caller = vehicle, rows, seed, caller
        self._mirrored = Random(f"{seed}/mirrored").random() < caller.mirrored

    def at_first(self, known: QuestionSet) -> tuple[Cue, ...]:
        """What is said unasked; at least the shape."""
        draw = Random(f"{self._seed}/first")
        made = []
        for attribute, share in SAID_AT_FIRST.items():
            question = next(each for each in known.questions if each.attribute == attribute)
            said = draw.random() < share
            cue = self.answer(question, asked=False) if said else None
            made += [cue] if cue is not None else []
        return tuple(made)

    def answer(self, question: Question, *, asked: bool = True) -> Cue | None:
        """The cue of what is answered; None where the caller cannot tell."""
        draw = Random(f"{self._seed}/{question.attribute}")
        cannot, wrong = draw.random() < self._caller.cannot_tell(question), draw.random() < self._caller.wrong
        if asked and cannot:
            return None
        if not question.options:
            return self._name(draw, wrong)
        right = self._right(question, draw)
        if right is None:
            return None
        if wrong:
            right = draw.choice([place for place in range(len(question.options)) if place != right])
        return question.cues[right]

    def _name(self, draw: Random, wrong: bool) -> Cue:
        make = draw.choice(self._rows).make if wrong else self.vehicle.make
        if draw.random() < self._caller.misheard and len(make) > 3:
            at = draw.randrange(1, len(make))
            make = make[:at] + draw.choice(["", draw.choice("aeiourstln")]) + make[at + 1 :]
        return Cue("name", (fold_name(make),), (), make)

    def _right(self, question: Question, draw: Random) -> int | None:
        """The option that is true; None where none of them is."""
        truth = self._truth(question.attribute, draw)
        if truth is None or truth == NO_PORT:
            return None
        true = self._place(truth, draw) if question.attribute == "port_place" else str(draw.choice(truth))
        options = [option.values for option in question.options]
        return next((place for place, values in enumerate(options) if true in values), None)

    def _truth(self, attribute: str, draw: Random) -> Any:
        rows = (self.vehicle, *(draw.choice(self._rows) for _ in range(20)))
        found = (json.loads(row.truths[_PLACE[attribute]]) for row in rows)
        return next((truth for truth in found if truth is not None), None)

    def _place(self, truth: Mapping[str, Any], draw: Random) -> str:
        side, end, _ = draw.choice(truth["places"])
        side = _OTHER.get(side, side) if self._mirrored else side
        return f"|{end}|" if end in _FACES else f"{side}|{end}|"
