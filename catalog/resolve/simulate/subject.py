"""The vehicles that witnesses see: listed ones as their records say, unlisted ones made from listed ones."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from random import Random
from typing import Any

from catalog.resolve.rows import Row
from catalog.resolve.simulate.setting import Setting
from catalog.resolve.simulate.tables import law_table
from catalog.resolve.truth import TRUTHS, Signature

Pool = tuple[tuple[Signature, float], ...]


@dataclass(frozen=True)
class Subject:
    """code: of its record, None for a vehicle that is not listed. truths: signature of each attribute, None where
    nobody states it. names: (shown, kind). facts: as `Row.facts` has them."""

    code: str | None
    truths: Mapping[str, Signature]
    names: tuple[tuple[str, str], ...]
    facts: tuple[str, ...]


def subject_of(row: Row) -> Subject:
    """The listed vehicle of a row."""
    truths = {attribute: json.loads(text) for attribute, text in zip(TRUTHS, row.truths, strict=True)}
    return Subject(row.code, truths, tuple((shown, kind) for _, shown, kind in row.names), row.facts)


@dataclass(frozen=True)
class World:
    """Every listed vehicle."""

    subjects: Sequence[Subject]

    @cached_property
    def pools(self) -> Mapping[str, Pool]:
        """Per attribute, the signatures that say something, each with its share of them."""
        return {attribute: self._pool(attribute) for attribute in TRUTHS}

    def _pool(self, attribute: str) -> Pool:
        counted: dict[str, int] = {}
        for subject in self.subjects:
            if isinstance(subject.truths[attribute], (list, dict)):
                text = json.dumps(subject.truths[attribute])
                counted[text] = counted.get(text, 0) + 1
        total = sum(counted.values())
        return tuple((json.loads(text), count / total) for text, count in counted.items())

    @cached_property
    def names(self) -> tuple[str, ...]:
        """Every name, without repeats."""
        return tuple(sorted({shown for subject in self.subjects for shown, _ in subject.names}))


def unlisted(like: Subject, world: World, setting: Setting, draw: Random) -> Subject:
    """A vehicle that no record describes: a mutated relative of a listed one, or one of a make nobody listed.

    Attributes and facts that mutate are those of some other vehicle. A relative keeps its make and bears a new model.
    """
    truths, facts = dict(like.truths), list(like.facts)
    for attribute in truths:
        if draw.random() < setting.mutated:
            truths[attribute] = draw.choice(world.subjects).truths[attribute]
    for place in range(len(facts)):
        if draw.random() < setting.mutated:
            facts[place] = draw.choice(world.subjects).facts[place]
    fresh = draw.random() < setting.new_make
    kept = [(shown, kind) for shown, kind in like.names if kind == "make" and not fresh]
    names = (*(kept or [(new_name(draw), "make")]), (new_name(draw), "model"))
    return replace(like, code=None, truths=truths, names=tuple(names), facts=tuple(facts))


def new_name(draw: Random) -> str:
    """A name made of syllables."""
    table: Mapping[str, Any] = law_table()
    parts = [draw.choice(table["syllables"]) for _ in range(draw.choice((1, 2)))]
    return ("".join(parts) + str(draw.choice(table["endings"]))).capitalize()
