"""Places that only some vehicles have: contacts on a bus's roof, the saddle of a motorcycle, and between doors."""

from catalog.resolve.reading.mention import Mention
from catalog.resolve.reading.scan import Scan

_BUSES = frozenset(("bus", "coach", "decker", "minibus", "tram", "trolleybus", "pantograph", "panto"))
_CONTACTS = frozenset(("pantograph", "panto", "contact", "collector", "conductive", "overhead"))
_THINGS = frozenset(("point", "spot", "thing", "something", "socket", "port", "charging", "charger", "rig", "rail"))
_MORE = frozenset(("another", "second", "2nd", "also", "other", "well", "too", "plus", "additional"))


def roof_contacts(scan: Scan) -> list[Mention]:
    """ "a pantograph", "second contact on the roof" of a bus: a port of its own, on the roof."""
    if not scan.anywhere(_BUSES):
        return []
    made: list[Mention] = []
    for at, word in enumerate(scan.words):
        if word.key not in ("roof", "pantograph", "panto") or (made and at - made[-1].end < _SAME_CONTACT):
            continue
        first, last = scan.clause(at, at + 1)
        around = {scan.words[place].token.text for place in range(max(first, at - 7), min(last, at + 7))}
        around |= {scan.words[place].key for place in range(max(first, at - 7), min(last, at + 7))}
        if around & _CONTACTS or (around & _THINGS and around & _MORE):
            made.append(Mention("@port", ("contact",), at, at + 1))
            made.append(Mention("@level", ("roof",), at, at + 1, apart=True))
    return made


_SAME_CONTACT = 8
_AT_SADDLE = frozenset(("by", "beside", "near", "before", "ahead", "frontof"))
_TWO_WHEELED = frozenset(("scooter", "motorcycle", "motorbike", "moped", "boda", "motorscooter"))


def between_doors(scan: Scan) -> list[Mention]:
    """ "between the two doors": halfway along, and no count of doors."""
    made = []
    for at, word in enumerate(scan.words):
        if word.key == "door" and scan.before(at) in ("the", "two", "both") and word.token.text == "doors":
            start = at
            while scan.before(start) in ("the", "two", "both"):
                start -= 1
            if scan.before(start) == "between":
                made.append(Mention("@end", ("middle",), start - 1, at + 1))
    return made


def saddles(scan: Scan) -> list[Mention]:
    """ "by the seat", "ahead of the tank" of a motorcycle: halfway along, whatever else the words say."""
    if not scan.anywhere(_TWO_WHEELED):
        return []
    made = []
    for at, word in enumerate(scan.words):
        if word.key not in ("seat", "saddle", "sit", "tank"):
            continue
        start = at
        while scan.before(start) in ("the", "riders", "his", "where", "you", "they", "of", "front", "he", "drivers"):
            start -= 1
        sits = word.key == "sit" and scan.before(start) in ("under", "below")
        if sits or scan.before(start) in _AT_SADDLE:
            made.append(Mention("@end", ("middle",), start - 1, at + 1))
    return made
