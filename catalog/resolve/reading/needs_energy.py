"""Named conditions of the phrase table about what drives a vehicle and what charges it."""

from catalog.resolve.reading.scan import Scan
from catalog.resolve.reading.tokens import STOP
from catalog.resolve.reading.words import exactly

_PLUG_THINGS = frozenset(
    ("bit", "spot", "point", "inlet", "port", "socket", "hole", "place", "cable", "lead", "flap", "door", "lid", "area",
     "connector", "side", "cover", "cord", "thing")
)  # fmt: skip
_SUPPOSED = frozenset(
    ("where", "would", "normally", "usually", "normal", "like", "instead", "should", "wld", "ordinary", "same", "usual",
     "behind", "as", "used")
)  # fmt: skip
_LIGHT = frozenset(
    ("scooter", "scooty", "rickshaw", "trike", "tricycle", "bike", "moped", "boda", "motorbike", "motorcycle",
     "wheeler", "tuk", "toto", "cycle", "ebike", "escooter", "erickshaw", "quad", "pillion", "rider")
)  # fmt: skip
# What speaks of a port beside the port words.
_PORT_TOO = frozenset(("door", "plugged"))
_LEADS_TOO = frozenset(("plugged", "cord"))
_CHARGING = frozenset(("charge", "charging", "charger", "plug", "plugged", "socket", "chg"))
_FUELS = frozenset(("petrol", "diesel", "gasoline", "unleaded"))


def plug_noun(scan: Scan, start: int, end: int) -> bool:
    """ "a plug-in" is a kind of vehicle; "it plugs in on the left", "you plug in at the back" are places."""
    after = scan.next(end)
    placed = after in exactly("around") or after in exactly("place_words") or after in _PLUG_THINGS
    return scan.words[start].token.text != "plugs" and not placed and scan.before(start) not in ("to", "you")


def port_said(scan: Scan, start: int, end: int) -> bool:
    """A charge port is spoken of somewhere in the text."""
    return scan.charged or scan.anywhere(_PORT_TOO)


def not_fuelled(scan: Scan, start: int, end: int) -> bool:
    """Nothing else in the text says petrol or diesel, so the flap may be the charge port's."""
    return not scan.outside(start, end, _FUELS) and not filler_beside_port(scan, start, end)


def light_vehicle(scan: Scan, start: int, end: int) -> bool:
    """A scooter, a rickshaw: its battery is what drives it. A car's battery says nothing."""
    return scan.anywhere(_LIGHT)


def filler_beside_port(scan: Scan, start: int, end: int) -> bool:
    """A petrol cap that is there, where a charge port is spoken of too: not "where the petrol cap would be"."""
    first, last = scan.clause(start, end)
    near = [
        scan.words[at].token.text for at in range(max(first, start - 5), min(last, end + 4)) if not start <= at < end
    ]
    if any(word in _SUPPOSED for word in near) or scan.before(start) in ("no", "not", "without", "under"):
        return False
    return scan.outside(start, end, _CHARGING)


def gas_filler_beside_port(scan: Scan, start: int, end: int) -> bool:
    return scan.side == "right" and filler_beside_port(scan, start, end)


def gear_control(scan: Scan, start: int, end: int) -> bool:
    """Not the knob of something else: lights, radio, heater."""
    first, last = scan.clause(start, end)
    return not any(scan.words[at].token.text in exactly("other_controls") for at in range(first, last))


def no_port_in_clause(scan: Scan, start: int, end: int) -> bool:
    first, last = scan.clause(start, end)
    return not any(scan.words[at].key in exactly("port_words") for at in range(first, last))


def port_in_clause(scan: Scan, start: int, end: int) -> bool:
    return not no_port_in_clause(scan, start, end)


def gas_said(scan: Scan, start: int, end: int) -> bool:
    """Gas that drives a vehicle: a badge in capitals, a clause of its own, or with a verb or a vehicle."""
    if scan.key(end) in exactly("gas_things") or (end - start == 1 and scan.before(start) in exactly("gas_before")):
        return False
    badge = scan.words[start].token.upper and scan.cased
    return end - start > 1 or badge or (not scan.before(start) and not scan.next(end))


def american_gas(scan: Scan, start: int, end: int) -> bool:
    """Where traffic keeps right "gas" is petrol, but not on a badge."""
    badge = scan.words[start].token.upper and scan.cased
    return scan.side == "right" and not badge and gas_said(scan, start, end)


def gas_burnt(scan: Scan, start: int, end: int) -> bool:
    return gas_said(scan, start, end) and not american_gas(scan, start, end)


def not_american(scan: Scan, start: int, end: int) -> bool:
    return not (scan.side == "right" and scan.words[end - 1].key == "gas")


_OTHER_LEADS = frozenset(
    ("belong", "neighbour", "neighbor", "trimmer", "mower", "kettle", "extension", "hoover", "jump", "phone", "dog")
)


def charging_lead(scan: Scan, start: int, end: int) -> bool:
    """A charging cable's colour: a port is spoken of, and the sentence is of nothing else that has a lead."""
    words = scan.words
    while start > 0 and words[start].token.parted < STOP:
        start -= 1
    while end < len(words) and words[end].token.parted < STOP:
        end += 1
    if any(word.key in _OTHER_LEADS for word in words[start:end]):
        return False
    return scan.charged or scan.anywhere(_LEADS_TOO)
