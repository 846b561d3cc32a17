"""Which vehicle it is taken for, and how sure, in a word; and what tells two apart."""

from catalog.domain.record import Identity
from catalog.plan.brief.model import BriefInput, BriefVehicle
from catalog.plan.brief.spoken import spoken_words
from catalog.plan.brief.wording import brief_words

_LONG = 4  # words of a name from which its make is left to the full text


def who_forms(asked: BriefInput) -> tuple[str, ...]:
    """Shortest form first, the second with the variant; each asks for the badge, each has its word of confidence."""
    words = brief_words()["who"]
    if not asked.vehicles:
        return (words["unknown"], words["unknown"], words["unknown_long"])
    first, rest = asked.vehicles[0], asked.vehicles[1:]
    lead = f"{_sure(first)} "
    if not rest:
        names = (_short(first.record.identity), _without_make(first.record.identity), first.title)
        return tuple(f"{lead}{name}, {words['confirm']}." for name in names)
    if len(rest) == 1:
        named = (_called_apart(first, rest[0]), _called_apart(rest[0], first))
        second = f"{_sure(rest[0]).lower()} {named[1]}" if first.sure.word else named[1]
        short = f"{lead}{_short(first.record.identity)} or 1 other, {words['confirm']}."
        return short, short, f"{lead}{named[0]}, {words['or']}{second}, {words['confirm']}."
    name = _short(first.record.identity)
    return (f"{lead}{name} or {len(rest)} others, {words['confirm']}.",)


def tell_forms(asked: BriefInput) -> tuple[str, ...]:
    """What shows which of two it is, where one sight decides."""
    if not asked.plan.branches or not all(branch.sight for branch in asked.plan.branches):
        return ("",)
    by_code = {vehicle.code: vehicle for vehicle in asked.vehicles}
    named = [by_code[branch.codes[0]] for branch in asked.plan.branches]
    first, other = named
    said = (
        f"{_called_apart(first, other)}: {asked.plan.branches[0].sight}",
        f"{_called_apart(other, first)}: {asked.plan.branches[1].sight}",
    )
    return "", f"{said[0]}. {said[1]}."


def called(identity: Identity) -> str:
    """A vehicle's name as it is said; a long one without its make."""
    return identity.title if spoken_words(identity.title) <= _LONG else _without_make(identity)


def _short(identity: Identity) -> str:
    """The model alone where a variant would make it long: the badge is read anyway."""
    name = _without_make(identity)
    return name if spoken_words(name) < _LONG else identity.model


def _without_make(identity: Identity) -> str:
    return f"{identity.model} {identity.variant}" if identity.variant else identity.model


def _called_apart(one: BriefVehicle, other: BriefVehicle) -> str:
    """With its model years where both have the same name."""
    name = called(one.record.identity)
    if name != called(other.record.identity):
        return name
    years = one.record.identity.years
    return f"{name} {years.since} on" if years.until is None else f"{name} {years.since} to {years.until}"


def _sure(vehicle: BriefVehicle) -> str:
    words = brief_words()["who"]
    return str(words["sure"].get(vehicle.sure.word, vehicle.sure.word) if vehicle.sure.word else words["named"])
