"""Named conditions of the phrase table: does the saying at words [start, end) mean what it seems to?

Each takes the scan and the range, looks at neighbouring words only (or, where said, at the whole
text), and answers yes or no.
"""

from collections.abc import Callable, Mapping

from catalog.resolve.reading.scan import BODY, LOOKS, Scan
from catalog.resolve.reading.tokens import PAUSE, STOP
from catalog.resolve.reading.words import common_words, exactly, keys, lists

_COLOUR = frozenset(("colour",))


def _upper(scan: Scan, start: int, end: int) -> bool:
    """Police codes that are also English words count in capitals only."""
    return all(word.token.upper or word.token.text.isdigit() for word in scan.words[start:end])


def _joined(scan: Scan, start: int, end: int) -> bool:
    """ "P/U", "p.u." but not "p u"."""
    return all(scan.words[at].token.parted == 0 for at in range(start + 1, end)) or _upper(scan, start, end)


def _not_collecting(scan: Scan, start: int, end: int) -> bool:
    return scan.before(start) not in exactly("collecting_before") and scan.next(end) not in exactly("collecting_after")


def _hatch_body(scan: Scan, start: int, end: int) -> bool:
    """ "a blue hatch", not "the hatch is open"."""
    return scan.before(start) != "the" and scan.next(end) not in exactly("hatch_after")


def _vehicle_size(scan: Scan, start: int, end: int) -> bool:
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


def _before_vehicle(scan: Scan, start: int, end: int) -> bool:
    """A vehicle follows, with at most looks between: "dark van", not "it was dark"."""
    return scan.is_vehicle(scan.past_looks(end))


def _paint(scan: Scan, start: int, end: int) -> bool:
    """The vehicle's own colour: not a person's, a street's, a lamp's, a jacket's."""
    if scan.before(start) in lists()["titles"] or _is_street(scan, end) or scan.words[start].token.text == "lights":
        return False
    if scan.before(start) in exactly("not_paint_before") or scan.next(end) in exactly("not_paint_after"):
        return False
    if _is_proper(scan, start, end) or (scan.before(start) == "in" and _person_wears(scan, start)):
        return False
    at = end
    while scan.says(at, _COLOUR) or (scan.key(at) in ("and", "or") and scan.says(at + 1, _COLOUR)):
        at += 1
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
    return any(scan.says(place, _COLOUR) for place in range(first, at - 1))


def _subject(scan: Scan, at: int) -> str:
    """The last word before a position that is no small one: "the lights are | red" -> "lights"."""
    while scan.before(at) in exactly("being") or (scan.before(at) and scan.says(at - 1, _COLOUR)):
        at -= 1
    return "" if at <= 0 or scan.is_vehicle(at - 1) else scan.before(at)


def _other_thing(scan: Scan, at: int) -> bool:
    """A common word follows that says nothing of vehicles, and no vehicle soon after: "gold ring"."""
    if not scan.key(at) or scan.ends[at] or scan.key(at) in keys("function") or scan.key(at) not in common_words():
        return False
    return not any(scan.is_vehicle(later) for later in range(at, at + 4) if later == at or scan.key(later))


def _is_street(scan: Scan, at: int) -> bool:
    word = scan.next(at)
    named = word in lists()["streets"]
    return named and (word not in lists()["street_needs_capital"] or scan.words[at].token.capital)


def _paint_not_police(scan: Scan, start: int, end: int) -> bool:
    """A copper may be an officer."""
    officer = scan.before(start) in ("the", "a") or scan.next(end) in exactly("reporting")
    return (_paint(scan, start, end) and not officer) or scan.is_vehicle(end)


def _plug_noun(scan: Scan, start: int, end: int) -> bool:
    """ "a plug-in" is a kind of vehicle; "it plugs in on the left", "you plug in at the back" are places."""
    after = scan.next(end)
    placed = after in exactly("around") or after in exactly("place_words")
    return scan.words[start].token.text != "plugs" and not placed and scan.before(start) not in ("to", "you")


def _port_said(scan: Scan, start: int, end: int) -> bool:
    """A charge port is spoken of somewhere in the text."""
    return any(word.key in exactly("port_words") or word.key in ("door", "plugged") for word in scan.words)


def _not_fuelled(scan: Scan, start: int, end: int) -> bool:
    """Nothing else in the text says petrol or diesel, so the flap may be the charge port's."""
    others = [word.key for at, word in enumerate(scan.words) if not start <= at < end]
    return not any(key in ("petrol", "diesel", "gasoline", "unleaded") for key in others)


