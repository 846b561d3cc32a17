"""Parts and what they are like, said in any order: "tall skinny brake lights", "the handles? they poke out".

What is said belongs to the noun right after it ("round headlights"), else to the noun before it
("headlights are round"); a few words may stand between, but no other part and no "not".
"""

from collections.abc import Callable, Mapping, Sequence, Set

from catalog.resolve.reading.lamps_said import LAMP, elsewhere, lamps_said
from catalog.resolve.reading.mention import LINKS, Mention
from catalog.resolve.reading.needs import NEEDS
from catalog.resolve.reading.parts import NOT, OR, OTHER, Hit, part_hits, ranges
from catalog.resolve.reading.scan import Scan
from catalog.resolve.reading.tokens import PAUSE, STOP
from catalog.resolve.reading.words import exactly

_FREE_AHEAD = 1  # words that may stand between what is said and the noun after it
_FREE_BEHIND = 5  # ... between "behind" and its noun: "behind the left hand rear | light"
_FREE_PLACE = 3  # ... between a place and its noun: "at the back there are | round lights"
_FREE_APART = 2  # ... between two things said of one noun
_NEAR_PORT = 20
_FREE_AFTER = 6  # ... between a noun and what is said after it
# Parts that may hide a port: "behind the left hand rear light", "the badge tips out".
_HIDING = frozenset(("lampdoor", "badgedoor", "platedoor", "seatdoor"))
# Words that say what covers a port also say where it is.
# What stands before such a noun only: "behind the light", not "the light behind".
_PREPOSITIONS = frozenset(
    ("behind", "under", "underneath", "beneath", "below", "inside", "hidden", "concealed", "tucked", "covered", "back")
)
_LID = "lid"
_LIDS = frozenset(("flap", "lid", "cover"))
_SHARED = _HIDING | {_LID}
# Everything said of these counts, of others only the first.
_ALL = frozenset(("wheels",))
# Of several things said of one noun the first of these counts: a slit low in a plain nose is an intake.
_RANK: Mapping[str, Sequence[str]] = {
    "front_face": ("lower_intake", "flat_glass", "split", "slats", "open_grille", "closed_panel"),
    "tailpipe": ("none", "yes"),
    "selector": ("twist_grip", "pedal", "touch", "buttons", "dial", "stalk", "wand", "stalk|wand", "toggle", "lever"),
}
# What is said of these may stand on both sides of the noun: "smooth | nose | with a slot low down".
_BOTH_SIDES = frozenset(("wheels", "grille", "nose", "gear", "stick", "screen", "pipe")) | _SHARED
# What "no gear lever, just buttons" goes on with.
_ONLY = frozenset(("just", "only"))
_BEING = frozenset(("is", "are", "was", "were", "its", "theyre", "look", "looks", "looked"))
# Words so common that what is said of them stands close by.
_NEAR = {"nose": 4, "opening": 4, "spokes": 1, _LID: 10}
_OF_A_CATCH = frozenset(
    ("release", "bonnet", "hood", "boot", "trunk", "flap", "lid", "handbrake", "wiper", "charge", "charging", "charger",
     "port", "socket", "inlet")
)  # fmt: skip


def read_parts(scan: Scan, taken: Sequence[bool]) -> tuple[list[Mention], list[Mention]]:
    """What is said of lamps, handles, wheels...: (mentions that use up their words, mentions that share them)."""
    hits = part_hits(scan.words, taken)
    own: list[Mention] = []
    shared: list[Mention] = []
    lamps_before = False
    used: set[int] = set()
    for at, hit in enumerate(hits):
        for part in () if at in used else hit.nouns:
            before = _ahead(scan, hits, at, part, used)
            told = any(not _is_place(hits[place], part) for place in before) and part not in _BOTH_SIDES
            places = [*before, *_after(scan, hits, at, part, told)]
            noun = hit
            if at > 0 and NOT in hits[at - 1].likes and hit.start - hits[at - 1].end < 2:
                places = [place for place in places if scan.words[hits[place].start].key in _ONLY]
                noun = hits[places[0]] if places else hit
            said = [hits[place] for place in places]
            if part not in _SHARED:
                used.update(places)
            if part == LAMP:
                own += lamps_said(scan.words, hit, said, lamps_before)
                lamps_before = True
            elif said and _NEEDS.get(part, _always)(scan, hit.start):
                kept = shared if part in _SHARED else own
                kept += [mention for mention in _mentions(scan, noun, part, said) if not _is_kept(mention, kept)]
    return own, shared


