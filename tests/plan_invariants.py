"""What must hold of any steps in any scene. Each check names the rule of the trade it stands for.

The fields and ids are written out here and not taken from the engine, so that a slip there is seen.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace

from catalog.domain.facts import State
from catalog.domain.record import Record, attribute_at
from catalog.domain.spec.nodes import Role
from catalog.plan.claims import claims
from catalog.plan.scene import Said, Scene
from catalog.plan.several import SeveralPlan
from catalog.plan.steps import Plan, plan_for

HOLD = ("chock", "chock_cycle", "hold_lying")
ATTACH = ("port_open", "plug", "plug_any")
CUT = ("cut_power_off", "cut_loop", "cut_disconnect", "cut_fuse", "cut_switch", "cut_low_voltage", "cut_way", "cut_any")
KEEPS_OFF_THE_PORT = {
    "fire": "no fire or smoke",
    "jet": "no vapour, hiss or smell",
    "vapour": "no vapour, hiss or smell",
    "hiss": "no vapour, hiss or smell",
    "pop": "no vapour, hiss or smell",
    "odour": "no vapour, hiss or smell",
    "water": "not in water",
    "water_deep": "not in water",
    "water_salt": "not in water",
    "port_damaged": "port not crushed, burnt or wet inside",
    "charger_attached": "nothing plugged in",
    "orange_cable": "no bare orange cable",
    "cut_off_done": "high voltage not cut off yet",
}
CONFIRMED = ("pack_damage", "sill_damage", "cutting_planned", "vapour", "airbags", "trapped", "danger_to_life", "fire")


@dataclass(frozen=True, slots=True)
class Tried:
    """One plan with what it was made for."""

    plan: Plan
    record: Record | None
    scene: Scene

    def at(self, *ids: str) -> tuple[int, ...]:
        """Where steps of these ids stand."""
        return tuple(number for number, step in enumerate(self.plan.steps) if step.id in ids)

    def is_(self, field: str, *values: str) -> bool:
        return self.scene.said(field) in values


Check = Callable[[Tried], Iterator[str]]


def side_and_chock_first(tried: Tried) -> Iterator[str]:
    """Chock, and the approach from the side, come before anything else in stop motion."""
    motion = [step for step in tried.plan.steps if step.phase == "motion"]
    if not motion or motion[0].id not in HOLD:
        yield f"stop motion begins with {motion[0].id if motion else 'nothing'}"
    side = tried.at("approach_side")
    first = next(number for number, step in enumerate(tried.plan.steps) if step.phase == "motion")
    if not side or side[0] > first:
        yield "the approach from the side is not before stop motion"


def port_after_chock_and_park(tried: Tried) -> Iterator[str]:
    """Nothing at a port before chock, park and power off."""
    for number in tried.at(*ATTACH):
        for ids in (HOLD, ("park", "park_cycle"), ("power_off",)):
            if not any(at < number for at in tried.at(*ids)):
                yield f"{tried.plan.steps[number].key} without {ids[0]} before it"


def nothing_attached_where_it_must_not(tried: Tried) -> Iterator[str]:
    """Nothing at the port with fire, smoke, damage, occupation, water, or after cutting off; unknown is said."""
    for number in tried.at(*ATTACH):
        step = tried.plan.steps[number]
        for field, words in KEEPS_OFF_THE_PORT.items():
            if tried.is_(field, "yes"):
                yield f"{step.key} although {field}"
            if tried.is_(field, "unknown") and words not in step.only_if:
                yield f"{step.key} does not say: only if {words}"


def plug_is_not_cutting_off(tried: Tried) -> Iterator[str]:
    """A plug, offered or accepted, never counts as high voltage off nor as holding the vehicle."""
    for step in tried.plan.steps:
        if step.id in ("plug", "plug_any", "plug_accepted"):
            said = " ".join(step.part("not"))
            if "does not cut high voltage off" not in said or "hocks stay in" not in said:
                yield f"{step.key} does not say what it does not do"
    if tried.is_("plug_accepted", "yes"):
        without = plan_for(tried.record, tried.scene.having(plug_accepted="no"))
        lost = {step.key for step in without.steps if step.phase == "cutoff"} - {"link_drop"}
        lost -= {step.key for step in tried.plan.steps}
        if lost or not tried.at(*HOLD):
            yield f"an accepted plug takes away {sorted(lost)}"


def coupler_out_brings_the_caution_back(tried: Tried) -> Iterator[str]:
    """After the coupler was removed the motion caution returns."""
    if tried.is_("coupler_removed", "yes") and "can_drive_again" not in tried.plan.cautions:
        yield "the coupler came out, and nothing says that it can drive again"


def link_drop_announced(tried: Tried) -> Iterator[str]:
    """The drop of the link at the port is announced before the cut, as expected."""
    cuts = tried.at(*(id_ for id_ in CUT if id_ != "cut_power_off"))
    mated = tried.is_("plug_accepted", "yes", "unknown") or tried.is_("charger_attached", "yes", "unknown")
    no_port = tried.record is not None and tried.record.identity.propulsion in ("hybrid", "combustion")
    if cuts and (mated or tried.at("plug")) and not no_port:
        said = tried.at("link_drop")
        if not said or said[0] > cuts[0]:
            yield "the drop of the link is not announced before the cut"


def motorised_door_gets_the_wedge(tried: Tried) -> Iterator[str]:
    """A motorised door without 12 V gets the wedge."""
    if tried.is_("power_alive", "yes") or tried.record is None:
        return
    for number in tried.at("plug"):
        step = tried.plan.steps[number]
        motorised = "motorised" in tried.record.fact(f"{step.item}.door.mechanism").values()
        opened = [s for s in tried.plan.steps[:number] if s.id == "port_open" and s.item == step.item]
        if motorised and not (opened and "Plastic wedge" in opened[0].part("tool")):
            yield f"{step.key}: no wedge for the motorised door"


def airbags_prove_nothing(tried: Tried) -> Iterator[str]:
    """Fired airbags conclude nothing about the pyro-fuse."""
    said = tried.plan.cautions
    record = tried.record
    engine = record is not None and record.identity.propulsion == "combustion" and tried.is_("converted", "no")
    absent = record is not None and record.fact("energy.pyro_fuse.fitted").state == "not_fitted"
    if not absent and not engine and "pyro_proves_nothing" not in said:
        yield "nothing says that airbags prove nothing about the pyro-fuse"
    if tried.is_("airbags", "yes"):
        without = plan_for(tried.record, tried.scene.having(airbags="unknown"))
        lost = {step.key for step in without.steps} - {step.key for step in tried.plan.steps} - {"look_first"}
        if lost:
            yield f"fired airbags take away {sorted(lost)}"


def cutting_has_its_wait(tried: Tried) -> Iterator[str]:
    """Every cutting-off step has its wait, or says not stated: treat as live; and what goes on meanwhile."""
    for step in tried.plan.steps:
        if step.id in (*CUT, "cut_sources", "restraint_wait"):
            wait, meanwhile = " ".join(step.part("wait")).lower(), step.part("meanwhile")
            unsaid = "not stated" in wait and not ("treat as live" in wait or "treat as armed" in wait)
            if not wait or unsaid or not meanwhile:
                yield f"{step.key} has no wait, or nothing meanwhile"


def life_never_waits(tried: Tried) -> Iterator[str]:
    """Immediate danger to life: said before every wait, and no wait delays removal."""
    waits = [(number, step) for number, step in enumerate(tried.plan.steps) if step.part("wait")]
    for _, step in waits:
        if "Removal never waits." not in " ".join(step.part("meanwhile")):
            yield f"{step.key}: its wait may delay removal"
    if tried.is_("danger_to_life", "yes"):
        first = tried.at("life_first")
        if not first or (waits and waits[0][0] < first[0]):
            yield "life is not first"
    elif tried.is_("danger_to_life", "unknown") and "life_first" not in tried.plan.cautions:
        yield "nothing says that life is first"


def cutting_off_dropped_when_confirmed(tried: Tried) -> Iterator[str]:
    """Cutting off is left out of a medical scene only where everything is confirmed absent."""
    confirmed = tried.is_("casualty", "yes") and all(tried.is_(field, "no") for field in CONFIRMED)
    if tried.at("cut_not_needed") and not confirmed:
        yield "cutting off is left out although not everything is confirmed absent"
    electric = tried.record is None or tried.record.identity.propulsion != "combustion"
    if electric and not tried.at("cut_not_needed", *CUT, "cut_out_of_reach"):
        yield "nothing cuts high voltage off, and nothing says why"


def nothing_claimed(tried: Tried) -> Iterator[str]:
    """No step says safe, dead, zero or off as a fact; nor does what it says from a guide."""
    for step in tried.plan.steps:
        for text in step.texts():
            yield from (f"{step.key} states {claim!r}: {text}" for claim in claims(text))


def every_step_says_why_it_may(tried: Tried) -> Iterator[str]:
    """Every step names what it rests on."""
    yield from (f"{step.key} names no source" for step in tried.plan.steps if not step.sources)


CHECKS: Mapping[str, Check] = {
    check.__name__: check
    for check in (
        side_and_chock_first, port_after_chock_and_park, nothing_attached_where_it_must_not, plug_is_not_cutting_off,
        coupler_out_brings_the_caution_back, link_drop_announced, motorised_door_gets_the_wedge,
        airbags_prove_nothing, cutting_has_its_wait, life_never_waits, cutting_off_dropped_when_confirmed,
        nothing_claimed, every_step_says_why_it_may,
    )
}  # fmt: skip


def broken(record: Record | None, scene: Scene) -> Iterator[tuple[str, str]]:
    """(check, what is wrong) of the steps of one record in one scene."""
    tried = Tried(plan_for(record, scene), record, scene)
    for name, check in CHECKS.items():
        yield from ((name, fault) for fault in check(tried))


def contradicts_itself(scene: Scene) -> bool:
    """Deep or salt water where there is no water."""
    return scene.said("water") is Said.NO and Said.YES in (scene.said("water_deep"), scene.said("water_salt"))


def unknown_takes_nothing(record: Record | None, scene: Scene, fields: tuple[str, ...]) -> Iterator[str]:
    """Unknown scene values never remove a caution: not knowing warns of all that knowing would.

    Of a conversion the caution itself sends to the steps for any vehicle, which hold the others.
    """
    said = plan_for(record, scene).cautions
    for field in fields:
        if scene.said(field) is Said.UNKNOWN or contradicts_itself(scene):
            continue
        without = scene.having(**{field: "unknown"})
        kept = set(plan_for(record, without).cautions)
        if field == "converted" and "converted" in kept:
            kept |= set(plan_for(None, without).cautions)
        lost = set(said) - kept
        if lost:
            yield f"{field} unknown instead of {scene.said(field)} takes away {sorted(lost)}"


# Steps that are an aid themselves: without it there is nothing to do there.
IS_THE_AID = {"plug", "port_open", "plug_none_fits", "air_doors", "link_drop", "plug_is_drive_only"}


def silence_takes_nothing(record: Record, scene: Scene, every: int = 1, start: int = 0) -> Iterator[str]:
    """A not-stated aid never removes, shortens or replaces a step. every, start: which of the aids are taken out."""
    before = plan_for(record, scene)
    for path in list(_aids(record))[start % every :: every]:
        facts = {key: fact for key, fact in record.facts.items() if key != path}
        after = plan_for(replace(record, facts=facts), scene)
        lost = {step.id for step in before.steps} - {step.id for step in after.steps} - IS_THE_AID
        if path.endswith(".kind"):  # the way is still there, of a kind that is not stated
            lost = lost - set(CUT) if any(step.id == "cut_way" for step in after.steps) else lost
        if lost:
            yield f"without {path}: {sorted(lost)} gone"
        if len(after.steps) < len(before.steps) - sum(step.id in IS_THE_AID for step in before.steps):
            yield f"without {path}: fewer steps"
        cautions = set(before.cautions) - set(after.cautions) - IS_THE_AID
        if cautions:
            yield f"without {path}: {sorted(cautions)} not said"


def _aids(record: Record) -> Iterator[str]:
    for path, fact in record.facts.items():
        if attribute_at(path).role is Role.AID and fact.state is not State.NOT_STATED:
            yield path


def wrong_without_a_word(several: SeveralPlan, record: Record, scene: Scene) -> Iterator[str]:
    """Steps that hold otherwise for one possible vehicle, and do not say that they differ."""
    own = plan_for(record, scene)
    said: dict[str, list[tuple[str, ...]]] = {}
    for step in own.steps:
        said.setdefault(step.id, []).append(step.texts())
    general = {step.id for step in plan_for(None, scene).steps}
    for step in several.plan.steps:
        if step.id == "tell_apart" or step.differs:
            continue
        if step.id not in said and step.id in general:
            continue  # holds for any vehicle
        if step.texts() not in said.get(step.id, []):
            yield f"{step.key} reads otherwise on this vehicle"
    yield from (f"{id_} is missing" for id_ in said if all(step.id != id_ for step in several.plan.steps))
    lost = set(own.cautions) - set(several.plan.cautions)
    yield from (f"the caution {caution} is missing" for caution in lost)
