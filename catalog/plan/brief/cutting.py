"""Where high voltage is cut off, and how long to wait: of several vehicles what all say, or what differs by name."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from catalog.domain.facts import Fact, State
from catalog.domain.places import Place
from catalog.domain.wording import duration
from catalog.plan.brief.places import OWN, place_said, zone_said
from catalog.plan.brief.vehicles import Each
from catalog.plan.brief.wording import brief_words
from catalog.plan.conditions import holds
from catalog.plan.scene import Said
from catalog.plan.steps import Step

_NAMED = 2  # places that differ and are still said


@dataclass(frozen=True, slots=True)
class Wait:
    """longest: in seconds, None where nobody states one. all_stated: every way, or every vehicle, states it plainly."""

    longest: int | None
    all_stated: bool


def cut_forms(each: Sequence[Each]) -> tuple[str, ...]:
    """Where to cut and how long to wait after it, shortest form first: that one is the wait alone.

    Two lines where both are said.
    """
    if not_needed(each):
        return tuple(brief_words()["wait"]["not_needed"])
    ways = [way for one in each for way in _first_way(one)]
    places = list(dict.fromkeys(way.place for way in ways if way is not None))
    then = wait_words(each, "after")
    if len(places) > 1 or (places and None in ways):
        told = [] if None in ways or len(places) > _NAMED else _apart(places)
        return (wait_words(each, "differs"), *(f"{brief_words()['cut']['differs']} {said}.\n{then}" for said in told))
    told = _alike([way for way in ways if way is not None], each) if places else [brief_words()["cut"]["no_place"]]
    return (wait_words(each, "alone"), *(f"{said}\n{then}" for said in told))


def _apart(places: Sequence[Place]) -> Sequence[str]:
    """Two places, shortest form first: by their zones, where these differ, then with their landmarks."""
    zones = [zone_said(place) for place in places]
    whole = " or ".join(place_said(place) for place in places)
    return [whole] if zones[0] == zones[1] else [f"{zones[0]} or {zones[1].removeprefix(OWN)}", whole]


def _alike(ways: Sequence["_Way"], each: Sequence[Each]) -> Sequence[str]:
    """One place on all, shortest form first."""
    words, before = brief_words()["cut"], _before(each)
    kinds, cuts = {way.kind for way in ways}, {way.cuts for way in ways}
    lead = words["kinds"][kinds.pop()] if len(kinds) == 1 else words["any_kind"]
    said = f"{before}{lead[0].lower() + lead[1:] if before else lead}: "
    zone, place = zone_said(ways[0].place), place_said(ways[0].place)
    counted = cuts.pop() if len(cuts) == 1 else ""
    return [f"{said}{where}." for where in (zone, place, f"{place}, {counted}") if counted or where != f"{place}, "]


def not_needed(each: Sequence[Each]) -> bool:
    """Nothing but a medical case, each thing that calls for cutting off confirmed absent."""
    return all(one.values.of("")("cut_off_not_needed") is Said.YES for one in each)


def wait_words(each: Sequence[Each], lead: str) -> str:
    """How long to wait after cutting off. What nobody states says: treat as live."""
    words, wait = brief_words()["wait"], wait_of(each)
    how = {None: "not_stated", 0: "none_asked"}.get(wait.longest, "stated" if wait.all_stated else "some")
    return str(words[lead][how].replace("{wait}", duration(wait.longest or 0)))


def airbag_forms(each: Sequence[Each]) -> tuple[str, ...]:
    """The wait after the last source is gone, where anybody states one."""
    words = brief_words()["airbags"]
    facts = [one.subject.fact("restraints.wait") for one in each]
    wait = _wait(facts)
    if not wait.longest:
        return ("", words["not_stated"])
    said = words["stated" if wait.all_stated else "some"]
    return ("", said.replace("{wait}", duration(wait.longest)))


def wait_of(each: Sequence[Each]) -> Wait:
    """Over every way of cutting off that can be reached, on every vehicle; the longer where guides disagree.

    Switching off counts only where it is the one way there is.
    """
    ways = [(one, [step for step in _ways(one) if step.id != "cut_power_off"] or list(_ways(one))) for one in each]
    wait = _wait([one.subject.fact(f"{step.item}.wait") for one, steps in ways for step in steps])
    return Wait(wait.longest, wait.all_stated and all(steps for _, steps in ways))


@dataclass(frozen=True, slots=True)
class _Way:
    """cuts: "2 cuts", "" where nobody says."""

    kind: str
    place: Place
    cuts: str


def _ways(one: Each) -> Iterator[Step]:
    return (step for step in one.steps("cut_") if step.item and step.id != "cut_out_of_reach")


def _first_way(one: Each) -> Sequence[_Way | None]:
    """The first in the guide's order that is more than switching off: once, or once a place where guides disagree.

    None where there is none, or its kind or place is not stated.
    """
    step = next((step for step in _ways(one) if step.id != "cut_power_off"), None)
    if step is None:
        return (None,)
    kind, fact = str(one.subject.plainly(f"{step.item}.kind")), one.subject.fact(f"{step.item}.place")
    places = [place for place in fact.values() if isinstance(place, Place)]
    if fact.state not in (State.STATED, State.DISPUTED) or kind not in brief_words()["cut"]["kinds"]:
        return (None,)
    cuts = one.subject.plainly(f"{step.item}.cuts")
    said = "" if cuts is None else f"{cuts} {'cut' if cuts == 1 else 'cuts'}"
    return [_Way(kind, place, said) for place in places]


def _before(each: Sequence[Each]) -> str:
    """A condition that goes before any cutting in this scene."""
    for row in brief_words()["cut"]["before"]:
        if all(holds(row["when"], one.values.of("")) is Said.YES for one in each):
            return str(row["say"])
    return ""


def _wait(facts: Sequence[Fact]) -> Wait:
    stated = [value for fact in facts for value in fact.values() if isinstance(value, int)]
    plainly = bool(facts) and all(fact.state in (State.STATED, State.DISPUTED) for fact in facts)
    return Wait(max(stated, default=None), plainly)
