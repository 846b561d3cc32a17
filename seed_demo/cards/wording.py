"""The plain words of scene cards: one variant of several for each value, drawn by seed."""

import json
from collections.abc import Iterable, Mapping
from functools import cache
from importlib.resources import files
from random import Random
from typing import Any

from catalog.domain.facts import Fact, State
from seed_demo.generator.draws import pick

Table = Mapping[str, Any]


@cache
def table() -> Table:
    """data/words.json: group -> value -> ways to put it."""
    text = (files("seed_demo.cards") / "data" / "words.json").read_text(encoding="utf-8")
    found: Table = json.loads(text)
    return found


class Wording:
    """Draws how to put each value; the same draw gives the same words again."""

    def __init__(self, draw: Random) -> None:
        self._draw = draw

    def say(self, group: str, value: str) -> str:
        """One way to put a value. Raises KeyError for a value the table does not know."""
        options: list[str] = table()[group][value]
        return pick(self._draw, options)

    def each(self, group: str, values: Iterable[str]) -> str:
        return "; ".join(self.say(group, value) for value in values)

    def fact(self, group: str, fact: Fact) -> str | None:
        """A fact in all its states: None where it is not stated, every side where it is disputed."""
        if fact.state is State.NOT_STATED:
            return None
        if fact.state is State.DISPUTED:
            sides = " or ".join(f"({self.fact(group, side)})" for side in fact.sides)
            return self.say("state", "disputed").format(sides=sides)
        if fact.state is State.NOT_FITTED:
            return self.say("state", "none_fitted")
        values = fact.value if isinstance(fact.value, tuple) else (str(fact.value),)
        return self.some(fact, self.each(group, values))

    def some(self, fact: Fact, words: str) -> str:
        """The words, and that only some of the vehicles have it where that is so."""
        return f"{words} ({self.say('state', 'some')})" if fact.state is State.MAY_BE_FITTED else words

    def one_of(self, options: list[str]) -> str:
        return pick(self._draw, options)
