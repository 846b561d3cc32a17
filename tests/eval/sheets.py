"""Scene cards with an error sheet each: `python -m tests.eval.sheets --cards N --seed S [--hand NAME] [--output FILE]`.

Test descriptions are written from these by hand (tests/eval/readings/README.md). A sheet says who
speaks, how much is said, which mistakes are made, what goes on at the scene and what else must occur.
Everything is drawn evenly, by seed: the records of the demo catalogue, the hands, how many things are
said, and the mistakes as far as a card allows them (no port, no swapped sides). Card N of a seed is the
same whatever is left out by `--hand`. The words are in sheets.json and are none of the reader's. What a
sheet asks and its card cannot bear (who sits in a motorcycle?) is left out by the writer.
"""

import argparse
import json
import sys
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from random import Random
from typing import TypeVar

from catalog.domain.markets import BY_KEY as MARKETS
from catalog.domain.record import Record
from seed_demo.cards import Card, scene_card
from seed_demo.cards.__main__ import newest_records

T = TypeVar("T")
Words = Mapping[str, Mapping[str, str]]
WORDS: Words = json.loads(Path(__file__).with_suffix(".json").read_text(encoding="utf-8"))
FEWEST, MOST = 2, 9

LEAD = "where its lead goes"
# How often a thing on the card is among those to be said, against one another.
_SHARES = {
    "outline": 9, "paint": 6, "it is called": 5, LEAD: 6, "made": 3, "letters on it": 3, "coming towards one": 3,
    "what shines ahead": 3, "what glows when it slows": 3, "overhead": 2, "wheels": 1, "to get in": 2.5,
    "waste air": 2, "what hides that": 2.5, "how that moves": 3, "what is beneath": 3.5, "what it drinks": 2,
    "choosing ahead or astern": 3, "what one hears": 4, "ways in": 2, "bulk": 2, "when it can go": 0.3,
}  # fmt: skip
# A mistake needs one of these to be said; those about sides need a side too. One mistake of a group at most.
_NEEDS = {
    "sides swapped": LEAD, "from the front, unsaid": LEAD, "from the front, said": LEAD, "clock": LEAD,
    "wrong body": "outline", "name misheard": "it is called", "name half remembered": "it is called",
    "year off": "made", "lead end by another name": "what is beneath",
}  # fmt: skip
_SIDED = ("sides swapped", "from the front, unsaid", "from the front, said")
_GROUPS = ((*_SIDED, "clock"), ("name misheard", "name half remembered"), ("typos", "dictation", "run together"))


@dataclass(frozen=True, slots=True)
class Sheet:
    """What to write from a card. say: the labels of the card's lines that are said, all others are left out.

    errors, scene, extra, privacy, traps: keys of `WORDS`. second: the other vehicle, in a card's words.
    """

    number: int
    card: Card
    hand: str
    english: str
    driving_side: str
    say: tuple[str, ...]
    errors: tuple[str, ...]
    scene: tuple[str, ...] = ()
    extra: tuple[str, ...] = ()
    privacy: tuple[str, ...] = ()
    traps: tuple[str, ...] = ()
    second: str = ""
    vin: str = ""

    @property
    def short(self) -> str:
        """For the field "sheet" of a set; what goes on is only counted, its keys are vocabulary words."""
        going_on = (f"{len(self.scene)} going on",) if self.scene else ()
        return "; ".join((*self.errors, *going_on, *self.extra, *self.privacy, *self.traps))

    def _told(self, group: str, keys: Iterable[str]) -> str:
        return "; ".join(WORDS[group][key].format(second=self.second, vin=self.vin) for key in keys)

    def __str__(self) -> str:
        rows = (
            ("who", f"{WORDS['hands'][self.hand]}; {self.english} English, traffic keeps {self.driving_side}"),
            (f"say these {len(self.say)}", "; ".join(self.say)),
            ("mistakes", self._told("errors", self.errors)),
            ("going on", self._told("scene", self.scene)),
            ("also", self._told("extra", self.extra)),
            ("private", self._told("privacy", self.privacy)),
            ("trap", self._told("traps", self.traps)),
            ("sheet", self.short),
        )
        return "\n".join([f"#{self.number:04} {self.hand}", *(f"  * {a}: {b}" for a, b in rows if b), str(self.card)])


