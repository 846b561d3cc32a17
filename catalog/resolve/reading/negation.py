"""Denial: "not a van", "no fire or smoke", "no plug on it"; and the opposites it states."""

import json
from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cache

from catalog.resolve.reading.drives import PLUGGED
from catalog.resolve.reading.mention import NEXT, Mention, Mentions, Open, Text, is_place
from catalog.resolve.reading.words import DATA


@cache
def opposites() -> Mapping[tuple[str, str], str]:
    """(attribute, value denied) -> the value or values that denial states."""
    table = json.loads((DATA / "opposites.json").read_text(encoding="utf-8"))
    return {(row[0], row[1]): row[2] for row in table}


def negation(text: Text, mentions: Mentions) -> Mentions:
    """ "not a van", "no fire or smoke": the next thing said is denied, or its opposite is stated."""
    made = list(mentions)
    opened = Open(mentions)
    denials = sorted(mention.start for mention in mentions if mention.attribute == "@not")
    of_fuel = {mention.start for mention in mentions if mention.attribute == "fuel"}
    done: set[int] = set()
    for said in mentions:
        if said.attribute != "@not":
            continue
        first = opened.from_(said.end)
        stop = mentions[opened.at[first]].start if first < len(opened.at) else len(text.words)
        if _answers(text, said) or _said_again(text, said, denials, stop):
            continue
        if first == len(opened.at) or not _denies(text, said, made, opened.at[first]):
            continue
        start = made[opened.at[first]].start
        for number in range(first, len(opened.at)):
            one, other = made[opened.at[number - 1]], made[opened.at[number]]
            if other.start != start and not _carries_on(text, one, other):
                break
            if opened.at[number] in done:
                continue  # "no smoke nor fire": denied once
            done.add(opened.at[number])
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


def _said_again(text: Text, said: Mention, denials: Sequence[int], stop: int) -> bool:
    """ "no it isn't a hatch": of two denials of one thing the later counts. denials: where each begins, in order;
    stop: where the thing begins."""
    number = bisect_left(denials, said.end)
    if number == len(denials) or denials[number] >= stop:
        return False
    return text.same_clause(said.start, denials[number]) and text.only_small(said.end, denials[number])


# "no they all got out" answers and denies nothing.
_SUBJECTS = frozenset(
    ("they", "theyre", "theyve", "he", "hes", "she", "shes", "im", "ive", "were", "weve", "everyone", "everybody")
)


_ANSWERS = frozenset(("no", "nope", "nah", "nay", "never"))
_OF_PORT = frozenset(("@port", "port_cover", "connector", "door_mechanism"))


def _denies(text: Text, said: Mention, made: Mentions, place: int) -> bool:
    mention = made[place]
    after = text.words[said.end].token.text if said.end < len(text.words) else ""
    last = text.words[said.end - 1].token.text
    if last == "no" and after in _SUBJECTS:
        return False
    # "no, the right", "nothing above it, the flap is ...": an answer and a look; no place or port is denied so.
    if last in _ANSWERS and is_place(mention) and (mention.start > said.end or _placed_before(text, made, place)):
        return False
    if last == "nothing" and (is_place(mention) or mention.attribute in _OF_PORT) and mention.start > said.end:
        return False
    return text.same_clause(said.start, mention.start) and text.only_small(said.end, mention.start)


def _placed_before(text: Text, made: Mentions, place: int) -> bool:
    """A place was said just before in the sentence: "on the left no the right"."""
    before = made[max(0, place - NEXT) : place]
    return any(is_place(mention) and text.same_sentence(mention.start, made[place].start) for mention in before)


def _carries_on(text: Text, one: Mention, other: Mention) -> bool:
    """ "no fire or smoke", "no fire, smoke or leaks": what is added to a denied thing of the scene is denied too."""
    if not other.attribute == one.attribute == "scene":
        return False
    between = [word.key for word in text.words[one.end : other.start]]
    if between:
        return len(between) < NEXT and all(word in ("or", "nor", "and", "any") for word in between)
    following = text.words[other.end].key if other.end < len(text.words) else ""
    return following in ("or", "nor", "and") and text.same_sentence(one.start, other.start)


def _denied(mention: Mention, said: Mention) -> Mention:
    also = (*mention.also, (said.start, said.end))
    stated = opposites().get((mention.attribute, mention.values[0])) if len(mention.values) == 1 else None
    if stated is not None and not mention.denied:
        return replace(mention, values=tuple(stated.split("|")), also=also, weak=False).doubted(said.doubt)
    return replace(mention, denied=not mention.denied, also=also, weak=False).doubted(said.doubt)


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