def _side_left(scan: Scan, start: int, end: int) -> bool:
    """Not somebody leaving: "left the scene"."""
    return scan.next(end) not in exactly("after_leaving") or scan.before(start) in exactly("before_a_side")


def _side_right(scan: Scan, start: int, end: int) -> bool:
    """Not "right, it's a van" and not "right at the back"."""
    if scan.before(start) in ("the", "on", "to", "far", "rear", "front", "back"):
        return True
    opens = start == 0 and (end < len(scan.words) and scan.words[end].token.parted >= PAUSE)
    talks = start == 0 and scan.next(end) in ("so", "its", "it", "we", "i", "im", "ok", "okay", "then", "yeah", "there")
    return not (opens or talks or scan.next(end) in exactly("around"))


def _back_place(scan: Scan, start: int, end: int) -> bool:
    return scan.next(end) not in exactly("back_after") and scan.before(start) not in exactly("back_before")


def _code_or_beside(scan: Scan, start: int, end: int) -> bool:
    """In capitals, or beside a word of place or port."""
    beside = (scan.before(start), scan.next(end))
    return _upper(scan, start, end) or any(
        word in exactly("place_words") or word in exactly("port_words") for word in beside
    )


_OUTDOORS = frozenset(
    (
        "lane", "road", "kerb", "wall", "barrier", "bollard", "verge", "ditch", "hedge", "fence", "pavement",
        "junction", "scene", "shop", "house", "gate", "drive", "garage", "bridge", "building", "street",
        "motorway", "carriageway", "shoulder", "roundabout", "field", "tree", "parked",
    )
)  # fmt: skip


def _said_before(scan: Scan, at: int) -> int:
    """Where the same word stands a few words earlier in the sentence, or -1: "crushed, absolutely crushed"."""
    for earlier in range(at - 1, max(-1, at - 5), -1):
        if scan.words[earlier + 1].token.parted >= STOP:
            return -1
        if scan.words[earlier].key == scan.words[at].key:
            return earlier
    return -1


def _not_person_before(scan: Scan, start: int, end: int) -> bool:
    """Whoever smokes is a person if one was just named; "the smoke", "black smoke" is none's."""
    if scan.words[start].token.text == "smoke" and (
        scan.before(start) in ("the", "some") or scan.says(start - 1, _COLOUR)
    ):
        return scan.before(start) != ""
    again = _said_before(scan, start)
    if again >= 0:
        return _not_person_before(scan, again, again + 1)
    at = start
    while scan.before(at):
        at -= 1
        key = scan.words[at].key
        part = key in exactly("place_words") or (key in keys("parts") and key not in _OUTDOORS)
        if scan.is_vehicle(at) or key in ("it", "its") or part:
            return True
        if key in keys("people") or key in exactly("bystanders") or key in keys("people_driving"):
            return False
    return True


def _side_viewed(scan: Scan, start: int, end: int) -> bool:
    """ "from behind" is a viewpoint when sides are spoken of, not where smoke comes from."""
    sides = any(word.token.text in ("left", "right") for word in scan.words)
    return sides and scan.before(start) not in exactly("smoke_sources")


def _gear_control(scan: Scan, start: int, end: int) -> bool:
    """Not the knob of something else: lights, radio, heater."""
    first, last = scan.clause(start, end)
    return not any(scan.words[at].token.text in exactly("other_controls") for at in range(first, last))


def _no_port_in_clause(scan: Scan, start: int, end: int) -> bool:
    first, last = scan.clause(start, end)
    return not any(scan.words[at].key in exactly("port_words") for at in range(first, last))


def _another_vehicle(scan: Scan, start: int, end: int) -> bool:
    """ "hit a bus", "behind another van": a vehicle follows that is not the one described."""
    last = scan.words[end - 1].key
    if last in ("car", "vehicle", "front", "behind") and scan.words[start].key not in ("towed", "tow", "on", "pulled"):
        return True
    if scan.next(end) not in ("a", "an", "another", "the", "some", "this", "that", "one"):
        return scan.is_vehicle(scan.past_looks(end)) and bool(scan.next(end))
    for at in range(end + 1, end + 9):
        if not scan.next(at):
            return False
        if scan.is_vehicle(at):
            return True
    return False


