"""What small words do to what was said: named functions from mentions to mentions.

Each has its own scope and leaves everything else alone. They run in the order of `MODIFIERS`.
Mentions are in order of place on the way in and out; each function looks at its neighbourhood only,
so a text costs what its words cost.
"""

import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import cache

from catalog.resolve.cue import Doubt
from catalog.resolve.reading.asking import questions
from catalog.resolve.reading.corrections import corrections
from catalog.resolve.reading.drives import PLUGGED, drives
from catalog.resolve.reading.mention import Mention, Mentions, Open, Text
from catalog.resolve.reading.vehicles import vehicles
from catalog.resolve.reading.words import DATA, keys

_PLACES = frozenset(("@side", "@end", "@landmark", "@level"))
_ASKS_WHAT = frozenset(("colour", "color", "model", "make", "year", "badge", "name", "reg", "registration"))
_DOUBTED_IF = frozenset(("if", "whether", "what", "which"))
_NEXT = 4  # how many mentions after "or", "not" or a comparison may be the one it is about


@cache
def opposites() -> Mapping[tuple[str, str], str]:
    """(attribute, value denied) -> the value or values that denial states."""
    table = json.loads((DATA / "opposites.json").read_text(encoding="utf-8"))
    return {(row[0], row[1]): row[2] for row in table}


def alternatives(text: Text, mentions: Mentions) -> Mentions:
    """ "blue or black": one mention with both values."""
    made: list[Mention | None] = list(mentions)
    for place, said in enumerate(mentions):
        if said.attribute != "@or":
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


def _either_side(text: Text, said: Mention, place: int, made: Sequence[Mention | None]) -> tuple[int, int] | None:
    """Positions of the values before and after an "or" that are of one attribute."""
    before: list[int] = []
    for at in range(place - 1, max(-1, place - 1 - 2 * _NEXT), -1):
        one = made[at]
        if one is None or one.attribute == "@hedge":
            continue
        reach = max(end for _, end in one.ranges)
        if not text.only_small(reach, said.start):
            break
        before.append(at)
    for at in range(place + 1, min(len(made), place + 1 + _NEXT)):
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
        for at in range(place + 1, min(len(mentions), place + 1 + 2 * _NEXT)):
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


def negation(text: Text, mentions: Mentions) -> Mentions:
    """ "not a van", "no fire or smoke": the next thing said is denied, or its opposite is stated."""
    made = list(mentions)
    opened = Open(mentions)
    of_fuel = {mention.start for mention in mentions if mention.attribute == "fuel"}
    for said in mentions:
        if said.attribute != "@not":
            continue
        first = opened.from_(said.end)
        if _answers(text, said) or _said_again(text, mentions, said, opened, first):
            continue
        if first == len(opened.at) or not _denies(text, said, made[opened.at[first]]):
            continue
        start = made[opened.at[first]].start
        for number in range(first, len(opened.at)):
            one, other = made[opened.at[number - 1]], made[opened.at[number]]
            if other.start != start and not _carries_on(text, one, other):
                break
            # "not petrol" denies the fuel; what it would have been driven by is not said.
            if other.attribute == "propulsion" and other.start in of_fuel:
                made[opened.at[number]] = replace(other, attribute="@small")
            else:
                made[opened.at[number]] = _denied(other, said)
    return made


def _answers(text: Text, said: Mention) -> bool:
    """ "a bus? no, a coach", "a bus? no it's a coach": the "no" is an answer to what was asked before."""
    if said.start == 0 or said.end - said.start > 1 or not text.words[said.start - 1].token.asked:
        return False
    after = text.words[said.end].token.text if said.end < len(text.words) else ""
    return text.words[said.start].token.text in ("no", "nope", "nah") and after in ("a", "an", "its", "it", "the")


def _said_again(text: Text, mentions: Mentions, said: Mention, opened: Open, first: int) -> bool:
    """ "no it isn't a hatch": of two denials of one thing the later counts."""
    stop = mentions[opened.at[first]].start if first < len(opened.at) else len(text.words)
    return any(
        other.attribute == "@not" and said.end <= other.start < stop and text.only_small(said.end, other.start)
        for other in mentions
        if text.same_clause(said.start, other.start)
    )


# "no they all got out" answers and denies nothing.
_SUBJECTS = frozenset(
    ("they", "theyre", "theyve", "he", "hes", "she", "shes", "im", "ive", "were", "weve", "everyone", "everybody")
)


def _denies(text: Text, said: Mention, mention: Mention) -> bool:
    after = text.words[said.end].token.text if said.end < len(text.words) else ""
    if text.words[said.end - 1].token.text == "no" and after in _SUBJECTS:
        return False
    return text.same_clause(said.start, mention.start) and text.only_small(said.end, mention.start)


def _carries_on(text: Text, one: Mention, other: Mention) -> bool:
    """ "no fire or smoke", "no fire, smoke or leaks": what is added to a denied thing of the scene is denied too."""
    if not other.attribute == one.attribute == "scene":
        return False
    between = [word.key for word in text.words[one.end : other.start]]
    if between:
        return len(between) < _NEXT and all(word in ("or", "nor", "and", "any") for word in between)
    following = text.words[other.end].key if other.end < len(text.words) else ""
    return following in ("or", "nor", "and") and text.same_sentence(one.start, other.start)


def _denied(mention: Mention, said: Mention) -> Mention:
    also = (*mention.also, (said.start, said.end))
    stated = opposites().get((mention.attribute, mention.values[0])) if len(mention.values) == 1 else None
    if stated is not None and not mention.denied:
        return replace(mention, values=tuple(stated.split("|")), also=also, weak=False).doubted(said.doubt)
    return replace(mention, denied=not mention.denied, also=also, weak=False).doubted(said.doubt)


