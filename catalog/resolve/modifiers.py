"""What small words do to what was said: named functions from mentions to mentions.

Each has its own scope and leaves everything else alone. They run in the order of `MODIFIERS`.
"""

import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import cache

from catalog.resolve.cue import Doubt
from catalog.resolve.mention import Mention, Text
from catalog.resolve.tokens import PAUSE
from catalog.resolve.words import DATA, keys

Mentions = list[Mention]
# What an "elsewhere" vehicle takes with it: its looks, not our vehicle's port.
_IDENTITY = frozenset(("body", "colour", "size", "doors", "name", "propulsion", "category", "years", "fuel", "roof"))
# Attributes whose words follow a correcting "no" without an article: "left, no right".
_SAID_BARE = frozenset(("@side", "@end", "@landmark", "@level", "colour", "years", "doors", "size"))
_PLACES = frozenset(("@side", "@end", "@landmark", "@level"))
_NOT_OPEN_TO_DOUBT = frozenset(
    ("@hedge", "@not", "@or", "@fix", "@view", "@trap", "@elsewhere", "@badge", "@yes", "@small")
)
_ASKS_WHAT = frozenset(("colour", "color", "model", "make", "year", "badge", "name", "reg", "registration"))


@cache
def opposites() -> Mapping[tuple[str, str], str]:
    """(attribute, value denied) -> the value that denial states."""
    table = json.loads((DATA / "opposites.json").read_text(encoding="utf-8"))
    return {(row[0], row[1]): row[2] for row in table}


def corrections(text: Text, mentions: Mentions) -> Mentions:
    """ "left, no wait, right": the earlier value is dropped and the later stands in its place."""
    made = list(mentions)
    for fix in [mention for mention in mentions if _corrects(text, mention, mentions)]:
        later = _run_after(text, fix, made)
        for at, mention in enumerate(later):
            earlier = _counterpart(made, mention, fix, later)
            if earlier is None:
                if at == 0:
                    break
                continue
            made[made.index(earlier)] = replace(
                earlier,
                values=mention.values,
                doubt=mention.doubt,
                also=(*earlier.also, (fix.start, fix.end), *mention.ranges),
            )
            made.remove(mention)
    return made


def _corrects(text: Text, mention: Mention, mentions: Mentions) -> bool:
    """A correcting phrase, or a bare "no" between two values of one attribute."""
    if mention.attribute == "@fix":
        return True
    if mention.attribute != "@not" or text.words[mention.start].token.text != "no" or mention.end - mention.start > 1:
        return False
    open_to = [other for other in mentions if other.attribute not in _NOT_OPEN_TO_DOUBT]
    before = [i for i, other in enumerate(open_to) if other.end <= mention.start]
    after = [other for other in open_to if other.start >= mention.end]
    if not before or not after or not text.same_sentence(open_to[before[-1]].start, after[0].start):
        return False
    if not text.only_small(open_to[before[-1]].end, mention.start) or not text.only_small(mention.end, after[0].start):
        return False
    said = [open_to[i] for i in _last_group(text, open_to, before) if open_to[i].attribute == after[0].attribute]
    if not any(other.values != after[0].values for other in said):
        return False
    # "no grille" denies; "no, right" and "no it's a van" correct.
    following = text.words[mention.end]
    introduced = following.token.parted >= PAUSE or following.token.text in ("a", "an", "its", "the", "it")
    return introduced or after[0].attribute in _SAID_BARE


def _run_after(text: Text, fix: Mention, mentions: Mentions) -> Mentions:
    """The mentions that follow directly, in one clause."""
    run: Mentions = []
    at = fix.end
    for mention in sorted(mentions, key=lambda entry: entry.start):
        if mention.start < fix.end or mention.attribute in _NOT_OPEN_TO_DOUBT:
            at = max(at, mention.end) if mention.start >= fix.end and text.only_small(at, mention.start) else at
            continue
        if not text.only_small(at, mention.start) or (run and not text.same_clause(run[0].start, mention.start)):
            break
        run.append(mention)
        at = max(at, mention.end)
    return run


