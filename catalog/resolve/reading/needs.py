"""Named conditions of the phrase table: does the saying at words [start, end) mean what it seems to?

Each takes the scan and the range, looks at neighbouring words only (or, where said, at the whole
text), and answers yes or no.
"""

from collections.abc import Callable, Mapping

from catalog.resolve.reading.needs_energy import (
    american_gas,
    charging_lead,
    filler_beside_port,
    gas_burnt,
    gas_filler_beside_port,
    gas_said,
    gear_control,
    light_vehicle,
    no_port_in_clause,
    not_american,
    not_fuelled,
    plug_noun,
    port_in_clause,
    port_said,
)
from catalog.resolve.reading.needs_looks import (
    COLOUR,
    before_vehicle,
    hatch_body,
    hired_cab,
    paint,
    paint_not_police,
    vehicle_size,
)
from catalog.resolve.reading.scan import BODY, LOOKS, Scan
from catalog.resolve.reading.tokens import PAUSE, STOP
from catalog.resolve.reading.words import exactly, keys


def _upper(scan: Scan, start: int, end: int) -> bool:
    """Police codes that are also English words count in capitals only."""
    return all(word.token.upper or word.token.text.isdigit() for word in scan.words[start:end])


def _joined(scan: Scan, start: int, end: int) -> bool:
    """ "P/U", "p.u." but not "p u"."""
    return all(scan.words[at].token.parted == 0 for at in range(start + 1, end)) or _upper(scan, start, end)


def _not_collecting(scan: Scan, start: int, end: int) -> bool:
    return scan.before(start) not in exactly("collecting_before") and scan.next(end) not in exactly("collecting_after")


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
        scan.before(start) in ("the", "some") or scan.says(start - 1, COLOUR)
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


def _goes_on(scan: Scan, start: int, end: int) -> bool:
    """ "either red or blue", not "and no lever either, just buttons"."""
    return scan.next(end) != ""


NEEDS: Mapping[str, Callable[[Scan, int, int], bool]] = {
    "upper": _upper,
    "joined": _joined,
    "not_collecting": _not_collecting,
    "hatch_body": hatch_body,
    "vehicle_size": vehicle_size,
    "before_vehicle": before_vehicle,
    "paint": paint,
    "paint_not_police": paint_not_police,
    "plug_noun": plug_noun,
    "port_said": port_said,
    "not_fuelled": not_fuelled,
    "side_left": _side_left,
    "side_right": _side_right,
    "back_place": _back_place,
    "code_or_beside": _code_or_beside,
    "not_person_before": _not_person_before,
    "no_port_in_clause": no_port_in_clause,
    "port_in_clause": port_in_clause,
    "another_vehicle": _another_vehicle,
    "side_viewed": _side_viewed,
    "gear_control": gear_control,
    "before_place": _before_place,
    "charging_lead": charging_lead,
    "goes_on": _goes_on,
    "hired_cab": hired_cab,
    "counts_second": _counts_second,
    "american_gas": american_gas,
    "gas_said": gas_said,
    "filler_beside_port": filler_beside_port,
    "gas_filler_beside_port": gas_filler_beside_port,
    "light_vehicle": light_vehicle,
    "gas_burnt": gas_burnt,
    "not_american": not_american,
}
