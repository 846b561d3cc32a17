"""A witness describes a vehicle: the cues as a perfect reader would have them."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from random import Random
from typing import Any

from catalog.domain.folding import fold_name
from catalog.resolve.cue import Cue, Doubt
from catalog.resolve.simulate.law import SEEN, Chances, Law
from catalog.resolve.simulate.mishearing import heard_shares, misheard
from catalog.resolve.simulate.setting import Setting, Witness, witnesses
from catalog.resolve.simulate.subject import Subject, World, unlisted
from catalog.resolve.simulate.tables import law_table
from catalog.resolve.truth import NO_PORT

_PORT = ("port_place", "connector", "door_mechanism", "port_cover")
_OTHER = {"left": "right", "right": "left"}
# Never denied: nobody says "not about 2019", and of two values a denial is the other one.
_PLAIN = ("years", "colour", "doors", "tailpipe")


@dataclass(frozen=True)
class Simulated:
    """One description: the vehicle, the witness, what was said of it."""

    subject: Subject
    witness: Witness
    cues: tuple[Cue, ...]


class Simulator:
    """Descriptions of vehicles of one world, by one setting. The same numbers give the same descriptions."""

    def __init__(self, world: World, setting: Setting, seed: int) -> None:
        self._world, self._setting, self._seed = world, setting, seed
        self._law, self._table = Law(world, setting), law_table()
        kinds = witnesses(setting)
        self._witnesses, self._shares = list(kinds), list(kinds.values())

    def of(self, subject: Subject, number: int) -> Simulated:
        """The number-th description, of this vehicle or, by the share of the setting, of an unlisted one like it."""
        draw = Random(f"{self._seed}/{number}")  # noqa: S311  repeatable on purpose
        if draw.random() < self._setting.unlisted:
            subject = unlisted(subject, self._world, self._setting, draw)
        return self.seen(subject, draw)

    def seen(self, subject: Subject, draw: Random) -> Simulated:
        """A description of just this vehicle; at least one thing is said."""
        witness = draw.choices(self._witnesses, self._shares)[0]
        cues: tuple[Cue, ...] = ()
        while not cues:
            cues = tuple(self._cues(subject, witness, draw))
        return Simulated(subject, witness, cues)

    def answer(self, attribute: str, subject: Subject, witness: Witness, draw: Random) -> str:
        """What this witness says when asked for one attribute outright; "" where there is nothing to say."""
        truth = subject.truths.get(attribute)
        if truth == NO_PORT:
            return ""
        if attribute == "port_place":
            return self._place(truth or self._any("port_place", draw), witness, draw, asked=True)
        return _drawn(self._law.chances(attribute, truth, witness), draw)

    def _cues(self, subject: Subject, witness: Witness, draw: Random) -> Iterator[Cue]:
        mention = self._table["mention"]
        for attribute in SEEN:
            if self._mentions(attribute, subject, draw):
                yield self._seen(attribute, subject, witness, draw)
        if self._world.pools["port_place"] and self._mentions("port_place", subject, draw):
            truth = subject.truths["port_place"]
            truth = truth if isinstance(truth, dict) else self._any("port_place", draw)
            told = draw.random() < self._table["viewpoint_said"]
            # Who says from where they look seldom swaps the sides.
            swapped = witness.mirrored and (not told or draw.random() < self._table["still_mirrored_when_said"])
            value = self._place(truth, replace(witness, mirrored=swapped), draw)
            yield Cue("port_place", (value,), (), "", viewpoint="vehicle" if told else "")
        for kind in ("make", "model", "badge"):
            named = [shown for shown, its in subject.names if its == kind or (kind == "badge" and its == "variant")]
            if named and draw.random() < mention[kind] * self._setting.named:
                said = misheard(
                    draw.choice(named), self._world.names, heard_shares(witness.careless, self._setting.right), draw
                )
                yield Cue("name", (fold_name(said),), (), said)

    def _mentions(self, attribute: str, subject: Subject, draw: Random) -> bool:
        chance = float(self._table["mention"][attribute])
        if attribute in _PORT and subject.truths.get(attribute) == NO_PORT:
            chance *= float(self._table["portless_mention"])
        return draw.random() < chance

    def _seen(self, attribute: str, subject: Subject, witness: Witness, draw: Random) -> Cue:
        chances = self._law.chances(attribute, subject.truths.get(attribute), witness)
        hedged = draw.random() < self._setting.hedged
        if hedged and attribute != "colour":
            chances = self._law.hedged(attribute, chances)
        value = _drawn(chances, draw)
        doubt = Doubt.HEDGED if hedged else Doubt.FIRM
        if attribute not in _PLAIN and draw.random() < self._setting.denied:
            others = sorted(chances.keys() - {value})
            return Cue(attribute, (draw.choice(others),), (), "", denied=True, doubt=doubt)
        return Cue(attribute, (value,), (), "", doubt=doubt)

    def _any(self, attribute: str, draw: Random) -> Any:
        pool = self._world.pools[attribute]
        return draw.choices([truth for truth, _ in pool], [share for _, share in pool])[0]

    def _place(self, truth: Any, witness: Witness, draw: Random, *, asked: bool = False) -> str:
        """ "side|end|level". asked: side and end, in the vehicle's frame."""
        place = draw.choice(truth["places"])
        made = {part: _drawn(self._law.place(place, part, witness), draw) for part in ("side", "end", "level")}
        said = [part for part in made if draw.random() < self._table["part_said"][part]]
        if asked:
            return f"{made['side']}|{made['end']}|"
        said = said or ["side"]
        wheels = [wheel for wheel in truth["steering"] if wheel in _OTHER]
        if len(wheels) == 1 and made["side"] in _OTHER and draw.random() < self._table["wheel_side_words"]:
            made["side"] = "driver" if made["side"] == wheels[0] else "passenger"
        return "|".join(made[part] if part in said else "" for part in ("side", "end", "level"))


def _drawn(chances: Chances, draw: Random) -> str:
    return draw.choices(list(chances), list(chances.values()))[0]
