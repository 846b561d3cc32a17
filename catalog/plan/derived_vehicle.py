"""Derived facts of the vehicle, each yes, no or unknown.

A hazard that a record does not state is there, an aid is not. Without a record they are unknown.
"""

from collections.abc import Mapping

from catalog.domain.facts import State
from catalog.plan.derived import Case, Function, any_of, port_ruled_out
from catalog.plan.scene import Said, both, either, fitting, opposite

_HEAVY = frozenset({"M2", "M3", "N2", "N3"})
_TWO_WHEELED = frozenset({"L1", "L3"})
_GAS = frozenset({"cng", "lpg", "lng", "hydrogen"})
_NOT_BY_HAND = frozenset({"flush", "hidden", "none", "button"})


def _of_record(case: Case, value: bool) -> Said:
    """A fact of the vehicle; unknown without a record."""
    return Said.UNKNOWN if case.subject.record is None else Said.of(value)


def traction_pack(case: Case) -> Said:
    """Taken as there; no only for an engine vehicle that is known not to be converted."""
    if case.subject.propulsion != "combustion" or case.subject.items("energy.packs"):
        return Said.YES
    return case.scene.said("converted")


def plugs_in(case: Case) -> Said:
    """May have a charge port."""
    never = case.subject.propulsion in ("hybrid", "combustion") and not case.subject.items("ports")
    return _of_record(case, not never)


def refuses_drive(case: Case) -> Said:
    """Stated, undisputed, that it refuses its own drive while a coupler is mated."""
    return _of_record(case, case.subject.plainly("motion.coupled.refuses_drive") is True)


def no_coupler_fits(case: Case) -> Said:
    """Known what is carried and what every port takes, and nothing fits."""
    ports = case.subject.items("ports")
    if not ports:
        return Said.UNKNOWN
    return both(opposite(takes_carried(case, port)) for port in ports)


def takes_carried(case: Case, port: str) -> Said:
    """Whether a coupler on board fits a port's standard."""
    standard = case.subject.plainly(f"{port}.standard")
    if standard is None:
        return Said.UNKNOWN
    couplers = fitting(str(standard))
    if couplers and case.scene.carried is None:
        return Said.UNKNOWN
    return Said.of(not couplers.isdisjoint(case.scene.carried or ()))


def plug_may_be_refused(case: Case) -> Said:
    """By a pyro-fuse: no only where none is fitted, or where it is stated to do nothing to the port."""
    harmless = case.subject.plainly("energy.pyro_fuse.port_effect") == "no_effect"
    return both((pyro_fuse(case), _of_record(case, not harmless)))


def pyro_fuse(case: Case) -> Said:
    return case.subject.hazard("energy.pyro_fuse.fitted")


def link_may_drop(case: Case) -> Said:
    """Something may be mated at a port when high voltage is cut off."""
    mated = any_of(case, "plug_accepted", "charger_attached")
    offered = both((opposite(port_ruled_out(case)), refuses_drive(case), opposite(case.scene.said("plug_refused"))))
    return both((plugs_in(case), either((mated, offered))))


def park_may_release(case: Case) -> Said:
    return _of_record(case, case.subject.plainly("motion.park_without_12v") not in ("stays", "engages"))


def doors_need_power(case: Case) -> Said:
    """Handles, or what a way of cutting off does, make it likely that doors stop with the 12 V."""
    effects = [case.subject.fact(f"{way}.effects") for way in case.subject.items("cutoff.methods")]
    words = {word for fact in effects for value in fact.values() if isinstance(value, tuple) for word in value}
    silent = not effects or any(fact.state is not State.STATED for fact in effects)
    by_power = not _NOT_BY_HAND.isdisjoint(str(value) for value in case.subject.said("looks.handles"))
    return _of_record(case, silent or by_power or "doors_lock" in words)


def engine_may_start(case: Case) -> Said:
    """Battery vehicles and fuel cells have no engine unless a guide speaks of one."""
    path = "motion.engine_autostart"
    silent = case.subject.fact(path).state is State.NOT_STATED
    if silent and case.subject.propulsion in ("battery", "fuel_cell"):
        return Said.NO
    return case.subject.hazard(path)


def gas_on_board(case: Case) -> Said:
    """Gas or hydrogen, or a tank of which nobody says what it holds."""
    if case.subject.record is None or case.subject.converted:
        return Said.UNKNOWN
    tanks = [case.subject.fact(f"{tank}.fuel") for tank in case.subject.items("energy.tanks")]
    gas = any(fact.state is not State.STATED or str(fact.value) in _GAS for fact in tanks)
    silent = not tanks and case.subject.propulsion != "battery"
    return Said.of(gas or silent or case.subject.propulsion == "fuel_cell")


def sockets_may_be_live(case: Case) -> Said:
    return case.subject.hazard("energy.outlets")


def roof_may_be_live(case: Case) -> Said:
    return case.subject.hazard("energy.roof_rails")


def heavy(case: Case) -> Said:
    return _of_record(case, case.subject.category in _HEAVY)


def two_wheeled(case: Case) -> Said:
    return _of_record(case, case.subject.category in _TWO_WHEELED)


def suspension_may_move(case: Case) -> Said:
    air = both((heavy(case), case.subject.hazard("heavy.air_suspension")))
    return either((case.subject.hazard("motion.self_moving_suspension"), air))


def air_brakes(case: Case) -> Said:
    return both((heavy(case), case.subject.hazard("heavy.air_brakes")))


def tilting_cab(case: Case) -> Said:
    return both((heavy(case), case.subject.hazard("heavy.tilting_cab")))


def air_doors(case: Case) -> Said:
    """Some guide states a release for doors that are held by air."""
    return _of_record(case, bool(case.subject.said("heavy.door_air_release")))


def powered_body(case: Case) -> Said:
    return both((heavy(case), case.subject.hazard("heavy.powered_body")))


def more_packs(case: Case) -> Said:
    """Several packs, a pack of a house or a body, or one that lifts out."""
    packs = case.subject.items("energy.packs")
    roles = {str(case.subject.plainly(f"{pack}.role")) for pack in packs}
    several = len(packs) > 1 or bool(roles - {"traction", "None"})
    removable = any(case.subject.plainly(f"{pack}.removable") is True for pack in packs)
    return _of_record(case, several or removable or (heavy(case) is Said.YES and not packs))


def second_source(case: Case) -> Said:
    """More than one 12 or 48 V source; no only where a complete list holds one."""
    known = case.subject.record is not None and "energy.low_voltage" in case.subject.record.complete
    return _of_record(case, not known or len(case.subject.items("energy.low_voltage")) != 1)


def guide_silent(case: Case) -> Said:
    """No way of cutting high voltage off to go by; so for any vehicle."""
    return Said.of(not case.subject.items("cutoff.methods"))


OF_VEHICLE: Mapping[str, Function] = {
    function.__name__: function
    for function in (
        traction_pack, plugs_in, refuses_drive, no_coupler_fits, plug_may_be_refused, pyro_fuse, link_may_drop,
        park_may_release, doors_need_power, engine_may_start, gas_on_board, sockets_may_be_live, roof_may_be_live,
        heavy, two_wheeled, suspension_may_move, air_brakes, tilting_cab, air_doors, powered_body, more_packs,
        second_source, guide_silent,
    )
}  # fmt: skip
