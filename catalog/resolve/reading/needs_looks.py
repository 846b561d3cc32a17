"""Named conditions of the phrase table about looks: paint, size, body."""

from catalog.resolve.reading.scan import BODY, FAR, Scan
from catalog.resolve.reading.words import common_words, exactly, keys

COLOUR = frozenset(("colour",))
_PAINT = frozenset(("paint", "paintwork", "bodywork", "coloured", "colored"))


def hatch_body(scan: Scan, start: int, end: int) -> bool:
    """ "a blue hatch", not "the hatch is open"."""
    return scan.before(start) not in ("the", "roof", "escape", "no", "of", "front", "top") and scan.next(
        end
    ) not in exactly("hatch_after")


def vehicle_size(scan: Scan, start: int, end: int) -> bool:
    """The size of the vehicle: one follows, with looks and a use between; a name follows; or it stands alone."""
    at = scan.past_looks(end)
    while scan.key(at) in exactly("size_passes") and not scan.is_vehicle(at):
        at = scan.past_looks(at + 1)
    if scan.is_vehicle(at):
        return scan.key(at + 1) not in exactly("size_of_things")
    if scan.key(at):
        return False
    if at > end:
        return scan.cased and scan.words[at - 1].token.capital and scan.words[at - 1].key not in common_words()
    return at == end and (scan.before(start) in exactly("be") or not scan.before(start))


def before_vehicle(scan: Scan, start: int, end: int) -> bool:
    """A vehicle follows, with at most looks between: "dark van", not "it was dark"."""
    return scan.is_vehicle(scan.past_looks(end))


def paint(scan: Scan, start: int, end: int) -> bool:
    """The vehicle's own colour: not a person's, a street's, a lamp's, a jacket's."""
    if scan.before(start) in exactly("titles") or _is_street(scan, end) or scan.words[start].token.text == "lights":
        return False
    if scan.before(start) in exactly("not_paint_before") or scan.next(end) in exactly("not_paint_after"):
        return False
    if _is_proper(scan, start, end) or (scan.before(start) == "in" and _person_wears(scan, start)):
        return False
    at = end
    while scan.says(at, COLOUR) or (scan.key(at) in ("and", "or") and scan.says(at + 1, COLOUR)):
        at += 1
    if scan.key(at) in _PAINT or (scan.next(at) == "one" and _subject(scan, start) not in exactly("things")):
        return True
    if any(scan.key(later) in exactly("thing_ahead") for later in range(at, at + 3) if _runs_on(scan, at, later)):
        return False
    if _subject(scan, start) in exactly("things"):
        return scan.is_vehicle(scan.past_looks(at))
    if scan.is_vehicle(at):
        return scan.key(at + 1) not in exactly("pictures") and scan.next(at) != "ones"
    if scan.key(at) == "roof" and _painted_before(scan, start):
        return True
    return scan.key(at) not in keys("things") and not _other_thing(scan, at)


def _runs_on(scan: Scan, at: int, later: int) -> bool:
    """Whether nothing but plain words stands between: no comma, no vehicle, no link."""
    return all(
        scan.key(place) and scan.key(place) not in ("and", "with", "is", "on", "has") and not scan.says(place, BODY)
        for place in range(at, later + 1)
    )


def _is_proper(scan: Scan, start: int, end: int) -> bool:
    """ "Blackthorn Green", "Brown Willow Hill": part of a name in a text that writes names with capitals."""
    word = scan.words[start].token
    if not (scan.cased and word.capital) or word.upper:
        return False
    before = scan.words[start - 1].token if scan.before(start) else None
    after = scan.words[end] if scan.next(end) else None
    if before is not None and not before.text.isdigit():
        return before.capital or (after is not None and after.token.capital)
    named = after is not None and after.token.capital and not after.token.upper and after.key in common_words()
    return named and not scan.is_vehicle(end) and not scan.ends[end]


def _person_wears(scan: Scan, start: int) -> bool:
    return any(scan.words[at].key in keys("people") for at in range(max(0, start - 4), start) if scan.before(at + 1))


def _painted_before(scan: Scan, at: int) -> bool:
    """ "white with a black roof": two-tone, not the colour of a roof alone."""
    at -= scan.before(at) in ("a", "the", "its")
    if scan.before(at) not in ("with", "and"):
        return False
    first, _ = scan.clause(at - 1, at)
    return any(scan.says(place, COLOUR) for place in range(first, at - 1))


def _subject(scan: Scan, at: int) -> str:
    """The last word not far before a position that is no small one: "the lights are | red" -> "lights"."""
    first = max(0, at - FAR)
    while at > first and (scan.before(at) in exactly("being") or (scan.before(at) and scan.says(at - 1, COLOUR))):
        at -= 1
    return "" if at <= 0 or scan.is_vehicle(at - 1) else scan.before(at)


def _other_thing(scan: Scan, at: int) -> bool:
    """A common word follows that says nothing of vehicles, and no vehicle soon after: "gold ring"."""
    if not scan.key(at) or scan.ends[at] or scan.key(at) in keys("function") or scan.key(at) not in common_words():
        return False
    return not any(scan.is_vehicle(later) for later in range(at, at + 4) if later == at or scan.key(later))


def _is_street(scan: Scan, at: int) -> bool:
    word = scan.next(at)
    named = word in exactly("streets")
    return named and (word not in exactly("street_needs_capital") or scan.words[at].token.capital)


def paint_not_police(scan: Scan, start: int, end: int) -> bool:
    """A copper may be an officer."""
    officer = scan.before(start) in ("the", "a") or scan.next(end) in exactly("reporting")
    return (paint(scan, start, end) and not officer) or scan.is_vehicle(end)


def hired_cab(scan: Scan, start: int, end: int) -> bool:
    """ "the electric cab", "a cab", "a white cab": a taxi; "the cab", "crew cab", "cab door": where a driver sits."""
    if scan.key(end) in exactly("cab_parts") or (scan.key(end) == "and" and scan.key(end + 1) not in ("", "its", "it")):
        return False
    before = scan.before(start)
    if before in exactly("hired") or before in ("a", "my", "our"):
        return True
    if before and before not in common_words() and not before.isdigit() and not scan.ends[start - 1]:
        return True
    return scan.says(start - 1, COLOUR) and scan.before(start - 1) in ("a", "this", "my", "one") if before else False
