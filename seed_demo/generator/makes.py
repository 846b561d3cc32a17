"""Makes with a manner of their own, and how often each comes."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from random import Random
from typing import Any

from seed_demo.generator.draws import pick
from seed_demo.generator.names import Names
from seed_demo.generator.tables import table

_HABITS = table("habits")
_OWN = 0.85  # how often a family keeps to its make's habit
# A new make is founded with chance (FIRST + SPREAD * makes) / (FIRST + families): some twenty makes among
# the first forty families, then ever fewer new ones; common practice, no source.
_FIRST, _SPREAD = 12.0, 0.3
_BLANK = re.compile(r"\{(\w+)\}")
# Ways of putting a thing that a make keeps, where it is not two.
_KEPT = {"wheels": 6, "voice": 8, "hint": 8, "scene": 6}
_VIN_FIRST = "DEFG"  # no maker is registered under these
_VIN = "ABCDEFGHJKLMNPRSTUVWXYZ12345678"


@dataclass(frozen=True, slots=True, eq=False)
class Make:
    """number: in order of founding. vin: first three characters of its patterns. regions: where it sells,
    home first. words: its ways of putting each thing, two of most."""

    number: int
    name: str
    vin: str
    regions: tuple[str, ...]
    habits: Mapping[str, Any]
    words: Mapping[str, Sequence[str]]

    @property
    def short(self) -> str:
        """What its documents' numbers begin with."""
        return f"{self.name[:3].upper()}{self.number}"


class Roster:
    """Which make the next family belongs to: the more a make has, the likelier it gets another."""

    def __init__(self, names: Names) -> None:
        self._names = names
        self._makes: list[Make] = []
        self._of_family: list[Make] = []

    def next(self, draw: Random) -> Make:
        """The make of the next family; may be a new one."""
        chance = (_FIRST + _SPREAD * len(self._makes)) / (_FIRST + len(self._of_family))
        founded = not self._makes or draw.random() < chance
        make = self._found(draw) if founded else pick(draw, self._of_family)
        self._of_family.append(make)
        return make

    def other(self, draw: Random, make: Make) -> Make | None:
        """Another make there already is, for a twin."""
        found = draw.choice(self._makes)
        return None if found is make else found

    def _found(self, draw: Random) -> Make:
        number = len(self._makes)
        make = _make(draw, number, self._names.make(draw))
        self._makes.append(make)
        return make


def _make(draw: Random, number: int, name: str) -> Make:
    habits = {
        key: {group: pick(draw, options) for group, options in value.items()}
        if isinstance(value, dict)
        else pick(draw, value)
        for key, value in table("habits").items()
        if key not in ("about", "names")
    }
    habits["names"] = {key: pick(draw, options) for key, options in table("habits")["names"].items()}
    slots = {key: draw.sample(value, min(3, len(value))) for key, value in table("words")["slots"].items()}
    words = {
        key: tuple(_filled(draw, template, slots) for template in draw.sample(value, _kept(key, value)))
        for key, value in table("words").items()
        if isinstance(value, list)
    }
    high, low = divmod(number, len(_VIN))
    vin = f"{_VIN_FIRST[number % 4]}{_VIN[high // 4 % len(_VIN)]}{_VIN[low]}"
    regions = table("shape")["regions"]
    home = draw.choices(list(regions), list(regions.values()), k=3)
    return Make(number, name, vin, tuple(dict.fromkeys(home)), habits, words)


class Kit:
    """What one family's vehicles are like, drawn when first asked for and kept.

    group: the part of habits that differ by build: "car", "work", "heavy" or "bike"; work is as cars are but
    for what is listed for it.
    """

    def __init__(self, make: Make, draw: Random, group: str) -> None:
        self.make = make
        self.draw = draw
        self.group = group
        self._held: dict[str, Any] = {}

    def habit(self, key: str) -> Any:
        """A closed-vocabulary habit; the make's own most of the time."""
        try:
            return self._held[key]
        except KeyError:
            pass  # drawn now
        own, options = self.make.habits[key], _HABITS[key]
        if isinstance(options, dict):
            group = self.group if self.group in options else "car"
            own, options = own[group], options[group]
        found = self._held[key] = own if self.draw.random() < _OWN else pick(self.draw, options)
        return found

    def text(self, key: str, item: str = "") -> str:
        """A wording of the make's, its blanks filled. item: where the family has several such."""
        held = f"{key} {item}" if item else key
        if held not in self._held:
            self._held[held] = pick(self.draw, self.make.words[self.variant(key)])
        found: str = self._held[held]
        return found

    def variant(self, key: str) -> str:
        """The wordings that fit the build: "release_bike" where there are such."""
        special = f"{key}_{self.group}"
        return special if special in self.make.words else key

    def number(self, key: str, low: float, high: float) -> float:
        """A figure of the family to two places, kept under a name."""
        if key not in self._held:
            self._held[key] = round(self.draw.uniform(low, high), 2)
        found: float = self._held[key]
        return found

    def anew(self, *keys: str) -> "Kit":
        """The kit of a facelift: the same but for these, which are drawn again from all there is."""
        made = Kit(self.make, self.draw, self.group)
        made._held = {key: value for key, value in self._held.items() if key not in keys}
        for key in keys:
            options = _HABITS.get(key)
            if isinstance(options, dict):
                options = options.get(self.group, options["car"])
            if options is not None:
                made._held[key] = self.draw.choice(options)
        return made


def _kept(key: str, options: Sequence[str]) -> int:
    """How many of these wordings a make keeps."""
    return min(_KEPT.get(key.split("_")[0], 2), len(options))


def _filled(draw: Random, template: str, slots: Mapping[str, Sequence[str]]) -> str:
    """A template with its blanks filled, beginning with a capital."""
    text = _BLANK.sub(lambda blank: pick(draw, slots[blank[1]]), template)
    return text[:1].upper() + text[1:]
