"""Derived facts of one port or of one way of cutting high voltage off."""

from collections.abc import Mapping

from catalog.domain.places import Place
from catalog.plan.conditions import ValueOf
from catalog.plan.derived import OF_SCENE, SCENE_NAMES, Case, Function, off_its_wheels
from catalog.plan.derived_vehicle import OF_VEHICLE, takes_carried
from catalog.plan.scene import Said, Scene, both, opposite
from catalog.plan.subject import Subject

_AT_WHEEL = frozenset({"above_wheel", "behind_wheel", "ahead_of_wheel", "in_wheel_arch"})
_FACES = frozenset({"front_face", "rear_face"})
_QUARTERS = frozenset({"front_quarter", "rear_quarter"})
_BY_HAND = frozenset({"push_to_open", "pull_edge", "sliding", "hinged_badge", "hinged_lamp", "hinged_plate", "cap"})
# Field of the scene -> the word that says a way can still be reached then.
_POSTURES = {"left_down": "left_down", "right_down": "right_down", "on_roof": "roof"}
_CRUSHED = {"damage_front": "front_crushed", "damage_rear": "rear_crushed", "damage_left": "left_crushed",
            "damage_right": "right_crushed"}  # fmt: skip


def port_in_its_path(case: Case) -> Said:
    """At the front or rear face, beside a wheel, or who knows where."""
    places = [place for place in case.subject.said(f"{case.item}.place") if isinstance(place, Place)]
    stated = case.subject.plainly(f"{case.item}.place") is not None
    return Said.of(not stated or any(_in_path(place) for place in places))


def _in_path(place: Place) -> bool:
    return place.end in _FACES | _QUARTERS or place.landmark in _AT_WHEEL


def port_door_needs_power(case: Case) -> Said:
    """A motorised or inside-released door; also where nobody says how it opens, or guides disagree."""
    return Said.of(str(case.subject.plainly(f"{case.item}.door.mechanism")) not in _BY_HAND)


def port_takes_carried(case: Case) -> Said:
    return takes_carried(case, case.item)


def _standard(key: str) -> Function:
    def is_standard(case: Case) -> Said:
        return Said.of(case.subject.plainly(f"{case.item}.standard") == key)

    return is_standard


def way_reachable(case: Case) -> Said:
    """In the posture and damage of the scene. Not stated is unknown: try it, but do not count on it."""
    stated = case.subject.plainly(f"{case.item}.reachable_when")
    if not isinstance(stated, tuple):
        return Said.UNKNOWN
    needs = [
        _reach(case.scene.said(field), word in stated)
        for table in (_POSTURES, _CRUSHED)
        for field, word in table.items()
    ]
    return both((*needs, _reach(opposite(off_its_wheels(case)), "wheels" in stated)))


def _reach(so: Said, reachable: bool) -> Said:
    """Whether it can be reached as far as one posture or damage goes."""
    if reachable or so is Said.NO:
        return Said.YES
    return Said.NO if so is Said.YES else Said.UNKNOWN


def _kind(*kinds: str) -> Function:
    def is_kind(case: Case) -> Said:
        return Said.of(str(case.subject.plainly(f"{case.item}.kind")) in kinds)

    return is_kind


ONCE: Mapping[str, Function] = {**OF_SCENE, **OF_VEHICLE}
PORT: Mapping[str, Function] = {
    "port_in_its_path": port_in_its_path,
    "port_door_needs_power": port_door_needs_power,
    "port_takes_carried": port_takes_carried,
    "port_is_ccs1": _standard("ccs1"),
    "port_is_ccs2": _standard("ccs2"),
}
METHOD: Mapping[str, Function] = {
    "way_reachable": way_reachable,
    "way_is_loop": _kind("lv_cut_loop"),
    "way_is_disconnect": _kind("service_disconnect"),
    "way_is_low_voltage": _kind("lv_negative"),
    "way_is_fuse": _kind("fuse"),
    "way_is_switch": _kind("switch"),
    "way_is_power_off": _kind("power_off"),
    "way_not_stated": _kind("None"),
}
PER: Mapping[str, tuple[str, Mapping[str, Function]]] = {
    "once": ("", {}),
    "port": ("ports", PORT),
    "method": ("cutoff.methods", METHOD),
    "pack": ("energy.packs", {}),
}
# What each derived fact is called when it is one of the things still to be made sure of.
OPEN_WORDS: Mapping[str, Mapping[Said, str]] = {
    "link_may_drop": {Said.YES: "something is plugged in", Said.NO: "nothing is plugged in"},
    "port_takes_carried": {Said.YES: "a coupler on board fits", Said.NO: "no coupler on board fits"},
    "way_reachable": {Said.YES: "it can be reached as it lies", Said.NO: "it cannot be reached as it lies"},
}


def names_for(per: str) -> frozenset[str]:
    """What a rule of a kind may test."""
    return SCENE_NAMES | frozenset(ONCE) | frozenset(PER[per][1])


class Values:
    """What a rule may test on one vehicle in one scene; each derived fact is worked out once."""

    def __init__(self, subject: Subject, scene: Scene) -> None:
        self._subject = subject
        self._scene = scene
        self._known: dict[tuple[str, str], Said] = {}

    def of(self, item: str) -> ValueOf:
        """Values by name for one port or way, or ("") for the vehicle. Raises KeyError for another name."""
        return lambda name: self._value(item, name)

    def _value(self, item: str, name: str) -> Said:
        if name in SCENE_NAMES:
            return self._scene.said(name)
        at = "" if name in ONCE else item
        if (at, name) not in self._known:
            function = ONCE.get(name) or PORT.get(name) or METHOD[name]
            self._known[at, name] = function(Case(self._subject, self._scene, at))
        return self._known[at, name]
