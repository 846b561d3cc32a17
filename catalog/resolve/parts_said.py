"""Parts and what they are like, said in any order: "tall skinny brake lights", "the handles? they poke out".

What is said belongs to the noun right after it ("round headlights"), else to the noun before it
("headlights are round"); a few words may stand between, but no other part and no "not".
"""

from collections.abc import Callable, Mapping, Sequence

from catalog.resolve.lamps_said import LAMP, elsewhere, lamps_said
from catalog.resolve.mention import LINKS, Mention
from catalog.resolve.needs import Scan
from catalog.resolve.parts import NOT, OR, Hit, part_hits
from catalog.resolve.tokens import PAUSE, STOP
from catalog.resolve.words import exactly

_FREE_AHEAD = 1  # words that may stand between what is said and the noun after it
_FREE_BEHIND = 5  # ... between "behind" and its noun: "behind the left hand rear | light"
_FREE_APART = 2  # ... between two things said of one noun
_FREE_AFTER = 6  # ... between a noun and what is said after it
# Parts that may hide a port: "behind the left hand rear light", "the badge tips out".
_HIDING = frozenset(("lampdoor", "badgedoor", "platedoor", "grilledoor", "seatdoor"))
# Words that say what covers a port also say where it is.
_SHARED = _HIDING | {"lid"}
# Everything said of these counts, of others only the first.
_ALL = frozenset(("wheels",))
_OF_A_CATCH = frozenset(("release", "bonnet", "hood", "boot", "trunk", "flap", "lid", "handbrake", "wiper"))


def read_parts(scan: Scan, taken: Sequence[bool]) -> tuple[list[Mention], list[Mention]]:
    """What is said of lamps, handles, wheels...: (mentions that use up their words, mentions that share them)."""
    hits = part_hits(scan.words, taken)
    own: list[Mention] = []
    shared: list[Mention] = []
    lamps_before = False
    for at, hit in enumerate(hits):
        for part in hit.nouns:
            said = _ahead(scan, hits, at, part)
            said += _after(scan, hits, at, part, bool(said) and part not in _ALL)
            if part == LAMP:
                own += lamps_said(scan.words, hit, said, lamps_before)
                lamps_before = True
            elif said and _NEEDS.get(part, _always)(scan, hit.start):
                (shared if part in _SHARED else own).extend(_mentions(hit, part, said))
    return own, shared


def _ahead(scan: Scan, hits: Sequence[Hit], at: int, part: str) -> list[Hit]:
    """ "tall, skinny | brake lights": what is said right before a noun."""
    made: list[Hit] = []
    later, free = hits[at], _FREE_BEHIND if part in _HIDING else _FREE_AHEAD
    for place in range(at - 1, -1, -1):
        hit = hits[place]
        one = hit.end - hit.start == 1 and hit.end == later.start
        if later.start - hit.end > free or _parting(scan, hit.end, later.start) >= (STOP if made and one else PAUSE):
            break
        if OR not in hit.likes or not made:
            if part not in hit.likes or (not made and _linked(scan, hit.end, later.start)):
                break
        made.insert(0, hit)
        later, free = hit, _FREE_APART
    return made[1:] if made and OR in made[0].likes else made


def _after(scan: Scan, hits: Sequence[Hit], at: int, part: str, told: bool) -> list[Hit]:
    """ "headlights | are tall and thin": what is said after a noun and not of a noun of its own.

    told: what it is like was said before it, so only where it is may follow.
    """
    made: list[Hit] = []
    end, free = hits[at].end, _FREE_AFTER
    for place in range(at + 1, len(hits)):
        hit = hits[place]
        if hit.start - end > free or NOT in hit.likes or _stops(scan, end, hit.start):
            break
        if part not in hit.likes and not (made and OR in hit.likes):
            if hit.nouns:
                break
            continue
        if _has_own_noun(scan, hits, place, part) or (told and not hit.likes[part].startswith("@")):
            break
        if part == LAMP and elsewhere(hits[at], hit):
            break
        made.append(hit)
        end = hit.end
    return made[:-1] if made and OR in made[-1].likes else made


def _has_own_noun(scan: Scan, hits: Sequence[Hit], at: int, part: str) -> bool:
    """Whether a noun of the part follows right after what is said."""
    for place in range(at + 1, min(at + 4, len(hits))):
        if part in hits[place].nouns:
            return hits[at] in _ahead(scan, hits, place, part)
    return False


def _parting(scan: Scan, start: int, end: int) -> int:
    """How strongly the words from `start` to the one at `end` are parted."""
    return max((scan.words[at].token.parted for at in range(start, end + 1)), default=0)


def _linked(scan: Scan, start: int, end: int) -> bool:
    return any(scan.words[at].key in LINKS for at in range(start, end))


def _stops(scan: Scan, start: int, end: int) -> bool:
    """Whether what stands at `end` is another matter: a stop before it, or a comma and not right after it.

    "headlights? Round ones", "headlights, kind of squinty" go on.
    """
    for at in range(start, end + 1):
        parted = scan.words[at].token.parted
        if parted == STOP and not scan.words[at - 1].token.asked:
            return True
        if parted >= PAUSE and any(scan.words[word].key not in exactly("function") for word in range(at, end)):
            return True
    return False


def _mentions(noun: Hit, part: str, said: Sequence[Hit]) -> list[Mention]:
    """One mention for each attribute said."""
    told: dict[str, list[str]] = {}
    for hit in said:
        for pair in hit.likes.get(part, "").split():
            attribute, _, value = pair.partition("=")
            told.setdefault(attribute, []).append(value)
    ranges = [(hit.start, hit.end) for hit in said]
    start = noun.start if part in _SHARED else min([noun.start, *(b for b, e in ranges if e <= noun.start)])
    also = tuple(span for span in ranges if span[0] >= noun.end or part in _SHARED)
    every = part in _ALL or any(OR in hit.likes for hit in said)
    return [
        Mention(attribute, _values(values if every else values[:1]), start, noun.end, also=also)
        for attribute, values in told.items()
    ]


def _values(values: Sequence[str]) -> tuple[str, ...]:
    return tuple(sorted({one for value in values for one in value.split("|")}))


def _always(scan: Scan, at: int) -> bool:
    return True


def _port_in_sentence(scan: Scan, at: int) -> bool:
    """A port or its charging is spoken of in the sentence."""
    first = last = at
    while first > 0 and scan.words[first].token.parted < STOP:
        first -= 1
    while last + 1 < len(scan.words) and scan.words[last + 1].token.parted < STOP:
        last += 1
    return any(scan.words[word].key in exactly("port_words") for word in range(first, last + 1))


def _not_a_catch(scan: Scan, at: int) -> bool:
    """ "the lever on the dash opens the flap" selects no gear."""
    first, last = scan.clause(at, at + 1)
    return not any(scan.words[word].key in _OF_A_CATCH for word in range(first, last))


_NEEDS: Mapping[str, Callable[[Scan, int], bool]] = {
    "lampdoor": _port_in_sentence,
    "badgedoor": _port_in_sentence,
    "platedoor": _port_in_sentence,
    "grilledoor": _port_in_sentence,
    "stick": _not_a_catch,
}