def _counterpart(mentions: Mentions, later: Mention, fix: Mention, run: Mentions) -> Mention | None:
    """The last earlier mention of the same attribute that the later one replaces."""
    said = {mention.values for mention in run}
    earlier = [
        mention
        for mention in mentions
        if mention.end <= fix.start and mention.attribute == later.attribute and mention.denied == later.denied
    ]
    if later.attribute == "name":
        if any(mention.values == later.values for mention in earlier):
            return next(mention for mention in reversed(earlier) if mention.values == later.values)
        earlier = [mention for mention in earlier if mention.values not in said]
    return max(earlier, key=lambda mention: mention.start, default=None)


def elsewhere(text: Text, mentions: Mentions) -> Mentions:
    """ "hit by a blue bus": the looks of the other vehicle are not this one's."""
    gone: set[Mention] = set()
    for said in mentions:
        if said.attribute != "@elsewhere":
            continue
        end = said.end
        while (
            end < len(text.words) and text.same_clause(said.end - 1, end) and text.words[end].key not in ("and", "but")
        ):
            end += 1
        for mention in sorted(mentions, key=lambda entry: entry.start):
            if said.end <= mention.start < end and mention.attribute in _IDENTITY:
                gone.add(mention)
                if mention.attribute == "body":
                    break
    return [mention for mention in mentions if mention not in gone]


def alternatives(text: Text, mentions: Mentions) -> Mentions:
    """ "blue or black": one mention with both values."""
    made = sorted(mentions, key=lambda entry: (entry.start, entry.end))
    for said in [mention for mention in made if mention.attribute == "@or"]:
        before = [mention for mention in made if mention.end <= said.start and text.only_small(mention.end, said.start)]
        after = [mention for mention in made if mention.start >= said.end and mention.attribute != "@hedge"][:3]
        pair = next(
            (
                (one, other)
                for other in after
                if text.same_sentence(said.start, other.start)
                for one in reversed(before)
                if one.attribute == other.attribute and one.attribute not in ("scene", "@or", "@port")
            ),
            None,
        )
        if pair is None:
            continue
        one, other = pair
        joined = replace(
            one,
            values=tuple(sorted({*one.values, *other.values})),
            also=(*one.also, (said.start, said.end), *other.ranges),
        ).doubted(other.doubt)
        made[made.index(one)] = joined.doubted(said.doubt)
        made.remove(other)
    return made


def negation(text: Text, mentions: Mentions) -> Mentions:
    """ "not a van", "no fire or smoke": the next thing said is denied, or its opposite is stated."""
    made = sorted(mentions, key=lambda entry: (entry.start, entry.end))
    open_to = [i for i, mention in enumerate(made) if mention.attribute not in _NOT_OPEN_TO_DOUBT]
    for said in [mention for mention in made if mention.attribute == "@not"]:
        first = next((place for place, i in enumerate(open_to) if _denies(text, said, made[i])), None)
        if first is None:
            continue
        start = made[open_to[first]].start
        for place in range(first, len(open_to)):
            one, other = made[open_to[place - 1]], made[open_to[place]]
            if other.start != start and not _carries_on(text, one, other):
                break
            made[open_to[place]] = _denied(other, said)
    return made


def _denies(text: Text, said: Mention, mention: Mention) -> bool:
    if mention.start < said.end:
        return False
    return text.same_clause(said.start, mention.start) and text.only_small(said.end, mention.start)


def _carries_on(text: Text, one: Mention, other: Mention) -> bool:
    """ "no fire or smoke": what "or" adds to a denied thing of the scene is denied too."""
    between = [word.key for word in text.words[one.end : other.start]]
    linked = bool(between) and all(word in ("or", "nor", "and", "any") for word in between)
    return other.attribute == one.attribute == "scene" and linked


