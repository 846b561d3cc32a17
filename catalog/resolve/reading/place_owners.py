"""Whose a place is: the port's, something else's that is said beside it, or nobody's.

What is said right before a place owns it ("TAVRIN across the back", "flap on the left"), at the head of a
clause what follows ("on the left there's a flap"); else the nearest, the port first.
"""

from bisect import bisect_left
from collections.abc import Sequence

from catalog.resolve.reading.mention import Mention, Text, is_place
from catalog.resolve.reading.words import keys

# What goes on about the vehicle without having a place on it.
_CLAIMING = frozenset(
    (
        "fire", "smoke", "vapour", "jet", "hiss", "pop", "odour", "leak", "damage", "damage_front", "damage_rear",
        "damage_left", "damage_right", "damage_under", "damage_roof", "casualty", "orange_cable",
        "wheel_off_ground",
    )
)  # fmt: skip
# Saying one of these is speaking of the port.
PORTISH = frozenset(("@port", "port_cover", "door_mechanism", "connector"))
# Looks that have their own place: "no grille at the front".
LOOKS = frozenset(
    (
        "front_face", "front_lamps", "rear_lamps", "tailpipe", "handles", "roof", "selector", "start", "screen",
        "wheels", "cable", "marking", "@tank",
    )
)  # fmt: skip
# What may stand in letters on the bodywork.
LETTERED = frozenset(("name", "propulsion", "marking", "fuel"))
_LETTERED_AT = frozenset(
    (
        "on",
        "over",
        "across",
        "along",
        "low",
        "up",
        "down",
        "of",
        "at",
        "in",
        "mid",
        "middle",
        "right",
        "centred",
        "centered",
        "central",
        "centre",
        "center",
        "both",
        "each",
    )
)
_READS = frozenset(
    ("say", "says", "said", "read", "reads", "reading", "written", "badged", "marked", "lettering", "name")
)
_LETTERING = _READS | _LETTERED_AT
_OWNING_SCENE = frozenset(("charger_attached", "port_damaged", "port_reachable"))
NEAR = 12
_FUELS = frozenset(("petrol", "fuel", "diesel", "gasoline", "gas", "benzine"))
# Words that say no more than that something is there.
_THERE = frozenset(
    ("sit", "sits", "set", "located", "found", "fitted", "mounted", "placed", "positioned", "situated", "lie", "tucked",
     "hidden", "further", "along", "adjacent", "position", "location", "itself", "slightly", "nearer", "stands",
     "stand", "flank", "way", "seen", "see", "installed", "sited", "roughly", "little", "exact", "exactly", "place")
)  # fmt: skip


class Parts:
    """The mentions of a text by the part of a sentence they stand in."""

    def __init__(self, text: Text, mentions: Sequence[Mention]) -> None:
        self.text = text
        self.covered = [False] * len(text.words)
        self._by_part: dict[int, list[Mention]] = {}
        self._places: dict[int, int] = {}
        part = text.clauses.part
        for mention in mentions:
            here = part[mention.start]
            self._by_part.setdefault(here, []).append(mention)
            if is_place(mention):
                self._places[here] = self._places.get(here, 0) + 1
            if mention.attribute != "@trap":
                for first, last in mention.ranges:
                    self.covered[first:last] = [True] * (last - first)
        known = [(small, word.key in _THERE) for word, small in zip(text.words, text.small, strict=True)]
        words = zip(part, self.covered, known, strict=True)
        self._unexplained = {here for here, covered, small in words if not covered and not small[0] and not small[1]}

    def near(self, word: int) -> list[Mention]:
        """The mentions in the part of a word; of very many those nearest to it."""
        found = self._by_part.get(self.text.clauses.part[word], [])
        if len(found) <= 2 * NEAR:
            return found
        at = bisect_left(found, word, key=lambda mention: mention.start)
        return found[max(0, at - NEAR) : at + NEAR]

    def places(self, word: int) -> int:
        """How many place mentions the part of a word holds."""
        return self._places.get(self.text.clauses.part[word], 0)

    def explained(self, word: int) -> bool:
        """Whether nothing in the part of a word is left over."""
        return self.text.clauses.part[word] not in self._unexplained

    def words(self, word: int) -> range:
        """The words of the part of a word; of very many those nearest to it."""
        part = self.text.clauses.part
        start, end = bisect_left(part, part[word]), bisect_left(part, part[word] + 1)
        return range(max(start, word - 2 * NEAR), min(end, word + 2 * NEAR))


