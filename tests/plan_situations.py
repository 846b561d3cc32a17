"""Situations whose steps were read aloud as a crew would hear them; tests/steps_read holds what was read.

`python -m tests.plan_situations --write` writes the files anew: read every one that changes.
"""

import argparse
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from catalog.cli.pages.steps import numbered_lines
from catalog.cli.paper import Paper
from catalog.plan.scene import Scene, field_words
from catalog.plan.several import Field, Possible, plan_for_several
from catalog.services.step_views import phase_views, step_views
from tests.plan_cases import demo_records

FOLDER = Path(__file__).parent / "steps_read"
_WIDTH = 100

# What a crew has looked at and found nothing of.
CLEAR = dict.fromkeys(
    ("fire", "jet", "vapour", "hiss", "pop", "odour", "leak", "water", "recovered", "port_damaged", "charger_attached",
     "orange_cable", "converted", "overhead_line", "enclosed", "on_roof", "left_down", "right_down", "on_side", "slope",
     "wheel_off_ground", "trailer", "towing", "on_carrier", "under_vehicle", "over_vehicle", "danger_to_life",
     "pack_damage", "sill_damage"), "no")  # fmt: skip


@dataclass(frozen=True, slots=True)
class Situation:
    """vehicles: code -> probability; none for any vehicle."""

    name: str
    story: str
    vehicles: Mapping[str, float] = field(default_factory=dict)
    scene: Mapping[str, str] = field(default_factory=dict)
    carried: Sequence[str] | None = None
    sights: tuple[str, str] | None = None

    def text(self) -> str:
        """The situation and its steps, as they stand in the file."""
        scene = Scene(carried=None if self.carried is None else frozenset(self.carried)).having(**self.scene)
        records = demo_records()
        possible = [Possible(code, records[code], share) for code, share in self.vehicles.items()]
        unlisted = 1 - sum(self.vehicles.values()) if len(possible) > 1 else 0.0
        several = plan_for_several(Field(possible, unlisted), scene, lambda *_: self.sights)
        paper = Paper(_WIDTH)
        heading = [line for text in self._heading(scene) for line in paper.wrap(text)]
        steps = numbered_lines(phase_views(several.plan), step_views(several.plan), paper)
        return "\n".join([*heading, *steps]) + "\n"

    def _heading(self, scene: Scene) -> Iterator[str]:
        yield self.story
        titles = [demo_records()[code].identity.title for code in self.vehicles]
        yield f"Vehicle: {' or '.join(titles) or 'any'}."
        known = [field_words(key, scene.said(key)) for key in self.scene]
        yield f"Scene: {', '.join(dict.fromkeys(known)) or 'nothing known'}."


def _scene(**said: str) -> dict[str, str]:
    return {**CLEAR, **said}


