"""The four answers of the first screen, each with the one to three rows needed most; the steps hold the rest.

Rows are steps with their numbers, said from what the record states; where it states nothing, the row is there with its
protective reading. None is left out for want of facts.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from catalog.device.phone.model import Answer, PortLine, Row, Said, Ticked
from catalog.device.phone.shapes import shape_of_step
from catalog.domain.cautions import FRAME_SHORT
from catalog.domain.facts import State
from catalog.domain.places import spot
from catalog.domain.record import list_at
from catalog.domain.wording import claim_words, sentence
from catalog.plan.brief.vehicles import Each
from catalog.plan.listed import listed_lines
from catalog.plan.scene import Scene
from catalog.plan.steps import Step
from catalog.plan.subject import attribute

MOST = 3
# Step -> how early it is needed among those of its answer; what is not here comes after them, in the plan's order.
_RANK: Mapping[str, int] = {
    "chock": 0, "chock_cycle": 0, "hold_lying": 0,
    "power_off": 1, "coupler_out": 1, "water_now": 1,
    "plug": 2, "plug_any": 2, "port_alone": 2, "plug_accepted": 2, "plug_refused": 2, "plug_none_fits": 2,
    "plug_not_stated": 2, "park": 3, "park_cycle": 3, "key_away": 4,
    "remove_now": 0, "doors": 1, "air_doors": 2, "power_doors": 3,
    "cut_not_needed": 0, "cut_any": 0, "cut_loop": 1, "cut_disconnect": 1, "cut_switch": 1, "cut_fuse": 1, "cut_way": 1,
    "cut_low_voltage": 2, "cut_sources": 3, "cut_out_of_reach": 4, "cut_power_off": 5,
}  # fmt: skip
_LAST = 9
_TITLES: Mapping[str, str] = {
    "plug": "Plug in at the charge port",
    "plug_any": "Plug in at the charge port",
    "cut_loop": "Cut loop",
    "cut_disconnect": "Pull disconnect",
    "cut_switch": "Emergency switch",
    "cut_fuse": "Pull fuse",
    "cut_low_voltage": "12/24 V negative off",
    "cut_way": "Way not plainly stated",
    "cut_out_of_reach": "Out of reach as it lies",
    "doors": "Doors, by hand first",
    "power_doors": "Open doors, drop windows while 12 V works",
}
# Step -> the facts a row says of it, as (path, lead); "[]" stands for the step's own port or way.
_FACTS: Mapping[str, tuple[tuple[str, str], ...]] = {
    "power_off": (("motion.switch_off", ""), ("motion.switch_place", "Switch")),
    "park": (("motion.selector", "Selector"), ("motion.parking_brake", "Brake")),
    "key_away": (("motion.key_distance", "At least"),),
    "plug": (("[].place", ""),),
    "plug_not_stated": (("motion.coupled.refuses_drive", "Refuses drive when plugged in"),),
    "air_doors": (("heavy.door_air_release_place", ""), ("heavy.door_air_release", "")),
    "cut_loop": (
        ("[].place", ""), ("[].wait", "Wait"), ("[].opening", "First"), ("[].cuts", "Cuts"), ("[].label", "Label"),
    ),
    "cut_way": (
        ("[].place", ""), ("[].kind", "Way"), ("[].wait", "Wait"), ("[].opening", "First"), ("[].label", "Label"),
    ),
    "cut_disconnect": (("[].place", ""), ("[].wait", "Wait"), ("[].opening", "First")),
    "cut_fuse": (("[].place", ""), ("[].wait", "Wait"), ("[].opening", "First")),
    "cut_switch": (("[].place", ""), ("[].wait", "Wait"), ("[].label", "Label")),
    "cut_low_voltage": (("[].place", ""), ("[].wait", "Wait"), ("[].opening", "First"), ("[].cuts", "Cuts")),
    "cut_out_of_reach": (("[].place", ""), ("[].kind", "Way")),
}  # fmt: skip
# Step -> the part of its own sentences a row says; a step without facts here says its first one.
_PARTS: Mapping[str, tuple[str, ...]] = {
    "doors": ("where",),
    "cut_sources": ("where",),
    "cut_any": ("where", "how"),
    "plug_any": ("where",),
    "cut_not_needed": ("how",),
}
_MOTION, _DOORS, _CUTTING = "motion", "doors", "cutoff"
_DOOR_STEPS = ("power_doors", "remove_now", "doors", "air_doors")
_NO_DOORS = "No doors without power to count on"
_NO_WAY = "No way stated: high voltage stays on"
_WORK_AS_LIVE = "Work as if live."
_ELSEWHERE = "Elsewhere: not stated"
_NEVER = "Never push, pierce or lever"
_STRIP = "Strip trim and look."

Ticks = Mapping[str, Ticked]


@dataclass(frozen=True, slots=True)
class _Around:
    """What the rows are made in."""

    each: Each
    scene: Scene
    ticks: Ticks
    port: PortLine

    def shape(self, step: Step) -> str:
        """Struck where the port is not to be planned on."""
        return "struck" if step.id in ("plug", "plug_any") and self.port.kind == "none" else shape_of_step(step)

    def port_condition(self) -> str:
        """What the port line says, for the row of the port."""
        if self.port.kind == "step":
            _, mark, condition = self.port.text.partition(", if ")
            return f"Only if {condition}" if mark else "After the chocks. Stops drive only"
        return sentence(self.port.text)


def four_answers(each: Each, scene: Scene, ticks: Ticks, port: PortLine) -> tuple[Answer, ...]:
    """Stop it moving, doors without power, cut high voltage off, do not cut here."""
    around = _Around(each, scene, ticks, port)
    numbered = list(enumerate(each.plan.steps, 1))
    motion = [(number, step) for number, step in numbered if step.phase == "motion"]
    doors = [(number, step) for number, step in numbered if step.id in _DOOR_STEPS]
    cutting = [(number, step) for number, step in numbered if step.phase == "cutoff" and step.id != "pack_live"]
    live = any(step.id == "pack_live" for step in each.plan.steps)
    return (
        _answer(_MOTION, "Stop it moving", "", motion, around),
        _or_silence(_answer(_DOORS, "Doors without power", "", doors, around), _no_doors(each)),
        _or_silence(
            _answer(_CUTTING, "Cut high voltage off", "pack stays live" if live else "", cutting, around),
            [Row("", 0, "", _NO_WAY, (Said(_WORK_AS_LIVE, State.NOT_STATED.value),))],
        ),
        _zones(each, numbered),
    )


def _answer(key: str, title: str, aside: str, steps: Sequence[tuple[int, Step]], around: _Around) -> Answer:
    """The rows needed most, in the order of the steps."""
    needed = sorted(steps, key=lambda each: (_RANK.get(each[1].id, _LAST), each[0]))[:MOST]
    order = [step.key for _, step in needed]
    rows = [_row(number, step, order.index(step.key), around) for number, step in sorted(needed, key=_number)]
    return Answer(key, title, aside, tuple(rows), len(steps), steps[0][1].key if steps else "")


def _number(numbered: tuple[int, Step]) -> int:
    return numbered[0]


def _or_silence(answer: Answer, rows: Sequence[Row]) -> Answer:
    """With its protective reading where no step says anything."""
    if answer.rows:
        return answer
    return Answer(answer.key, answer.title, answer.aside, tuple(rows), 0, "")


def _no_doors(each: Each) -> Sequence[Row]:
    listed = list_at("access.doors")
    two = each.values.of("")("two_wheeled").value == "yes"
    said = "Two wheels: no doors to open." if two else sentence(listed.empty)
    return [Row("", 0, "", _NO_DOORS, (Said(said, State.NOT_STATED.value),))]


def _row(number: int, step: Step, rank: int, around: _Around) -> Row:
    title = _TITLES.get(step.id, step.do.removesuffix("."))
    lines = tuple(_lines(step, around))
    shape = around.shape(step)
    return Row(step.key, number, shape, title, lines, rank, "", True, around.ticks.get(step.key))


def _lines(step: Step, around: _Around) -> Iterator[Said]:
    facts = _FACTS.get(step.id, ())
    yield from (_fact(path.replace("[]", step.item), lead, around.each) for path, lead in facts)
    yield from (Said(text) for text in step.holds)
    if step.id in ("plug", "plug_any"):
        yield Said(around.port_condition())
    if not facts:
        parts = _PARTS.get(step.id, ("how",))
        lines = [line for part in parts for line in step.parts.get(part, ())]
        most = len(lines) if step.id == "doors" else len(parts)
        yield from (Said(line.text, line.state.value) for line in lines[:most])


def _fact(path: str, lead: str, each: Each) -> Said:
    fact = each.subject.fact(path)
    words = claim_words(attribute(path), fact)
    return Said(f"{lead}: {words}" if lead else sentence(words), fact.state.value)


def _zones(each: Each, numbered: Sequence[tuple[int, Step]]) -> Answer:
    """Blank is no permission: what is not stated has a row of its own, and so has all the rest."""
    cut, push = list(_listed(each, "structure.no_cut")), list(_listed(each, "structure.never_push"))
    at, levers = _key_of(numbered, "look_before_cut"), _key_of(numbered, "push_points")
    rows = [Row(at, 0, "", "", tuple(cut), 0, _fill(cut, "hatch"))]
    if cut[0].state != State.NOT_STATED.value:
        rows.append(Row(at, 0, "", _ELSEWHERE, (Said(_STRIP, State.NOT_STATED.value),), 2, "dots"))
    rows.insert(1, Row(levers, 0, "", _NEVER, tuple(push), 1, _fill(push, "lattice")))
    return Answer("no_cut", "Do not cut here", FRAME_SHORT, tuple(rows), len(cut) + len(push), at)


def _key_of(numbered: Sequence[tuple[int, Step]], id_: str) -> str:
    return next((step.key for _, step in numbered if step.id == id_), "")


def _fill(lines: Sequence[Said], fill: str) -> str:
    return "dots" if lines[0].state == State.NOT_STATED.value else fill


def _listed(each: Each, path: str) -> Iterator[Said]:
    """Every place of a list, left and right as one; its reading where it is empty."""
    listed = list_at(path)
    item, empty = f"{sentence(listed.item)}: ", f"{sentence(listed.label)}: "
    for at, (text, state, _) in enumerate(listed_lines(path, ("place",), each.subject, spot)):
        said = text.removeprefix(item).removeprefix(empty)
        yield Said(said if at else sentence(said), state.value)
