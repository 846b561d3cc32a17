"""Vehicles that stand in some relation to ours: "into a parked lorry", "the fella on the red motorbike".

A vehicle of another body than ours, named after ours, is another one where a word of relation stands before it, where
somebody is on it, where it is there "also", or where "there's" brings it in.
"""

from collections.abc import Iterator, Sequence

from catalog.resolve.cue import ANOTHER, ASKED
from catalog.resolve.reading.mention import Mention
from catalog.resolve.reading.scan import Scan
from catalog.resolve.reading.tokens import PAUSE
from catalog.resolve.reading.vehicle_phrases import IDENTITY, Work, take
from catalog.resolve.reading.words import exactly, keys

_RELATIONS = frozenset(
    ("by", "into", "under", "underneath", "beneath", "behind", "beside", "alongside", "against", "onto", "atop", "hit",
     "hitting", "boned", "struck", "clipped", "rammed", "shunted", "near", "pulling", "towing", "carrying", "pushing",
     "between", "across", "opposite", "nudged", "sideswiped", "crushed", "tboned", "overtaking", "following")
)  # fmt: skip
_TWO_WORDS = frozenset(
    ("next to", "close to", "top of", "front of", "ahead of", "side of", "collision with", "collided with",
     "crash with", "crashed with", "accident with", "tangled with", "involved with", "contact with", "back of",
     "rear of", "nose of", "tail of", "bonnet of", "boot of", "roof of", "hood of", "bed of", "deck of", "along with",
     "together with", "swerved for", "avoid a", "down on")
)  # fmt: skip
_PASSED = frozenset(("the", "a", "an", "of", "that", "this", "parked", "stationary", "moving", "oncoming", "passing"))
# "beside it stands a yellow bus"
_OURS_THERE = frozenset(("it", "this", "us", "mine", "ours", "is", "stands", "was", "sits", "lies"))
_NOT_BEFORE = frozenset(("converted", "made", "turned", "built", "rebuilt", "made", "changed"))
_ON = frozenset(("on", "in", "from", "riding", "driving", "off"))
_ALSO = frozenset(("also", "too", "involved"))
_BRINGS = frozenset(("theres", "there", "plus"))
_ASKS = frozenset(("or", "like", "than", "be", "its", "maybe", "not", "as", "called", "either"))
_CARRIED = frozenset(("on_carrier", "under_vehicle", "over_vehicle", "towing"))
_HURTS = frozenset(("casualty", "danger_to_life"))
_FAR = 6


def related(work: Work) -> None:
    """Give to B what such a vehicle is described by."""
    for place, body in enumerate(work.mentions):
        if body.attribute != "body" or place in work.of:
            continue
        opens = _opens(work, body.start)
        if _named_again(work, body, opens):
            _what_it_is(work, place)
            continue
        before = [word.token.text for word in work.text.words[max(work.text.clause_start(opens), opens - _FAR) : opens]]
        on_it = _on_it(before)
        told = on_it or _related(before) or _also(work, body, opens) or _brought_in(before)
        if told and _is_another(work, place):  # last: it looks at all that was said before
            take(work, opens, body.end)
            if on_it:
                _give_hurts(work, body)
            work.loose.add(work.text.clauses.sentence[opens])


def _opens(work: Work, body: int) -> int:
    """The first word of a body's looks, without the article."""
    words = work.text.words
    at = body
    while at > 0 and body - at < _FAR and words[at].token.parted < PAUSE and not work.text.small[at - 1]:
        before = words[at - 1].token.text
        if before in _RELATIONS or before in _PASSED or before in ("on", "in"):
            break
        at -= 1
    return at


def _named_again(work: Work, body: Mention, opens: int) -> bool:
    """ "hit a school bus, the bus is yellow": the body of the other one, pointed at."""
    words = work.text.words
    pointed = opens > 0 and words[opens - 1].token.text in ("the", "that", "this")
    key = words[body.end - 1].key
    if not pointed or key not in work.named[ANOTHER] - work.named[ASKED]:
        return False
    return not any(
        word.key == key
        for place, mention in enumerate(work.mentions)
        if mention.attribute == "body" and mention.start < opens - 1 and work.of.get(place, ASKED) == ASKED
        for word in words[mention.start : mention.end]
    )


