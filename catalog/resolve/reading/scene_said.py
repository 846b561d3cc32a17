"""The scene in any words: what it is about and what became of it, a few words apart.

"the roof only is out of the river", "lights and wipers still function", "a beam has dropped on the vehicle":
data/frames.json holds classes of words and frames, each a row of classes in their order. A "not" inside
a frame denies it: "airbags haven't gone off". data/looks_frames.json holds the same of what one looks like:
"bars run vertically across the whole grille".
"""

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise
from typing import Any

from catalog.resolve.reading.mention import Mention
from catalog.resolve.reading.tokens import PAUSE, STOP
from catalog.resolve.reading.words import DATA, Word, singular

Range = tuple[int, int]
Hits = Mapping[str, Sequence[Range]]

NUMBER = "#"  # the class of what is written in digits
_GAP = 2
_BEFORE = 3  # words before a frame that "unless_before" looks at
_NEXT = 2  # words after it that "unless_next" looks at
_ARTICLES = frozenset(("the", "a", "an", "is"))
_NOT = frozenset(
    ("not", "no", "never", "isnt", "arent", "wasnt", "werent", "hasnt", "havent", "hadnt", "didnt", "doesnt", "dont",
     "wont", "neither", "nor", "aint", "without", "cant", "none", "nil")
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Frame:
    """Classes in their order, at most `gap` words between two.

    value: what it says of the scene, or "attribute=value"; "" says nothing: nothing else is made of the words.
    ends its clause.
    unless, unless_before, unless_next: a class that must not stand inside, shortly before, right after.
    anywhere: a class that the text must have somewhere. whole: what stands between the classes is taken too.
    last: only the words of its last class are heard.
    """

    value: str
    parts: tuple[str, ...]
    gap: int = _GAP
    take: bool = False
    across: bool = False
    opens: bool = False
    closes: bool = False
    denied: bool = False
    unless: str = ""
    unless_before: str = ""
    unless_next: str = ""
    anywhere: str = ""
    whole: bool = False
    last: bool = False


@dataclass(frozen=True, slots=True)
class Frames:
    """begins: a first word -> second word -> the rest of a saying and its class, longest first; "" where there is none.

    silent, telling: a class -> the frames that begin with it and their places in the table; those that say nothing,
    and the others.
    """

    begins: Mapping[str, Mapping[str, Sequence[tuple[tuple[str, ...], str]]]]
    frames: Sequence[Frame]
    silent: Mapping[str, Sequence[tuple[int, Frame]]]
    telling: Mapping[str, Sequence[tuple[int, Frame]]]


@cache
def shipped(table: str = "frames") -> Frames:
    document = json.loads((DATA / f"{table}.json").read_text(encoding="utf-8"))
    begins: dict[str, dict[str, list[tuple[tuple[str, ...], str]]]] = {}
    for name, sayings in document["words"].items():
        for saying in sorted(sayings, key=lambda saying: -len(saying.split())):
            first, *rest = (singular(word) for word in saying.split())
            begins.setdefault(first, {}).setdefault(rest[0] if rest else "", []).append((tuple(rest), name))
    frames = tuple(_frame(row) for row in document["frames"])
    by_value: tuple[dict[str, list[tuple[int, Frame]]], dict[str, list[tuple[int, Frame]]]] = ({}, {})
    for place, frame in enumerate(frames):
        by_value[bool(frame.value)].setdefault(frame.parts[0], []).append((place, frame))
    return Frames(begins, frames, *by_value)


def _frame(row: Mapping[str, Any]) -> Frame:
    alone = row.get("alone", False)
    given = {key: value for key, value in row.items() if key not in ("parts", "alone")}
    frame = Frame(parts=tuple(row["parts"]), **given)
    return replace(frame, opens=True, closes=True) if alone else frame


def scene_hits(words: Sequence[Word], taken: Sequence[bool]) -> Hits:
    """Where the classes of the frames are said."""
    return _hits(words, taken, shipped())


def pass_over(words: Sequence[Word], hits: Hits, taken: list[bool]) -> None:
    """Take the words that say nothing of a vehicle: "five doors down", "I came on the bus"."""
    _read(words, hits, taken, [shipped().silent])


def read_scene(words: Sequence[Word], hits: Hits, taken: list[bool]) -> list[Mention]:
    """Every frame said; the words of those that take them are marked as taken."""
    return _read(words, hits, taken, [shipped().telling])


def read_looks(words: Sequence[Word], taken: list[bool]) -> list[Mention]:
    """What it looks like, in the frames of data/looks_frames.json; their words are marked as taken."""
    looks = shipped("looks_frames")
    return _read(words, _hits(words, taken, looks), taken, [looks.silent, looks.telling])


def _read(
    words: Sequence[Word], hits: Hits, taken: list[bool], begun: Sequence[Mapping[str, Sequence[tuple[int, Frame]]]]
) -> list[Mention]:
    """The frames of one or more tables by their first class, in the order of the table."""
    made: list[Mention] = []
    for _, frame in sorted(
        [entry for table in begun for name in hits for entry in table.get(name, ())], key=lambda entry: entry[0]
    ):
        if not all(name in hits for name in frame.parts) or (frame.anywhere and frame.anywhere not in hits):
            continue
        for parts in _said(words, hits, frame):
            if any(any(taken[start:end]) for start, end in parts):
                continue
            start, end = parts[-1 if frame.last else 0][0], parts[-1][1]
            if frame.value:
                attribute, _, value = frame.value.rpartition("=")
                denied = frame.denied ^ (_denied(words, parts) or (frame.last and _denied_before(words, parts[0][0])))
                # What is masked in between is not heard.
                stop, also = (parts[0][1], tuple(parts[1:])) if any(taken[start:end]) else (end, ())
                values = tuple(value.split("|"))
                made.append(Mention(attribute or "scene", values, start, stop, denied=denied, also=also))
            kept = parts[-1:] if frame.last else parts
            for first, last in ((start, end),) if frame.whole else kept if frame.take else ():
                taken[first:last] = [True] * (last - first)
    return made


def _hits(words: Sequence[Word], taken: Sequence[bool], frames: Frames) -> Hits:
    """class -> where its sayings stand, in order of place, of several that begin at one word the longest."""
    begins = frames.begins
    found: dict[str, list[Range]] = {}
    keys = [word.key for word in words]
    for at, key in enumerate(keys):
        if taken[at]:
            continue
        if "0" <= key[0] <= "9":
            found.setdefault(NUMBER, []).append((at, at + 1))
        seconds = begins.get(key)
        if seconds is None:
            continue
        for rest, name in _candidates(seconds, keys, at + 1):
            end = _end(words, keys, at + 1, rest)
            said = found.setdefault(name, []) if end else []
            if end and not (said and said[-1][0] == at):
                said.append((at, end))
    return found


def _candidates(
    seconds: Mapping[str, Sequence[tuple[tuple[str, ...], str]]], keys: Sequence[str], at: int
) -> Sequence[tuple[tuple[str, ...], str]]:
    """The sayings whose second word is the one at `at`, or the one past articles there; longest first."""
    alone = seconds.get("", ())
    if at >= len(keys):
        return alone
    after = at
    while after < len(keys) - 1 and keys[after] in _ARTICLES:
        after += 1
    made = seconds.get(keys[at], ())
    if after > at:
        # One past some of the articles only may be an article itself.
        made = [entry for key in dict.fromkeys(keys[at : after + 1]) for entry in seconds.get(key, ())]
        made.sort(key=lambda entry: -len(entry[0]))
    return [*made, *alone] if alone else made


def _end(words: Sequence[Word], keys: Sequence[str], at: int, rest: Sequence[str]) -> int:
    """One past the last word of a saying whose first word stands before `at`; articles may stand inside; else 0."""
    for word in rest:
        while at < len(keys) and keys[at] != word and keys[at] in _ARTICLES:
            at += 1
        if at >= len(keys) or keys[at] != word or words[at].token.parted >= PAUSE:
            return 0
        at += 1
    return at


def _said(words: Sequence[Word], hits: Hits, frame: Frame) -> Iterator[Sequence[Range]]:
    """Where the classes of a frame stand in their order, each with the nearest that follows."""
    least = STOP if frame.across else PAUSE
    for first in hits[frame.parts[0]]:
        parts = [first]
        for name in frame.parts[1:]:
            last = parts[-1][1]
            after = next((hit for hit in hits[name] if last <= hit[0] <= last + frame.gap), None)
            if after is None:
                break
            parts.append(after)
        if len(parts) == len(frame.parts) and _holds(words, hits, frame, parts, least):
            yield parts


def _holds(words: Sequence[Word], hits: Hits, frame: Frame, parts: Sequence[Range], least: int) -> bool:
    start, end = parts[0][0], parts[-1][1]
    if any(words[at].token.parted >= least for at in range(start + 1, end)):
        return False
    if frame.opens and start > 0 and words[start].token.parted < PAUSE:
        return False
    if frame.closes and end < len(words) and words[end].token.parted < PAUSE:
        return False
    inside = {at for start, end in parts for at in range(start, end)}
    if any(start <= at < end and at not in inside for at, _ in hits.get(frame.unless, ())):
        return False
    if any(
        _joined(words, at, start + 1)
        for at, last in hits.get(frame.unless_before, ())
        if start - _BEFORE <= last <= start
    ):
        return False
    return not any(
        end <= at < end + _NEXT and _joined(words, end - 1, at + 1) for at, _ in hits.get(frame.unless_next, ())
    )


def _joined(words: Sequence[Word], start: int, end: int) -> bool:
    """Whether no comma or stop parts the words [start, end)."""
    return all(words[at].token.parted < PAUSE for at in range(start + 1, min(end, len(words))))


def _denied(words: Sequence[Word], parts: Sequence[Range]) -> bool:
    """Whether a "not" stands between the classes of a frame."""
    return any(
        words[at].token.text in _NOT for (_, before), (after, _) in pairwise(parts) for at in range(before, after)
    )


def _denied_before(words: Sequence[Word], start: int) -> bool:
    """ "no persons injured": of a frame of which only the end is heard, a "no" right before it."""
    return start > 0 and words[start].token.parted < PAUSE and words[start - 1].token.text in _NOT
