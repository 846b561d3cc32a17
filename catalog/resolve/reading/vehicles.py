"""Two vehicles in one description: whose each thing said is.

The vehicle asked about is A; another is B. "hit by a blue bus", "the other car is white" and "the one in
front" speak of B; of two described as equals ("a white van and a red estate") the first is A, unless
something says which one is asked about ("it's the estate that's electric"). Once both have a body,
"the bus" and "the van" say whose turn it is.
"""

from collections.abc import Sequence
from dataclasses import replace

from catalog.resolve.cue import ANOTHER, ASKED
from catalog.resolve.reading.mention import Mention, Mentions, Text
from catalog.resolve.reading.vehicle_beside import beside, equals, stood_beside
from catalog.resolve.reading.vehicle_phrases import Work
from catalog.resolve.reading.vehicle_related import related
from catalog.resolve.reading.vehicle_turns import by_subject

# How ours stands to another vehicle or to the caller: never said of the other one.
_OF_OURS = frozenset(
    (
        "towing",
        "on_carrier",
        "under_vehicle",
        "over_vehicle",
        "caller_inside",
        "caller_beside",
        "caller_away",
        "caller_passing",
        "coupler_carried",
    )
)
_BESIDE_WORDS = frozenset(
    ("beside", "behind", "alongside", "also", "too", "involved", "underneath", "under", "next", "front", "well", "with",
     "across", "opposite", "hit", "into", "nearby", "top")
)  # fmt: skip


def vehicles(text: Text, mentions: Mentions) -> Mentions:
    """The mentions, each with its vehicle."""
    if not mentions or not _two_spoken_of(text, mentions):
        return mentions
    work = Work(text, mentions, [mention.start for mention in mentions])
    for place, mention in enumerate(mentions):
        if mention.vehicle == ANOTHER:
            work.of[place] = ANOTHER
            work.named[ANOTHER] |= {word.key for word in text.words[mention.start : mention.end]}
    beside(work)
    equals(work)
    stood_beside(work)
    related(work)
    by_subject(work)
    swap = (work.equals or work.outright) and ANOTHER in work.asked and ASKED not in work.asked
    if swap:
        first = dict.fromkeys(work.first, ANOTHER)
        turned = {place: ASKED if vehicle == ANOTHER else ANOTHER for place, vehicle in work.of.items()}
        work.of = first | turned
    return [
        replace(mention, vehicle=work.of[place])
        if work.of.get(place, ASKED) != mention.vehicle
        and not (mention.attribute == "scene" and _OF_OURS.issuperset(mention.values))
        else mention
        for place, mention in enumerate(mentions)
    ]


def _two_spoken_of(text: Text, mentions: Sequence[Mention]) -> bool:
    """Most descriptions are of one vehicle: two bodies, or a word for another one."""
    if any(m.attribute in ("@elsewhere", "@other") or m.vehicle == ANOTHER for m in mentions):
        return True
    bodies = {mention.start for mention in mentions if mention.attribute == "body"}
    if not bodies:
        return False
    said = {word.token.text for word in text.words}
    return len(bodies) > 1 or bool(said & _BESIDE_WORDS) or said.issuperset("12")
