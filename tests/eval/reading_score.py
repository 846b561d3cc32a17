"""What of a description was read as annotated: cues, sides, masks. Rules in tests/eval/readings/README.md."""

import time
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from catalog.domain.folding import fold
from catalog.resolve.cue import Cue, Span
from catalog.resolve.lexicon import Lexicon
from catalog.resolve.reading.reader import read
from tests.eval.reading_keys import Key, keys_of
from tests.eval.reading_sets import Line

# What has a side: an attribute, or scene values -> their side.
_SIDED: Mapping[str, Mapping[str, str]] = {
    "port_place": {},
    "other_place": {},
    "posture": {"left_down": "left", "right_down": "right"},
    "damage": {"damage_left": "left", "damage_right": "right"},
}
_OTHER = {"left": "right", "right": "left"}


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
    """As in "port_place: left read as right", once for each vehicle and thing that has a side."""
    made = []
    for what in _SIDED:
        for vehicle in sorted({key.vehicle for key in meant}):
            said, heard = (_sides(keys, vehicle, what) for keys in (meant, found))
            denied, unheard = (_sides(keys, vehicle, what, denied=True) for keys in (meant, found))
            if len(said) == 1 and (_OTHER[min(said)] in heard and not said & heard):
                made.append(f"{what}: {min(said)} read as {_OTHER[min(said)]}")
            elif (denied - said) & heard:
                made.append(f"{what}: not {min((denied - said) & heard)} read as stated")
            elif said & (unheard - heard):
                made.append(f"{what}: {min(said & (unheard - heard))} read as denied")
    return tuple(made)


def has_sides(result: Result) -> bool:
    """Whether a side was annotated, so that it could have been turned round."""
    asked = ((key.vehicle, what, denied) for key in result.meant for what in _SIDED for denied in (False, True))
    return any(_sides(result.meant, *question) for question in asked)


def _sides(keys: frozenset[Key], vehicle: str, what: str, denied: bool = False) -> frozenset[str]:
    """left and right as said of something that has a side; nothing else counts as a side."""
    attribute = "scene" if _SIDED[what] else what
    values = [v for k in keys if (k.vehicle, k.attribute, k.denied) == (vehicle, attribute, denied) for v in k.values]
    sides = (_SIDED[what].get(value, value.partition("|")[0]) for value in values)
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


def distinct_share(texts: Iterable[str], size: int = 4) -> float:
    """Distinct runs of `size` folded words over all runs; NaN without any."""
    runs: Counter[tuple[str, ...]] = Counter()
    for text in texts:
        words = fold(text).split()
        runs.update(tuple(words[at : at + size]) for at in range(len(words) - size + 1))
    return len(runs) / runs.total() if runs else float("nan")