def sheets(records: Mapping[str, Record], count: int, seed: int) -> list[Sheet]:
    """`count` sheets, numbered from 1; the same seed gives the same ones."""
    draw = Random(seed)
    codes = evenly(draw, list(records), count)
    hands = evenly(draw, list(WORDS["hands"]), count)
    english = evenly(draw, list(WORDS["english"]), count)
    sizes = evenly(draw, range(FEWEST, MOST + 1), count)
    errors = evenly(draw, list(WORDS["errors"]), count)
    scenes, extras = evenly(draw, (True, False), count), evenly(draw, (True, False, False), count)
    private, trapped = evenly(draw, [True] + [False] * 7, count), evenly(draw, [True] + [False] * 3, count)
    decks = {name: Deck(draw, list(WORDS[name])) for name in ("scene", "extra", "privacy", "traps")}
    made = []
    for at, code in enumerate(codes):
        record = records[code]
        card = scene_card(code, record, seed * 100_000 + at)
        foreign = hands[at] == "second_language"
        chosen = _errors(draw, card, record, errors)
        made.append(
            Sheet(
                number=at + 1,
                card=card,
                hand=hands[at],
                english="second language" if foreign else english[at],
                driving_side=_traffic(draw, record) if foreign else WORDS["english"][english[at]],
                say=_said(draw, card, sizes[at], chosen),
                errors=chosen,
                scene=_scene(draw, decks["scene"]) if scenes[at] else (),
                extra=decks["extra"].take(1, () if record.identity.vins else ("vin",)) if extras[at] else (),
                privacy=decks["privacy"].take(1) if private[at] else (),
                traps=decks["traps"].take(1) if trapped[at] else (),
                second=_second(draw, records, code),
                vin=(*record.identity.vins, "")[0].split("?")[0],
            )
        )
    return made


def evenly(draw: Random, options: Sequence[T], count: int) -> list[T]:
    """`count` of them, each as often as the others (give or take one), in mixed order."""
    made: list[T] = []
    while len(made) < count:
        made += draw.sample(options, len(options))[: count - len(made)]
    draw.shuffle(made)
    return made


class Deck:
    """Cards of one kind, dealt until none is left, then shuffled again."""

    def __init__(self, draw: Random, options: Sequence[str]) -> None:
        self._draw, self._options = draw, options
        self._left: list[str] = []

    def take(self, count: int, never: Sequence[str] = ()) -> tuple[str, ...]:
        """`count` different ones, none of `never`."""
        made: list[str] = []
        while len(made) < count:
            left = [option for option in self._left if option not in never and option not in made]
            if left:
                made.append(left[0])
                self._left.remove(left[0])
            else:
                self._left += self._draw.sample(self._options, len(self._options))
        return tuple(made)


def _scene(draw: Random, deck: Deck) -> tuple[str, ...]:
    """One or two things that go on, and that can go on together."""
    first = deck.take(1)
    apart = [key for group in WORDS["apart"].values() if first[0] in group.split() for key in group.split()]
    return first + deck.take(int(draw.random() < 0.5), apart)


def _errors(draw: Random, card: Card, record: Record, left: list[str]) -> tuple[str, ...]:
    """The next mistake the card allows, taken out of `left`; in a third of the cards another beside it."""
    first = next((error for error in left if _possible(error, card)), "none")
    if first in left:
        left.remove(first)
    if first == "none" or draw.random() > 1 / 3:
        return (first,)
    barred = {"none", first, *(error for group in _GROUPS if first in group for error in group)}
    others = [error for error in WORDS["errors"] if error not in barred and _possible(error, card)]
    return first, draw.choice(others)


def _possible(error: str, card: Card) -> bool:
    needed = _NEEDS.get(error)
    lines = [line for line in card.lines if line.label == needed]
    if error in _SIDED:
        return any(f" {side} " in line.words for line in lines for side in ("left", "right"))
    return needed is None or bool(lines)


def _said(draw: Random, card: Card, size: int, errors: Sequence[str]) -> tuple[str, ...]:
    """What is said, in the card's order: what the mistakes need, then by share."""
    labels = list(dict.fromkeys(line.label for line in card.lines if line.label in _SHARES))
    chosen = list(dict.fromkeys(_NEEDS[error] for error in errors if error in _NEEDS))
    while len(chosen) < min(size, len(labels)):
        others = [label for label in labels if label not in chosen]
        chosen += draw.choices(others, [_SHARES[label] for label in others])
    return tuple(label for label in labels if label in chosen)


def _traffic(draw: Random, record: Record) -> str:
    """The side traffic keeps to in one of the record's markets."""
    return MARKETS[draw.choice(record.identity.markets)].traffic


def _second(draw: Random, records: Mapping[str, Record], code: str) -> str:
    """Another vehicle: its outline and paint in a card's words."""
    other = draw.choice([key for key in records if key != code])
    lines = scene_card(other, records[other], draw.randrange(1000)).lines
    return ", ".join(line.words for line in lines if line.label in ("outline", "paint"))


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.eval.sheets", description=__doc__)
    parser.add_argument("--cards", type=int, required=True, help="how many")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--hand", choices=list(WORDS["hands"]), help="write only this hand's, numbers kept")
    parser.add_argument("--output", type=Path, help="write here instead of printing")
    options = parser.parse_args(argv)
    made = sheets(newest_records(), options.cards, options.seed)
    text = "\n\n".join(str(sheet) for sheet in made if options.hand in (None, sheet.hand)) + "\n"
    if options.output:
        options.output.write_text(text, encoding="utf-8")
    else:
        sys.stdout.write(text)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