def _is_kept(mention: Mention, kept: Sequence[Mention]) -> bool:
    """A "gear selector" is a gear and a stick: what is said of it is said once."""
    return any((m.attribute, m.values, m.start) == (mention.attribute, mention.values, mention.start) for m in kept)


def _ahead(scan: Scan, hits: Sequence[Hit], at: int, part: str, used: Set[int]) -> list[int]:
    """ "tall, skinny | brake lights": positions of what is said right before a noun."""
    made: list[int] = []
    later, free = hits[at], _FREE_BEHIND if part in _HIDING else _FREE_AHEAD
    for place in range(at - 1, -1, -1):
        hit = hits[place]
        one = hit.end - hit.start == 1 and hit.end == later.start
        at_place = _is_place(hit, part)
        room = _FREE_PLACE if at_place else free
        least = STOP if made and one and not at_place else PAUSE
        if later.start - hit.end > room or _parting(scan, hit.end, later.start) >= least:
            break
        if place in used or hit.nouns or NOT in hit.likes or (OR in hit.likes and not made):
            break
        if made and _parting(scan, hit.end, later.start) >= PAUSE and _has_noun_before(hits, place, part):
            break
        if OR not in hit.likes:
            if part not in hit.likes:
                continue
            if (at_place or not made) and _linked(scan, hit.end, later.start):
                break
            if part == LAMP and elsewhere(hits[at], hit):
                break
        made.insert(0, place)
        later, free = hit, _FREE_APART
    return made[1:] if made and OR in hits[made[0]].likes else made


def _has_noun_before(hits: Sequence[Hit], at: int, part: str) -> bool:
    """ "roof | rails, glass roof": what stands right behind a noun is said of that one."""
    return at > 0 and part in hits[at - 1].nouns and hits[at - 1].end == hits[at].start


def _after(scan: Scan, hits: Sequence[Hit], at: int, part: str, told: bool) -> list[int]:
    """ "headlights | are tall and thin": positions of what is said after a noun and not of a noun of its own.

    told: what it is like was said before it, so only where it is may follow.
    """
    made: list[int] = []
    end = hits[at].end
    for place in range(at + 1, len(hits)):
        hit = hits[place]
        if (
            hit.start - end > _NEAR.get(part, _FREE_AFTER)
            or (NOT in hit.likes and part not in hit.likes)
            or _stops(scan, end, hit.start, part == _LID)
        ):
            break
        if OR in hit.likes and not made:
            break
        if part in _HIDING and scan.words[hit.start].key in _PREPOSITIONS:
            continue
        if part in _HIDING and any(word.key in _LIDS for word in scan.words[end : hit.start]):
            break
        if made and hit.start - end > 1 and _linked(scan, end, hit.start):
            break
        if part not in hit.likes and not (made and OR in hit.likes):
            if hit.nouns and part != _LID:
                break
            continue
        if part == LAMP and not hits[at].nouns[part] and _elsewhere(scan, end, hit.start):
            break
        if (not _is_bound(scan, end, hit, part) and _has_own_noun(scan, hits, place)) or (
            told and not _is_place(hit, part)
        ):
            break
        if part == LAMP and elsewhere(hits[at], hit):
            break
        made.append(place)
        end = hit.end
    return made[:-1] if made and OR in hits[made[-1]].likes else made


def _has_own_noun(scan: Scan, hits: Sequence[Hit], at: int) -> bool:
    """Whether a noun that it may be said of follows right after what is said."""
    for place in range(at + 1, min(at + 4, len(hits))):
        parts = hits[place].nouns
        if OTHER in parts:
            return hits[place].start == hits[at].end and scan.words[hits[at].end].token.parted < PAUSE
        for part in parts:
            if part in hits[at].likes and at in _ahead(scan, hits, place, part, frozenset()):
                return True
        if parts:
            return False
    return False


def _is_place(hit: Hit, part: str) -> bool:
    """ "at the back", "front": where a part is, not what it is like."""
    return hit.likes.get(part, "").startswith("@")