def hedges(text: Text, mentions: Mentions) -> Mentions:
    """ "maybe", "I think", "looks like": what follows in the clause; said last, what stands before.

    "don't know if it's electric", "no idea what colour" says nothing: what follows is left out.
    """
    made: list[Mention | None] = list(mentions)
    opened = Open(mentions)
    for said in mentions:
        if said.attribute != "@hedge":
            continue
        doubt = Doubt(said.values[0])
        unknown = doubt is Doubt.GUESS and _about_if(text, said)
        for at in _hedged(text, said, mentions, opened):
            mention = made[at]
            if mention is not None:
                made[at] = None if unknown and len(mention.values) == 1 else mention.doubted(doubt)
    return [mention for mention in made if mention is not None]


def _about_if(text: Text, said: Mention) -> bool:
    words = text.words
    after = words[said.end].token.text if said.end < len(words) and text.same_clause(said.start, said.end) else ""
    last = words[said.end - 1].token.text
    # "red or blue, not sure which": both stay possible.
    return (after in _DOUBTED_IF and (after != "which" or _says_more(text, said.end + 1))) or last in _DOUBTED_IF - {
        "which"
    }


def _says_more(text: Text, at: int) -> bool:
    """Whether the clause goes on at a word."""
    return at < len(text.words) and text.same_clause(at - 1, at)


def _hedged(text: Text, said: Mention, mentions: Mentions, opened: Open) -> list[int]:
    """Positions of what a hedge is about."""
    clause = text.clauses.clause
    here = clause[said.start]
    split = opened.from_(said.end)
    after = _while(mentions, opened, split, lambda m: clause[m.start] == here)
    if after:
        return after
    before = opened.from_(said.start) - 1
    if before >= 0 and clause[mentions[opened.at[before]].start] == here:
        return _last_group(text, mentions, opened, before)
    if _asks_what(text, said):
        return []
    sentence = text.clauses.sentence
    if before >= 0 and sentence[mentions[opened.at[before]].start] == sentence[said.start]:
        return _last_group(text, mentions, opened, before)
    if split == len(opened.at):
        return []
    there = mentions[opened.at[split]].start
    if sentence[there] != sentence[said.start]:
        return []
    return _while(mentions, opened, split, lambda m: clause[m.start] == clause[there])


def _while(mentions: Mentions, opened: Open, number: int, holds: Callable[[Mention], bool]) -> list[int]:
    """Positions from `number` on while it holds, up to the next hedge."""
    made: list[int] = []
    for at in opened.at[number : number + 3 * _NEXT]:
        if not holds(mentions[at]) or (made and _hedge_between(mentions, made[-1], at)):
            break
        made.append(at)
    return made


def _hedge_between(mentions: Mentions, one: int, other: int) -> bool:
    return any(mentions[at].attribute == "@hedge" for at in range(one + 1, other))


def _asks_what(text: Text, said: Mention) -> bool:
    """ "not sure what model": the hedge has its own thing to be about."""
    start, end = text.clause_start(said.start), text.clause_end(said.start)
    if not (text.only_small(start, said.start) and text.only_small(said.end, end)):
        return True
    return any(text.words[at].key in _ASKS_WHAT for at in (*range(start, said.start), *range(said.end, end)))


def _last_group(text: Text, mentions: Mentions, opened: Open, number: int) -> list[int]:
    """A mention and those right before it with only small words between."""
    group = [opened.at[number]]
    for at in reversed(opened.at[max(0, number - 3 * _NEXT) : number]):
        one, other = mentions[at], mentions[group[-1]]
        if not text.same_clause(one.start, other.start) or not text.only_small(one.end, other.start):
            break
        group.append(at)
    return group


def plugless(text: Text, mentions: Mentions) -> Mentions:
    """ "no plug on it", "doesn't plug in", with no place: nothing to plug in."""
    part = text.clauses.part
    placed = {part[mention.start] for mention in mentions if is_place(mention)}
    return [
        replace(m, attribute="propulsion", values=PLUGGED)
        if m.attribute == "@port" and m.denied and part[m.start] not in placed
        else m
        for m in mentions
    ]


_INVERTED = frozenset(("upside", "mirrored", "mirror", "backward", "backwards", "reversed", "inverted"))
_LETTERING = frozenset(("badge", "letter", "lettering", "read", "reads", "say", "spell", "logo", "writing", "name"))


def inverted_names(text: Text, mentions: Mentions) -> Mentions:
    """A name read upside down or in a mirror: as heard, with a doubt."""
    sentence = text.clauses.sentence
    turned = {sentence[at] for at, word in enumerate(text.words) if word.key in _INVERTED}
    turned &= {sentence[at] for at, word in enumerate(text.words) if word.key in _LETTERING}
    if not turned:
        return mentions
    return [m.doubted(Doubt.HEDGED) if m.attribute == "name" and sentence[m.start] in turned else m for m in mentions]


def is_place(mention: Mention) -> bool:
    return mention.attribute in _PLACES


def claims(word: str) -> bool:
    """Whether a word left over may own a place: a person or a part."""
    return word in keys("people") or word in keys("people_driving") or word in keys("parts")


MODIFIERS: tuple[Callable[[Text, Mentions], Mentions], ...] = (
    vehicles,
    corrections,
    alternatives,
    comparisons,
    negation,
    plugless,
    hedges,
    inverted_names,
    questions,
    drives,
)
