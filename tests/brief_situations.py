"""Situations whose briefs were read aloud as a crew would hear them; tests/briefs_read holds what was read.

`python -m tests.brief_situations --write` writes the files anew: read every one that changes.
"""

import argparse
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Protocol

from catalog.domain.facts import Fact, stated
from catalog.domain.places import Place
from catalog.domain.record import Record
from catalog.plan.brief import (
    Brief,
    BriefInput,
    BriefVehicle,
    Data,
    HandOver,
    Section,
    Sure,
    Temperature,
    Tick,
    brief_plan,
    compose,
    correct,
    slip,
)
from catalog.plan.scene import Scene, field_words
from catalog.plan.several import COUNTS, Field, Possible
from catalog.resolve.chance import said
from tests.plan_cases import demo_records
from tests.plan_situations import CLEAR
from tests.plan_situations import SITUATIONS as OF_STEPS

FOLDER = Path(__file__).parent / "briefs_read"
DATA = Data(14, "edition 14, 2026-03-02", demo=True)


class Read(Protocol):
    """Something that was read aloud."""

    @property
    def name(self) -> str: ...

    def text(self) -> str: ...


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

    def asked(self, records: Mapping[str, Record] | None = None) -> BriefInput:
        carried = None if self.carried is None else frozenset(self.carried)
        scene = replace(Scene(carried=carried).having(**self.scene), caller=self.caller)
        records = records or demo_records()
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
    yield from section_lines(brief.sheet)


def section_lines(sections: Sequence[Section]) -> Iterator[str]:
    for section in sections:
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


@dataclass(frozen=True, slots=True)
class Corrected:
    """A brief that was sent, and what has changed since. facts: path -> the new claim, None for no longer stated."""

    name: str
    story: str
    sent: Told
    facts: Mapping[str, Fact | None] = field(default_factory=dict)
    scene: Mapping[str, str] = field(default_factory=dict)
    vehicles: Mapping[str, float] | None = None

    def brief(self) -> Brief:
        return correct(compose(self.sent.asked()), self.asked())

    def asked(self) -> BriefInput:
        told = replace(self.sent, scene={**self.sent.scene, **self.scene}, vehicles=self.vehicles or self.sent.vehicles)
        return told.asked({code: self._amended(record) for code, record in demo_records().items()})

    def text(self) -> str:
        brief = self.brief()
        changes = [f"  {line.lead}: {line.text}" for line in brief.full[0].lines] if brief.changes else []
        return "\n".join([self.story, *radio_lines(brief), "\nREAD BACK", *brief.read_back, *changes]) + "\n"

    def _amended(self, record: Record) -> Record:
        facts = {path: fact for path, fact in record.facts.items() if path not in self.facts}
        return replace(record, facts={**facts, **{path: fact for path, fact in self.facts.items() if fact is not None}})


@dataclass(frozen=True, slots=True)
class Slip:
    """A hand-over slip. done, cannot: beginnings of the keys of steps -> times."""

    name: str
    story: str
    told: Told
    done: Mapping[str, str] = field(default_factory=dict)
    cannot: Mapping[str, str] = field(default_factory=dict)
    typed: Mapping[str, str] = field(default_factory=dict)
    temperatures: tuple[Temperature, ...] = ()

    def text(self) -> str:
        asked = self.told.asked()
        ticks = [*self._ticks(asked, self.done, "done"), *self._ticks(asked, self.cannot, "cannot")]
        made = slip(HandOver(asked, tuple(ticks), self.typed, self.temperatures))
        return "\n".join([self.story, "", *section_lines(made)]) + "\n"

    def _ticks(self, asked: BriefInput, said: Mapping[str, str], state: str) -> Iterator[Tick]:
        for start, at in said.items():
            yield next(Tick(step.key, state, at) for step in asked.plan.plan.steps if step.key.startswith(start))


_NOSE = SITUATIONS[2]
CORRECTIONS: tuple[Corrected, ...] = (
    Corrected(
        "51_wrong_cut_point", "02:00, the approver asleep: the cut point of the sent brief is wrong.", _NOSE,
        {"cutoff.methods[loop].place": stated(Place("right", "front_quarter", "mid", "under_bonnet"))},
    ),
    Corrected(
        "52_wait_doubted", "A steward doubts the wait; it is not stated any more.", _NOSE,
        {"cutoff.methods[loop].wait": None},
    ),
    Corrected("53_now_it_burns", "Two minutes after the brief it begins to smoke.", _NOSE, scene={"fire": "yes"}),
    Corrected("54_another_vehicle", "The badge says otherwise.", _NOSE, vehicles={"B23-4XQ": 1.0}),
    Corrected("55_nothing_changed", "The same again: no correction.", _NOSE),
    Corrected(
        "56_many_things_changed", "A new issue of the guide: loop, cuts, wait and where not to cut.", _NOSE,
        {
            "cutoff.methods[loop].place": stated(Place("left", "rear_quarter", "low", "behind_trim")),
            "cutoff.methods[loop].cuts": stated(2),
            "cutoff.methods[loop].wait": stated(600),
            "structure.no_cut[footl].place": stated(Place("left", "middle", "high", "in_pillar")),
        },
    ),
)  # fmt: skip
SLIPS: tuple[Slip, ...] = (
    Slip(
        "61_flood_car_to_the_yard", "The flood car goes to the yard; half of it was never said.", SITUATIONS[9],
        {"chock": "02:41", "cut_fuse": "02:50"}, {"cut_loop": "02:48"},
        {"water_used": "none of ours", "fire_watch": "14:00, night porter", "to": "Harbour yard"},
        (Temperature("02:55", "18 C at the sill"), Temperature("03:25", "19 C at the sill")),
    ),
    Slip("62_nothing_said", "Any vehicle, nobody has written anything.", SITUATIONS[0]),
    Slip(
        "63_plugged_in_and_loaded", "The coupler came out for loading.", SITUATIONS[3],
        {"chock": "11:02"}, {}, {"coupler": "out since 11:20", "cuts": "loop, two cuts"},
    ),
)  # fmt: skip


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.brief_situations", description=__doc__)
    parser.add_argument("--write", action="store_true")
    if parser.parse_args(argv).write:
        read: tuple[Read, ...] = (*SITUATIONS, *CORRECTIONS, *SLIPS)
        for situation in read:
            (FOLDER / f"{situation.name}.txt").write_text(situation.text(), encoding="utf-8")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
