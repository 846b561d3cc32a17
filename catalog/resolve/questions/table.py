"""The questions as data: wording, answers, who can seldom tell, what they cost."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path
from typing import Any

from catalog.resolve.cue import Cue
from catalog.resolve.questions.safety import Caller, Need

_SHIPPED = Path(__file__).parent / "data" / "questions.json"


@dataclass(frozen=True, slots=True)
class Option:
    """An answer in plain words, and the values its cue has."""

    id: str
    words: str
    values: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Question:
    """ask: as put to the caller. frame: how sides are meant, "" where none are asked for. options: none where
    the answer is a name in the caller's own words. needs: each way it can be answered. cost: 1 is a glance.
    cannot_tell: share of those who cannot say. sees: the end of the vehicle one must see, "" where it does not
    matter. Compared by identity.
    """

    id: str
    attribute: str
    ask: str
    frame: str
    options: tuple[Option, ...]
    needs: frozenset[Need]
    cannot_tell: Mapping[Caller, float]
    cost: float
    sees: str

    @property
    def cues(self) -> tuple[Cue, ...]:
        """The cue of each option."""
        return tuple(self.cue_of(option) for option in self.options)

    def cue_of(self, option: Option) -> Cue:
        """The cue an option adds. Sides were asked for in the vehicle's frame."""
        viewpoint = "vehicle" if self.frame else ""
        return Cue(self.attribute, option.values, (), option.words, viewpoint=viewpoint)

    def option(self, id_: str) -> Option | None:
        return next((option for option in self.options if option.id == id_), None)


@dataclass(frozen=True, eq=False)
class QuestionSet:
    """Every question, and the numbers that choose among them; compared by identity.

    identity_weight: what not knowing the vehicle weighs beside all facts together (1). unit_cost: of
    cost 1, as a share of all that may be lost. least_bits: less information is not worth asking for.
    most_asked: then the call is better spent otherwise. likeliest, sampled: how many records are weighed, and
    how many of all others stand for them. names: makes thought of as answers.
    """

    version: int
    origin: str
    identity_weight: float
    unit_cost: float
    least_bits: float
    most_asked: int
    likeliest: int
    sampled: int
    names: int
    questions: tuple[Question, ...]

    @cached_property
    def by_id(self) -> Mapping[str, Question]:
        return {question.id: question for question in self.questions}


def questions_from(data: Mapping[str, Any]) -> QuestionSet:
    """Build a set from its JSON object."""
    return QuestionSet(
        version=data["version"],
        origin=data["origin"],
        identity_weight=data["identity_weight"],
        unit_cost=data["unit_cost"],
        least_bits=data["least_bits"],
        most_asked=data["most_asked"],
        likeliest=data["likeliest"],
        sampled=data["sampled"],
        names=data["names"],
        questions=tuple(_question(entry) for entry in data["questions"]),
    )


def _question(entry: Mapping[str, Any]) -> Question:
    return Question(
        id=entry["id"],
        attribute=entry["attribute"],
        ask=entry["ask"],
        frame=entry.get("frame", ""),
        options=tuple(Option(o["id"], o["words"], tuple(o["values"])) for o in entry.get("options", ())),
        needs=frozenset(Need(need) for need in entry["needs"]),
        cannot_tell={Caller(place): share for place, share in entry["cannot_tell"].items()},
        cost=entry["cost"],
        sees=entry.get("sees", ""),
    )


@cache
def expert_questions() -> QuestionSet:
    """The set that ships with the product."""
    return questions_from(json.loads(_SHIPPED.read_text(encoding="utf-8")))