def _gas_said(scan: Scan, start: int, end: int) -> bool:
    """Gas that drives a vehicle: a badge in capitals, a clause of its own, or with a verb or a vehicle."""
    if scan.key(end) in exactly("gas_things") or (end - start == 1 and scan.before(start) in exactly("gas_before")):
        return False
    badge = scan.words[start].token.upper and scan.cased
    return end - start > 1 or badge or (not scan.before(start) and not scan.next(end))


def _american_gas(scan: Scan, start: int, end: int) -> bool:
    """Where traffic keeps right "gas" is petrol, but not on a badge."""
    badge = scan.words[start].token.upper and scan.cased
    return scan.side == "right" and not badge and _gas_said(scan, start, end)


def _gas_burnt(scan: Scan, start: int, end: int) -> bool:
    vehicle = end - start == 2 and scan.words[start].key == "gas" and scan.words[end - 1].key not in ("only", "too")
    return _gas_said(scan, start, end) and (vehicle or not _american_gas(scan, start, end))


def _not_american(scan: Scan, start: int, end: int) -> bool:
    return not (scan.side == "right" and scan.words[end - 1].key == "gas")


def _counts_second(scan: Scan, start: int, end: int) -> bool:
    """ "second is a blue bus", "the other, an orange van": at the head of a clause, and not of a port."""
    first, last = scan.clause(start, end)
    head = scan.before(start) in ("", "the", "and", "but", "unit", "number", "2")
    goes_on = scan.next(end) in ("", "is", "was", "being", "a", "an", "has") or scan.says(end, BODY | LOOKS)
    of_port = any(scan.words[at].key in exactly("port_words") for at in range(first, last))
    return head and goes_on and not of_port


def _before_place(scan: Scan, start: int, end: int) -> bool:
    """ "driver front fender", "passenger rear": the side, not the person."""
    return scan.next(end) in exactly("place_nouns")


def _hired_cab(scan: Scan, start: int, end: int) -> bool:
    """ "the electric cab", "a cab", "a white cab": a taxi; "the cab", "crew cab", "cab door": where a driver sits."""
    if scan.key(end) in exactly("cab_parts") or (scan.key(end) == "and" and scan.key(end + 1) not in ("", "its", "it")):
        return False
    before = scan.before(start)
    if before in exactly("hired") or before in ("a", "my", "our"):
        return True
    if before and before not in common_words() and not before.isdigit() and not scan.ends[start - 1]:
        return True
    return scan.says(start - 1, _COLOUR) and scan.before(start - 1) in ("a", "this", "my", "one") if before else False


def _goes_on(scan: Scan, start: int, end: int) -> bool:
    """ "either red or blue", not "and no lever either, just buttons"."""
    return scan.next(end) != ""


_OTHER_LEADS = frozenset(
    ("belong", "neighbour", "neighbor", "trimmer", "mower", "kettle", "extension", "hoover", "jump", "phone", "dog")
)


def _charging_lead(scan: Scan, start: int, end: int) -> bool:
    """A charging cable's colour: a port is spoken of, and the sentence is of nothing else that has a lead."""
    words = scan.words
    while start > 0 and words[start].token.parted < STOP:
        start -= 1
    while end < len(words) and words[end].token.parted < STOP:
        end += 1
    if any(word.key in _OTHER_LEADS for word in words[start:end]):
        return False
    return any(word.key in exactly("port_words") or word.key in ("plugged", "cord") for word in words)


NEEDS: Mapping[str, Callable[[Scan, int, int], bool]] = {
    "upper": _upper,
    "joined": _joined,
    "not_collecting": _not_collecting,
    "hatch_body": _hatch_body,
    "vehicle_size": _vehicle_size,
    "before_vehicle": _before_vehicle,
    "paint": _paint,
    "paint_not_police": _paint_not_police,
    "plug_noun": _plug_noun,
    "port_said": _port_said,
    "not_fuelled": _not_fuelled,
    "side_left": _side_left,
    "side_right": _side_right,
    "back_place": _back_place,
    "code_or_beside": _code_or_beside,
    "not_person_before": _not_person_before,
    "no_port_in_clause": _no_port_in_clause,
    "another_vehicle": _another_vehicle,
    "side_viewed": _side_viewed,
    "gear_control": _gear_control,
    "before_place": _before_place,
    "charging_lead": _charging_lead,
    "goes_on": _goes_on,
    "hired_cab": _hired_cab,
    "counts_second": _counts_second,
    "american_gas": _american_gas,
    "gas_said": _gas_said,
    "gas_burnt": _gas_burnt,
    "not_american": _not_american,
}