def _denied(mention: Mention, said: Mention) -> Mention:
    also = (*mention.also, (said.start, said.end))
    stated = opposites().get((mention.attribute, mention.values[0])) if len(mention.values) == 1 else None
    if stated is not None and not mention.denied:
        return replace(mention, values=(stated,), also=also, weak=False).doubted(said.doubt)
    return replace(mention, denied=not mention.denied, also=also, weak=False).doubted(said.doubt)


def hedges(text: Text, mentions: Mentions) -> Mentions:
    """ "maybe", "I think", "looks like": what follows in the clause; said last, what stands before."""
    made = sorted(mentions, key=lambda entry: (entry.start, entry.end))
    for said in [mention for mention in made if mention.attribute == "@hedge"]:
        doubt = Doubt(said.values[0])
        for at in _hedged(text, said, made):
            made[at] = made[at].doubted(doubt)
    return made


def _hedged(text: Text, said: Mention, mentions: Mentions) -> list[int]:
    open_to = [i for i, mention in enumerate(mentions) if mention.attribute not in _NOT_OPEN_TO_DOUBT]
    clause = text.clauses.clause
    here = [i for i in open_to if clause[mentions[i].start] == clause[said.start]]
    after = [i for i in here if mentions[i].start >= said.end]
    if after:
        return after
    if here:
        return _last_group(text, mentions, here)
    members = [at for at in range(len(text.words)) if clause[at] == clause[said.start]]
    if any(text.words[at].key in _ASKS_WHAT or not text.small[at] for at in members if not said.start <= at < said.end):
        return []
    before = [i for i in open_to if mentions[i].end <= said.start and text.same_sentence(mentions[i].start, said.start)]
    if before:
        return _last_group(text, mentions, before)
    nearest = [
        i for i in open_to if mentions[i].start >= said.end and text.same_sentence(mentions[i].start, said.start)
    ]
    return [i for i in nearest if clause[mentions[i].start] == clause[mentions[nearest[0]].start]]


def _last_group(text: Text, mentions: Mentions, candidates: Sequence[int]) -> list[int]:
    """The last mention and those right before it with only small words between."""
    group = [candidates[-1]]
    for at in reversed(candidates[:-1]):
        one, other = mentions[at], mentions[group[-1]]
        if not text.same_clause(one.start, other.start) or not text.only_small(one.end, other.start):
            break
        group.append(at)
    return group


def questions(text: Text, mentions: Mentions) -> Mentions:
    """ "a van?" is doubtful; "is it a van? yes" is not; "is it a van? no" denies it.

    Only the clause that was asked: in "silver saloon, plugged in? no" the saloon stands.
    """
    made = list(mentions)
    sentence = text.clauses.sentence
    for asked in (at for at, word in enumerate(text.words) if word.token.asked):
        answer = next((at for at, value in enumerate(sentence) if value == sentence[asked] + 1), None)
        word = text.words[answer].token.text if answer is not None else ""
        for at, mention in enumerate(made):
            if not text.same_clause(mention.start, asked) or mention.attribute in _NOT_OPEN_TO_DOUBT | {"@port"}:
                continue
            if word in ("yes", "yeah", "yep", "yup", "correct", "affirmative", "roger"):
                continue
            if word in ("no", "nope", "negative"):
                made[at] = replace(mention, denied=not mention.denied, weak=False)
            else:
                unsure = any(other.attribute == "@hedge" and other.start == answer for other in mentions)
                made[at] = mention.doubted(Doubt.GUESS if unsure else Doubt.HEDGED)
    return made


def is_place(mention: Mention) -> bool:
    return mention.attribute in _PLACES


def claims(word: str) -> bool:
    """Whether a word left over may own a place: a person or a part."""
    return word in keys("people") or word in keys("people_driving") or word in keys("parts")


MODIFIERS: tuple[Callable[[Text, Mentions], Mentions], ...] = (
    corrections,
    elsewhere,
    alternatives,
    negation,
    hedges,
    questions,
)
