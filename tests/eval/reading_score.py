"""What of a description was read as annotated: cues, sides, masks. Rules in tests/eval/readings/README.md."""

import time
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple, Protocol

from catalog.domain.folding import fold
from catalog.resolve.cue import ASKED, Cue, Span
from catalog.resolve.lexicon import Lexicon
from catalog.resolve.reading import read
from tests.eval.reading_sets import Line
from tests.eval.reading_values import PLACES

# scene value -> what says more about the same: beside one of these it gives way.
SAYS_LESS: Mapping[str, frozenset[str]] = {
    "water": frozenset(("water_deep", "water_salt")),
    "damage": frozenset(f"damage_{place}" for place in ("front", "rear", "left", "right", "under", "roof")),
    "on_side": frozenset(("left_down", "right_down")),
    "rolled": frozenset(("left_down", "right_down", "on_side", "on_roof")),
    "casualty": frozenset(("danger_to_life",)),
}
_UNPLUGGED, _PLUGGED = ("combustion", "fuel_cell", "hybrid"), ("battery", "plug_in_hybrid")
_SCENE_SIDES = {"left_down": "left", "right_down": "right", "damage_left": "left", "damage_right": "right"}
_OTHER = {"left": "right", "right": "left"}


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


@dataclass(frozen=True, slots=True)
class Result:
    """A line and what was read of it.

    seconds: of reading. flips: sides turned round. bare: annotated strings not masked. beside: spans
    masked that hold no annotated string.
    """

    line: Line
    cues: tuple[Cue, ...]
    meant: frozenset[Key]
    found: frozenset[Key]
    seconds: float
    flips: tuple[str, ...]
    bare: tuple[str, ...]
    beside: int


def measure(line: Line, lexicon: Lexicon) -> Result:
    """Read a line once and compare."""
    started = time.perf_counter()
    reading = read(line.text, lexicon, line.driving_side)
    seconds = time.perf_counter() - started
    meant, found = keys_of(line.said), keys_of(reading.cues)
    return Result(
        line=line,
        cues=reading.cues,
        meant=meant,
        found=found,
        seconds=seconds,
        flips=flips(meant, found),
        bare=unmasked(line.text, line.masked, reading.masked, reading.cues),
        beside=sum(not any(s in line.text[span.start : span.end] for s in line.masked) for span in reading.masked),
    )


def flips(meant: frozenset[Key], found: frozenset[Key]) -> tuple[str, ...]:
    """As in "port_place: left read as right", once for each vehicle and attribute."""
    made = []
    for attribute in (*PLACES, "scene"):
        for vehicle in sorted({key.vehicle for key in meant}):
            said, heard = (_sides(keys, vehicle, attribute) for keys in (meant, found))
            denied, unheard = (_sides(keys, vehicle, attribute, denied=True) for keys in (meant, found))
            if len(said) == 1 and (_OTHER[min(said)] in heard and not said & heard):
                made.append(f"{attribute}: {min(said)} read as {_OTHER[min(said)]}")
            elif (denied - said) & heard:
                made.append(f"{attribute}: not {min((denied - said) & heard)} read as stated")
            elif said & (unheard - heard):
                made.append(f"{attribute}: {min(said & (unheard - heard))} read as denied")
    return tuple(made)


def has_sides(result: Result) -> bool:
    """Whether a side was annotated, so that it could have been turned round."""
    return any(
        _sides(result.meant, key.vehicle, attribute, denied)
        for key in result.meant
        for attribute in (*PLACES, "scene")
        for denied in (False, True)
    )


def _sides(keys: frozenset[Key], vehicle: str, attribute: str, denied: bool = False) -> frozenset[str]:
    values = [v for k in keys if (k.vehicle, k.attribute, k.denied) == (vehicle, attribute, denied) for v in k.values]
    sides = (_SCENE_SIDES.get(value, "") if attribute == "scene" else value.partition("|")[0] for value in values)
    return frozenset(side for side in sides if side in _OTHER)


def unmasked(text: str, masked: Sequence[str], spans: Sequence[Span], cues: Sequence[Cue]) -> tuple[str, ...]:
    """The annotated strings that are seen somewhere, or that a cue heard.

    A string annotated n times must be wholly masked at n of the places where it stands.
    """
    covered = {at for span in spans for at in range(span.start, span.end)}
    heard = {at for cue in cues for span in cue.spans for at in range(span.start, span.end)}
    faults = []
    for string, times in Counter(masked).items():
        places = [range(at, at + len(string)) for at in range(len(text)) if text.startswith(string, at)]
        hidden = [place for place in places if covered.issuperset(place)]
        if len(hidden) < times or any(heard.intersection(place) for place in hidden):
            faults.append(string)
    return tuple(faults)


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


def distinct_share(texts: Iterable[str], size: int = 4) -> float:
    """Distinct runs of `size` folded words over all runs; NaN without any."""
    runs: Counter[tuple[str, ...]] = Counter()
    for text in texts:
        words = fold(text).split()
        runs.update(tuple(words[at : at + size]) for at in range(len(words) - size + 1))
    return len(runs) / runs.total() if runs else float("nan")
