"""Situations whose briefs were read aloud as a crew would hear them; tests/briefs_read holds what was read.

`python -m tests.brief_situations --write` writes the files anew: read every one that changes.
"""

import argparse
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from catalog.plan.brief import Brief, BriefInput, BriefVehicle, Data, Sure, brief_plan, compose
from catalog.plan.scene import Scene, field_words
from catalog.plan.several import COUNTS, Field, Possible
from catalog.resolve.chance import said
from tests.plan_cases import demo_records
from tests.plan_situations import CLEAR
from tests.plan_situations import SITUATIONS as OF_STEPS

FOLDER = Path(__file__).parent / "briefs_read"
DATA = Data(14, "edition 14, 2026-03-02", demo=True)


@dataclass(frozen=True, slots=True)
class Told:
    """vehicles: code -> probability; none for any vehicle. named: somebody said which it is."""

    name: str
    story: str
    vehicles: Mapping[str, float] = field(default_factory=dict)
    scene: Mapping[str, str] = field(default_factory=dict)
    carried: Sequence[str] | None = None
    sights: tuple[str, str] | None = None
    letter: str = "A"
    caller: str = "unknown"
    named: bool = False

    def asked(self) -> BriefInput:
        carried = None if self.carried is None else frozenset(self.carried)
        scene = replace(Scene(carried=carried).having(**self.scene), caller=self.caller)
        records = demo_records()
        unlisted = 0.0 if self.named or not self.vehicles else 1 - sum(self.vehicles.values())
        possible = [Possible(code, records[code], share) for code, share in self.vehicles.items()]
        plan = brief_plan(Field(possible, unlisted), scene, lambda *_: self.sights)
        return BriefInput(
            letter=self.letter,
            data=DATA,
            plan=plan,
            vehicles=tuple(self._vehicle(each) for each in possible if each.probability > COUNTS),
            scene=scene,
            unlisted=Sure(*said(unlisted)) if unlisted > COUNTS else Sure(),
        )

    def _vehicle(self, each: Possible) -> BriefVehicle:
        identity = each.record.identity
        sure = Sure() if self.named else Sure(*said(each.probability))
        return BriefVehicle(each.code, identity.title, str(identity.years), each.record, sure)

    def text(self) -> str:
        """The situation and what is said of it, as they stand in the file."""
        asked = self.asked()
        return "\n".join([*self._heading(asked), *radio_lines(compose(asked)), *rest_lines(compose(asked))]) + "\n"

    def _heading(self, asked: BriefInput) -> Iterator[str]:
        yield self.story
        yield f"Vehicle: {' or '.join(vehicle.title for vehicle in asked.vehicles) or 'any'}."
        known = [field_words(key, asked.scene.said(key)) for key in self.scene if asked.scene.said(key) != "unknown"]
        yield f"Scene: {', '.join(dict.fromkeys(known)) or 'nothing known'}."


def radio_lines(brief: Brief) -> Iterator[str]:
    yield "\nRADIO"
    yield from (f"{breath.start:5.1f} s  {breath.text}" for breath in brief.breaths)
    yield f"{len(brief.radio_text)} characters, {brief.seconds} s. Left to the full text: {_listed(brief.left_out)}."


def rest_lines(brief: Brief) -> Iterator[str]:
    if brief.read_back:
        yield "\nREAD BACK"
        yield from brief.read_back
    yield "\nTELL THE CALLER"
    yield from brief.caller
    yield "\nSHEET"
    for section in brief.sheet:
        yield section.title
        yield from (f"  {f'{line.lead}: ' if line.lead else ''}{line.text}" for line in section.lines)


def _listed(keys: Sequence[str]) -> str:
    return ", ".join(keys) or "nothing"


def _of_steps() -> Iterator[Told]:
    """The situations of the steps, as briefs: one vehicle named or likely, several, none."""
    callers = ("unknown", "beside", "away", "inside", "passing")
    for number, each in enumerate(OF_STEPS):
        share = dict.fromkeys(each.vehicles, 0.86 if number % 2 else 0.7) if len(each.vehicles) == 1 else each.vehicles
        yield Told(
            each.name, each.story, share, each.scene, each.carried, each.sights,
            "ABC"[number % 3], callers[number % 5], named=number % 3 == 2,
        )  # fmt: skip


SITUATIONS: tuple[Told, ...] = (
    *_of_steps(),
    Told(
        "23_overhead_line", "Lorry into a power pole, the wire lies over the cab.", {"9KW-V8C": 0.9},
        {"overhead_line": "yes", "danger_to_life": "yes"}, letter="B", caller="beside",
    ),
    Told(
        "24_all_clear_but_unsaid", "Caller has gone; a crew two minutes out. Nothing said of fire or water.",
        {"NPG-QB4": 0.66}, {}, ["j3400"], letter="Z",
    ),
    Told(
        "25_two_that_differ_without_a_sight", "Pickup or its twin; nothing outside tells them apart.",
        {"B23-4XQ": 0.5, "HZ3-B9B": 0.45}, {**CLEAR, "casualty": "yes", "trapped": "yes"}, ["type2", "ccs2"],
    ),
    Told("26_in_the_sea", "Car off the slipway, floating, driver at the window.", {"KWR-WK6": 0.4},
         {"water": "yes", "water_salt": "yes", "danger_to_life": "yes", "nobody_inside": "no"}, caller="inside"),
)  # fmt: skip


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.brief_situations", description=__doc__)
    parser.add_argument("--write", action="store_true")
    if parser.parse_args(argv).write:
        for situation in SITUATIONS:
            (FOLDER / f"{situation.name}.txt").write_text(situation.text(), encoding="utf-8")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
