"""Cues as they are compared: what counts as the same, and how much of it was read. Rules in readings/README.md."""

from collections.abc import Iterable, Mapping
from typing import NamedTuple, Protocol

from catalog.resolve.cue import ASKED

# scene value -> what says more about the same: beside one of these it gives way.
SAYS_LESS: Mapping[str, frozenset[str]] = {
    "water": frozenset(("water_deep", "water_salt")),
    "damage": frozenset(f"damage_{place}" for place in ("front", "rear", "left", "right", "under", "roof")),
    "on_side": frozenset(("left_down", "right_down")),
    "rolled": frozenset(("left_down", "right_down", "on_side", "on_roof")),
    "casualty": frozenset(("danger_to_life",)),
}
_UNPLUGGED, _PLUGGED = ("combustion", "fuel_cell", "hybrid"), ("battery", "plug_in_hybrid")


class Key(NamedTuple):
    """What must be as annotated."""

    vehicle: str
    attribute: str
    values: tuple[str, ...]
    denied: bool


class Sayable(Protocol):
    """An annotated cue or one read."""

    @property
    def vehicle(self) -> str: ...
    @property
    def attribute(self) -> str: ...
    @property
    def values(self) -> tuple[str, ...]: ...
    @property
    def denied(self) -> bool: ...


def expanded(cues: Iterable[Sayable]) -> frozenset[Key]:
    """Cues as keys, two ways of saying the same made one."""
    made: set[Key] = set()
    for cue in cues:
        values, denied = _spelt(cue), cue.denied
        if cue.attribute == "propulsion" and values == _UNPLUGGED and not denied:
            values, denied = _PLUGGED, True
        sets = [(value,) for value in values] if denied else [values]
        made.update(Key(cue.vehicle, cue.attribute, one, denied) for one in sets)
    return frozenset(made)


def keys_of(cues: Iterable[Sayable]) -> frozenset[Key]:
    """Cues as they are compared: what says less than another has given way."""
    made = expanded(cues)
    return frozenset(
        key
        for key in made
        if key.attribute != "scene"
        or not any(key._replace(values=(more,)) in made for more in SAYS_LESS.get(key.values[0], ()))
    )


def _spelt(cue: Sayable) -> tuple[str, ...]:
    """Values with spaces in names left out and spans of years written out."""
    if cue.attribute == "name":
        return tuple(sorted({value.replace(" ", "") for value in cue.values}))
    if cue.attribute == "years":
        ends = [value.partition("-") for value in cue.values]
        years = {year for first, _, last in ends for year in range(int(first), int(last or first) + 1)}
        return tuple(str(year) for year in sorted(years))
    return tuple(sorted(set(cue.values)))


class Rates(NamedTuple):
    """Precision, recall and F1, with the number of annotated cues; NaN where there is nothing to count."""

    meant: int
    precision: float
    recall: float
    f1: float


def rates(pairs: Iterable[tuple[frozenset[Key], frozenset[Key]]]) -> Rates:
    """Over (annotated, read) sets, put together."""
    meant = found = right = 0
    for one, other in pairs:
        meant, found, right = meant + len(one), found + len(other), right + len(one & other)
    nan = float("nan")
    return Rates(
        meant,
        right / found if found else nan,
        right / meant if meant else nan,
        2 * right / (found + meant) if found + meant else nan,
    )


def only(keys: frozenset[Key], attributes: Iterable[str], vehicle: str | None = ASKED) -> frozenset[Key]:
    """The keys about some attributes; vehicle None for every vehicle."""
    wanted = frozenset(attributes)
    return frozenset(key for key in keys if key.attribute in wanted and vehicle in (None, key.vehicle))