def _what_it_is(work: Work, place: int) -> None:
    """ "the truck is orange and the auto was yellow": its looks up to the next vehicle."""
    body = work.mentions[place]
    end = min(work.text.clause_end(body.start), body.end + _FAR)
    work.of[place] = ANOTHER
    for after in work.between(body.end, end):
        mention = work.mentions[after]
        joined = any(word.key in ("and", "but") for word in work.text.words[body.end : mention.start])
        if joined or mention.attribute not in IDENTITY or mention.attribute == "body":
            break
        work.of.setdefault(after, ANOTHER)


def _is_another(work: Work, place: int) -> bool:
    """Whether ours was given a body before, and quite another one."""
    values, some = set(work.mentions[place].values), False
    for at, mention in enumerate(work.mentions[:place]):
        if mention.attribute == "body" and work.of.get(at, ASKED) == ASKED:
            if values.intersection(mention.values):
                return False
            some = True
    return some


def _related(before: Sequence[str]) -> bool:
    last = len(before)
    while last and before[last - 1] in _PASSED and " ".join(before[max(0, last - 2) : last]) not in _TWO_WORDS:
        last -= 1
    while last > 1 and before[last - 1] in _OURS_THERE:
        last -= 1
    said = before[:last]
    if not said or (len(said) > 1 and said[-2] in _NOT_BEFORE):
        return False
    return said[-1] in _RELATIONS or " ".join(said[-2:]) in _TWO_WORDS


def _on_it(before: Sequence[str]) -> bool:
    """ "the fella on the red motorbike", "a lady in the estate"."""
    said = [word for word in before if word not in ("the", "a", "an", "that")]
    if len(said) < 2 or said[-1] not in _ON:
        return False
    who = said[-2]
    return who in exactly("people") or who in exactly("bystanders") or who in exactly("people_driving")


def _give_hurts(work: Work, body: Mention) -> None:
    """ "the lad on the blue moped is hurt": who is hurt there is the other's."""
    for place in work.between(body.end, work.text.clause_end(body.start)):
        mention = work.mentions[place]
        if mention.attribute == "scene" and _HURTS.issuperset(mention.values):
            work.of.setdefault(place, ANOTHER)


def _also(work: Work, body: Mention, opens: int) -> bool:
    """ "orange motorcycle also down", "a red van is involved"."""
    words = work.text.words
    end = min(work.text.clause_end(body.start), body.end + 4)
    after = [word.token.text for word in words[body.end : end]]
    return bool(_ALSO.intersection(after)) and work.text.same_clause(opens, body.start)


def _brought_in(before: Sequence[str]) -> bool:
    """ "then theres a red four wheel drive"."""
    last = len(before)
    return last > 0 and (before[-1] in _BRINGS or before[-2:] == ["there", "is"]) and not _ASKS.intersection(before)


def others_named(scan: Scan, mentions: Sequence[Mention]) -> list[Mention]:
    """The bodies of other vehicles inside what was read whole: "on a recovery lorry", "under a truck", "2nd bus"."""
    made: list[Mention] = []
    for mention in mentions:
        whole = mention.attribute == "scene" and _CARRIED.issuperset(mention.values) and not mention.denied
        if whole or mention.attribute == "@other":
            made += _inside(scan, mention)
    return made


def _inside(scan: Scan, said: Mention) -> Iterator[Mention]:
    recovery = any(scan.words[at].key in ("recovery", "breakdown", "tow") for at in range(said.start, said.end))
    for at in range(said.start, said.end):
        key = scan.words[at].key
        if key in _CARRIERS or (key == "tow" and scan.key(at + 1) == "truck"):
            yield from _carrier(at, said.end, key)
        for end, meanings in scan.ends[at]:
            tow = at > 0 and scan.words[at - 1].key == "tow"
            if end > said.end or tow or key in keys("parts"):
                continue
            found = [meaning for meaning in meanings if meaning.attribute == "body"]
            for meaning in found:
                yield Mention("body", meaning.values, at, end, vehicle=ANOTHER)
            if found and recovery:
                yield Mention("marking", ("recovery",), at, end, vehicle=ANOTHER)
            if found:
                break


_CARRIERS = {"tilt": "lorry", "loader": "lorry", "lowloader": "lorry"}


def _carrier(at: int, end: int, key: str) -> Iterator[Mention]:
    if key in _CARRIERS:
        yield Mention("body", (_CARRIERS[key],), at, end, vehicle=ANOTHER)
    else:
        yield Mention("marking", ("recovery",), at, end, vehicle=ANOTHER)