def _is_bound(scan: Scan, start: int, hit: Hit, part: str) -> bool:
    """ "roof | is only | canvas", "lights | up front": said of the noun before, whatever follows."""
    if _is_place(hit, part) and hit.start - start < 2:
        return True
    return hit.end - hit.start > 2 or any(scan.words[at].token.text in _BEING for at in range(start, hit.start))


def _elsewhere(scan: Scan, start: int, end: int) -> bool:
    """Any lamp at all, and a comma or "and" between: "behind a lamp, and is oval"."""
    return _parting(scan, start, end) >= PAUSE or any(word.key in ("and", "but") for word in scan.words[start:end])


def _parting(scan: Scan, start: int, end: int) -> int:
    """How strongly the words from `start` to the one at `end` are parted."""
    return max((scan.words[at].token.parted for at in range(start, end + 1)), default=0)


def _linked(scan: Scan, start: int, end: int) -> bool:
    return any(scan.words[at].key in LINKS for at in range(start, end))


def _stops(scan: Scan, start: int, end: int, loosely: bool) -> bool:
    """Whether what stands at `end` is another matter: a stop before it, or a comma and not right after it.

    "headlights? Round ones", "headlights, kind of squinty" go on. loosely: commas never stop.
    """
    for at in range(start, end + 1):
        parted = scan.words[at].token.parted
        if parted == STOP and not scan.words[at - 1].token.asked:
            return True
        if (
            parted >= PAUSE
            and not loosely
            and any(scan.words[word].key not in exactly("function") for word in range(at, end))
        ):
            return True
    return False


def _mentions(scan: Scan, noun: Hit, part: str, said: Sequence[Hit]) -> list[Mention]:
    """One mention for each attribute said."""
    told: dict[str, list[str]] = {}
    for hit in said:
        for pair in hit.likes.get(part, "").split():
            attribute, _, value = pair.partition("=")
            told.setdefault(attribute, []).append(value)
    start, end, also = ranges(scan.words, noun, said)
    if part in _SHARED:
        start, end, also = noun.start, noun.end, tuple((hit.start, hit.end) for hit in said)
    every = part in _ALL or any(OR in hit.likes for hit in said)
    if part == "screen":
        return [Mention(part, (value,), start, end, also=also) for value in dict.fromkeys(told[part])]
    return [
        Mention(attribute, _values(values if every else _first(attribute, values)), start, end, also=also)
        for attribute, values in told.items()
    ]


def _first(attribute: str, values: Sequence[str]) -> Sequence[str]:
    ranked = [value for value in _RANK.get(attribute, ()) if value in values]
    return ranked[:1] or values[:1]


def _values(values: Sequence[str]) -> tuple[str, ...]:
    return tuple(sorted({one for value in values for one in value.split("|")}))


def _always(scan: Scan, at: int) -> bool:
    return True


def _port_near(scan: Scan, at: int) -> bool:
    """A port, its holes or charging are spoken of near by."""
    words = scan.words[max(0, at - _NEAR_PORT) : at + _NEAR_PORT]
    return any(word.key in exactly("port_words") or word.key == "hole" for word in words)


def _plate_near_port(scan: Scan, at: int) -> bool:
    """ "a low slot beneath the plate" is an opening for air."""
    before = scan.words[max(0, at - 4) : at]
    return _port_near(scan, at) and not any(
        word.key in ("slot", "intake", "vent", "slit", "opening") for word in before
    )


def _not_under_catch(scan: Scan, at: int) -> bool:
    """ "the catch under the seat" releases a lid; the port is elsewhere."""
    first, last = scan.clause(at, at + 1)
    if any(scan.words[word].key in ("catch", "release", "lever", "handle", "latch") for word in range(first, last)):
        return False
    return _port_near(scan, at)


def _not_a_catch(scan: Scan, at: int) -> bool:
    """ "the lever on the dash opens the flap" selects no gear."""
    first, last = scan.clause(at, at + 1)
    return not any(scan.words[word].key in _OF_A_CATCH for word in range(first, last))


_NEEDS: Mapping[str, Callable[[Scan, int], bool]] = {
    "lampdoor": _port_near,
    "badgedoor": _port_near,
    "platedoor": _plate_near_port,
    "seatdoor": _not_under_catch,
    _LID: _port_near,
    "cable": lambda scan, at: NEEDS["charging_lead"](scan, at, at + 1),
    "stick": _not_a_catch,
}
