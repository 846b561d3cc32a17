"""Alternatives and comparisons: "blue or black", "bigger than a hatchback"."""

from collections.abc import Sequence
from dataclasses import replace

from catalog.resolve.reading.mention import NEXT, Mention, Mentions, Text

_ANYTHING = frozenset(("anything", "something", "owt", "whatever", "nothing", "so", "similar", "suchlike"))


def alternatives(text: Text, mentions: Mentions) -> Mentions:
    """ "blue or black": one mention with both values."""
    made: list[Mention | None] = list(mentions)
    for place, said in enumerate(mentions):
        if said.attribute != "@or" or _trails_off(text, said):
            continue
        pair = _either_side(text, said, place, made)
        if pair is None:
            continue
        before, after = pair
        one, other = made[before], made[after]
        assert one is not None
        assert other is not None
        joined = replace(
            one,
            values=tuple(sorted({*one.values, *other.values})),
            weak=one.weak and other.weak,
            also=(*one.also, (said.start, said.end), *other.ranges),
        )
        # It now reaches as far as its last value: "red, white or blue".
        made[before] = None
        made[after] = joined.doubted(other.doubt).doubted(said.doubt)
    return sorted((m for m in made if m is not None), key=lambda m: (m.start, m.end))


def _trails_off(text: Text, said: Mention) -> bool:
    """ "no ladder or anything, just two rails": nothing else is named."""
    return said.end < len(text.words) and text.words[said.end].token.text in _ANYTHING


def _either_side(text: Text, said: Mention, place: int, made: Sequence[Mention | None]) -> tuple[int, int] | None:
    """Positions of the values before and after an "or" that are of one attribute."""
    before: list[int] = []
    for at in range(place - 1, max(-1, place - 1 - 2 * NEXT), -1):
        one = made[at]
        if one is None or one.attribute == "@hedge":
            continue
        reach = max(end for _, end in one.ranges)
        if one.start < said.start < one.end:
            return None
        if not text.only_small(reach, said.start):
            break
        before.append(at)
    for at in range(place + 1, min(len(made), place + 1 + NEXT)):
        other = made[at]
        if other is None or other.attribute == "@hedge":
            continue
        if not text.same_sentence(said.start, other.start):
            return None
        for earlier in before:
            one = made[earlier]
            if one is not None and _may_join(one, other):
                return earlier, at
    return None


def _may_join(one: Mention, other: Mention) -> bool:
    return (
        one.attribute == other.attribute
        and one.attribute not in ("scene", "@or", "@port")
        and one.vehicle == other.vehicle
        and one.denied == other.denied
    )


def comparisons(text: Text, mentions: Mentions) -> Mentions:
    """ "bigger than a hatchback", "the size of a bus": what it is compared with is not what it is."""
    gone: set[int] = set()
    for place, said in enumerate(mentions):
        if said.attribute != "@than":
            continue
        start = -1
        for at in range(place + 1, min(len(mentions), place + 1 + 2 * NEXT)):
            mention = mentions[at]
            part = text.clauses.part
            if part[said.start] != part[mention.start] or not text.only_small(said.end, mention.start):
                break
            if mention.attribute in ("body", "size", "name", "marking", "category", "colour", "doors"):
                if start not in (-1, mention.start) and mentions[at - 1].attribute == "body":
                    break
                start = mention.start
                gone.add(at)
                said = replace(said, end=mention.end)
    return [mention for at, mention in enumerate(mentions) if at not in gone]