def may_own(mention: Mention) -> bool:
    """Whether a place may be this mention's."""
    if mention.attribute == "scene":
        return bool(set(mention.values) & _CLAIMING) or is_portish(mention)
    return mention.attribute in PORTISH or mention.attribute in LOOKS


def is_portish(mention: Mention) -> bool:
    """Whether saying this is speaking of the charge port."""
    if mention.attribute == "scene":
        return bool(_OWNING_SCENE & set(mention.values))
    return mention.attribute in PORTISH


def owner_of(run: Sequence[Mention], parts: Parts) -> Mention | None:
    """What the place of a run of place words is of, as above."""
    start, end = run[0].start, max(entry.end for entry in run)
    text = parts.text
    here = parts.near(start)
    letters = _lettering(run, parts)
    if letters is not None:
        return letters
    if _for_fuel(text, end):
        return Mention("@tank", ("tank",), end, end)
    found = [mention for mention in here if may_own(mention)]
    ports = sorted((m for m in found if is_portish(m)), key=lambda m: m.attribute != "@port")
    beside = [m for m in found if m.end <= start and text.only_small(m.end, start)]
    if ports and parts.places(start) == len(run) and (not beside or any(map(is_portish, beside))):
        return ports[0]
    found += [
        Mention("@claim", ("claim",), at, at + 1)
        for at in parts.words(start)
        if not parts.covered[at] and claims(text.words[at].key)
    ]
    if not found:
        return None
    return min(found, key=lambda m: (start - m.end if m.end <= start else m.start - end, m.start > start))


def _lettering(run: Sequence[Mention], parts: Parts) -> Mention | None:
    """ "it says hybrid on the back", "PX over on the right", "at the back DUNFALLOW": the place of letters."""
    start, end = run[0].start, max(entry.end for entry in run)
    text = parts.text
    lettered = [m for m in parts.near(start) if m.attribute in LETTERED]
    for mention in lettered:
        if mention.end > start or not _between(parts, mention.end, start):
            continue
        leads = any(text.words[at].key in _LETTERED_AT for at in range(mention.end, start + 1))
        written = _written(text, mention)
        if written or (leads and (mention.attribute == "name" or _read_out(text, mention))):
            return mention
    if any(is_portish(m) and m.end <= start for m in parts.near(start)):
        return None
    after = (m for m in lettered if m.start >= end and _between(parts, end, m.start))
    return next((m for m in after if _shown(text, m)), None)


def _for_fuel(text: Text, end: int) -> bool:
    """ "one left rear for petrol": where petrol goes in."""
    after = [text.words[at].token.text for at in range(end, min(len(text.words), end + 3)) if text.same_clause(end, at)]
    return after[:1] == ["for"] and bool(_FUELS & set(after))


def _between(parts: Parts, start: int, end: int) -> bool:
    """Only small words and words of lettering stand in [start, end)."""
    text = parts.text
    return all(text.small[at] or text.words[at].key in _LETTERING for at in range(start, end))


def _shown(text: Text, mention: Mention) -> bool:
    """Read out, or in capitals among small letters."""
    return _written(text, mention) or _read_out(text, mention)


def _read_out(text: Text, mention: Mention) -> bool:
    at = mention.start
    return any(text.words[place].token.text in _READS for place in range(max(0, at - 3), at))


def _written(text: Text, mention: Mention) -> bool:
    """A name in capitals among small letters is lettering: "RUDDICOTT left, V6 right"."""
    at = mention.start
    if mention.attribute not in LETTERED or not text.words[at].token.upper:
        return False
    beside = [
        text.words[place].token
        for place in (at - 2, at - 1, mention.end, mention.end + 1)
        if 0 <= place < len(text.words)
    ]
    return any(not token.upper and token.text.isalpha() for token in beside)


def claims(word: str) -> bool:
    """Whether a word left over may own a place: a person or a part."""
    return word in keys("people") or word in keys("people_driving") or word in keys("parts")