SITUATIONS: tuple[Situation, ...] = (
    Situation("01_nothing_known", "First words of a call: a car has crashed."),
    Situation("02_any_burning", "A car is on fire, make unknown.", scene={"fire": "yes"}),
    Situation(
        "03_nose_port_on_a_slope", "Nose down on a hill, engine note: none. Port behind the front plate.",
        {"76R-MJZ": 1.0}, _scene(slope="yes", power_alive="yes", airbags="no"), ["type2"],
    ),
    Situation(
        "04_coupler_pulled_for_loading", "The recovery crew pulled the coupler out to load it.",
        {"7B6-7TJ": 1.0}, _scene(coupler_removed="yes", power_alive="yes", casualty="no", airbags="no"),
        ["ccs2", "type2"],
    ),
    Situation(
        "05_pyro_fuse_not_stated", "Front crash, airbags fired, plug not accepted.",
        {"J4G-VNN": 1.0}, _scene(airbags="yes", damage_front="yes", plug_refused="yes", power_alive="no"), ["type1"],
    ),
    Situation(
        "06_burning_car", "Flames from under the floor, driver still inside.",
        {"R7Q-NM4": 1.0}, {"fire": "yes", "danger_to_life": "yes", "enclosed": "no", "nobody_inside": "no"},
    ),
    Situation(
        "07_power_only_doors", "Doors with flush handles, 12 V still on, a casualty behind them.",
        {"NPG-QB4": 1.0}, _scene(power_alive="yes", trapped="yes", cutting_planned="yes", airbags="yes"), ["j3400"],
    ),
    Situation(
        "08_dying_and_a_ten_minute_wait", "Casualty fading fast, trapped; this one wants ten minutes after the cut.",
        {"BN7-2DN": 1.0}, _scene(danger_to_life="yes", trapped="yes", cutting_planned="yes", airbags="yes"), [],
    ),
    Situation(
        "09_left_side_down_left_front_loop", "On its left side; the loop is left front.",
        {"9JT-WV2": 1.0}, _scene(left_down="yes", airbags="yes", power_alive="yes"), ["ccs2"],
    ),
    Situation(
        "10_flood_car_to_the_yard", "Towed out of a flooded sea road two hours ago, off to the yard.",
        {"9KW-V8C": 1.0}, _scene(water="no", recovered="yes", water_salt="yes", nobody_inside="yes", power_alive="no"),
    ),
    Situation(
        "11_deep_in_the_canal", "Roof just above water, somebody inside.",
        {"KWR-WK6": 1.0}, {"water": "yes", "water_deep": "yes", "danger_to_life": "yes"},
    ),
    Situation(
        "12_medical_only", "Driver taken ill, car stopped at the kerb without a scratch.",
        {"C8V-V6H": 1.0},
        _scene(casualty="yes", trapped="no", cutting_planned="no", airbags="no", power_alive="yes"), ["type2"],
    ),
    Situation(
        "13_charger_attached_and_crushed", "Ran into at a charging post, the post is bent over it.",
        {"B23-4XQ": 1.0}, _scene(charger_attached="yes", port_damaged="yes", airbags="unknown"),
    ),
    Situation(
        "14_motorcycle", "Electric motorcycle under the front of a bus.",
        {"BHZ-QCF": 1.0}, _scene(under_vehicle="yes", trapped="yes", airbags="no"),
    ),
    Situation(
        "15_bus_on_a_hill", "Battery bus stopped on a hill, forty inside.",
        {"QK3-N87": 1.0}, _scene(slope="yes", power_alive="yes", casualty="yes", airbags="no"), ["ccs2"],
    ),
    Situation(
        "16_fuel_cell_leaking_indoors", "Hiss under the boot in an underground car park.",
        {"B8Q-R8P": 1.0}, {"hiss": "yes", "leak": "yes", "enclosed": "yes", "fire": "no", "water": "no"},
    ),
    Situation(
        "17_hybrid_ready", "Dash says READY, engine silent, bonnet ajar.",
        {"7HG-PFD": 1.0}, _scene(ready_shown="yes", power_alive="yes", airbags="no"),
    ),
    Situation(
        "18_converted_classic", "Old coupe, makes no sound, orange cable in the boot.",
        {"76D-FPF": 1.0}, _scene(converted="yes", orange_cable="yes"),
    ),
    Situation(
        "19_two_possible", "One of two look-alikes; one sight tells them apart.",
        {"2ZW-B46": 0.6, "76R-MJZ": 0.38}, _scene(power_alive="yes", airbags="no"), ["type2"],
        ("number plate hinge at the top edge", "number plate hinge at the left edge"),
    ),
    Situation(
        "20_many_possible", "Grey family car, that is all.",
        {"9KW-V8C": 0.2, "V7X-WDK": 0.2, "88J-QNB": 0.15, "2HH-RWK": 0.15, "RRR-TK6": 0.1},
        {"fire": "no", "water": "no"},
    ),
    Situation(
        "21_on_a_carrier", "Transporter in the ditch with six cars on it; this is one.",
        {"HZ3-B9B": 1.0}, _scene(on_carrier="yes", orange_cable="unknown"),
    ),
    Situation(
        "22_gas_taxi_burning", "Gas taxi, flames at the rear.",
        {"NR6-4JF": 1.0}, {"fire": "yes", "converted": "no", "nobody_inside": "yes", "water": "no"},
    ),
)  # fmt: skip


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.plan_situations", description=__doc__)
    parser.add_argument("--write", action="store_true")
    if parser.parse_args(argv).write:
        for situation in SITUATIONS:
            (FOLDER / f"{situation.name}.txt").write_text(situation.text(), encoding="utf-8")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
