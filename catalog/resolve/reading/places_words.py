"""Words of place that are put together from parts, where the phrase table has no saying of one piece.

"at my hip", "hip hgt", "rib-high" are levels; "on my R", "flap L" are sides; `sides_again`: "same side", "the
other side". `tanks` are what petrol goes in: their place is not the port's.
"""

from collections.abc import Sequence

from catalog.resolve.reading.mention import Mention
from catalog.resolve.reading.scan import Scan
from catalog.resolve.reading.tokens import PAUSE, STOP

PLACES = frozenset(("@side", "@end", "@landmark", "@level"))
_LOW = ("ankle", "shin", "knee", "calf", "hubcap", "kneecap", "nee", "kerb", "curb", "step", "shine")
_MID = (
    "hip",
    "waist",
    "belt",
    "thigh",
    "waste",
    "waistline",
    "beltline",
    "navel",
    "groin",
    "waistband",
    "wast",
    "hippy",
)
_HIGH = ("chest", "rib", "shoulder", "armpit", "elbow", "breast", "ribcage", "chin", "neck", "breastbone", "sternum")
_LEVELS = {word: level for level, words in (("low", _LOW), ("mid", _MID), ("high", _HIGH)) for word in words}
# These are a level by themselves, without "height".
_BARE = frozenset(("ankle", "shin", "knee", "hip", "waist", "belt", "chest", "rib", "shoulder", "thigh"))
_UNITS = frozenset(
    ("high", "height", "level", "hi", "hgt", "ht", "hght", "heigth", "hight", "lvl", "line", "tall", "up", "mark")
)
_OWN = frozenset(("my", "your", "a", "the", "mans", "persons", "adults", "ones", "an", "man", "adult", "our", "about"))
_TO = frozenset(
    ("at", "to", "like", "near", "around", "about", "by", "as", "in", "on", "abt", "approx", "roughly", "with")
)
_LEADING = _OWN | _TO
_BEFORE_LIMB = _TO | {"level"}
_NOT_LEVEL = frozenset(
    ("his", "her", "their", "drivers", "riders", "hurt", "broken", "pain", "injured", "injury", "bleeding", "seat")
)
_TANK_OF = frozenset(("petrol", "fuel", "gas", "diesel", "gasoline", "filler", "tank", "unleaded", "benzine", "benzin"))
_FUELS = frozenset(("petrol", "diesel", "gasoline", "unleaded"))
_TANK = frozenset(("cap", "flap", "door", "lid", "filler", "hatch", "cover", "hole", "inlet", "neck"))
_LIKENED = frozenset(
    ("where", "like", "as", "would", "normal", "usual", "usually", "normally", "of", "instead", "than")
)
_CHARGED = frozenset(
    ("charge", "charging", "charger", "plug", "socket", "inlet", "chg", "chrg", "chrging", "ev", "ccs", "chademo")
)
_OTHER = {"left": "right", "right": "left", "near": "off", "off": "near", "driver": "passenger", "passenger": "driver"}
_BEFORE_SIDE = frozenset(
    ("on", "to", "my", "at", "front", "rear", "back", "frt", "fr", "rr", "flap", "door", "port", "point", "pt",
     "socket", "lid", "inlet", "plug", "chg", "cover", "of", "your", "from")
)  # fmt: skip
_AFTER_SIDE = frozenset(
    ("front", "rear", "back", "frt", "fr", "rr", "side", "wing", "fender", "guard", "quarter", "flank", "hand",
     "corner", "wheel", "whl", "tail", "haunch", "panel", "frnt", "hnd", "sde")
)  # fmt: skip
_LETTERS = {"l": "left", "r": "right", "lft": "left", "rgt": "right", "lt": "left", "rt": "right"}
# "charger on the left", "charging is at the rear": a port where a place follows.
_PORTISH = frozenset(("charger", "charging", "charge", "chg", "chrg", "chging", "recharging"))
_BE = frozenset(("is", "are", "was", "its", "sits", "sit", "lies", "stands", "goes", "comes", "found", "located", "be"))
_BEFORE_PORT = _BE | {"the", "a", "for", "of", "there"}
# Small words between a port and its place.
_AFTER_PORT = _BE | {
    "the", "at", "on", "in", "to", "behind", "by", "of", "about", "around", "over", "near",
}  # fmt: skip


def tanks(scan: Scan) -> list[Mention]:
    """What petrol goes in ("gas cap", "petrol flap"), where the charge port is spoken of besides: "@tank"."""
    if not scan.anywhere(_TANK_OF):
        return []
    charged = scan.anywhere(_CHARGED)
    made = []
    for at, word in enumerate(scan.words):
        if word.key not in _TANK_OF or scan.key(at + 1) not in _TANK or scan.before(at) in _LIKENED:
            continue
        end = at + 2
        while scan.key(end) in _TANK:
            end += 1
        if charged and scan.key(end) not in ("would", "should", "goe", "for", "place", "position", "spot"):
            # The fuel itself is still to be read.
            made.append(Mention("@tank", ("tank",), at + (word.key in _FUELS), end))
    return made


def words_of_place(scan: Scan, taken: list[bool], made: Sequence[Mention]) -> list[Mention]:
    """Levels, sides and ports among the words that nothing else has taken; empty where no port is spoken of."""
    if not scan.charged:
        return []
    found = [*_limbs(scan, taken), *_levels(scan, taken), *_letters(scan, taken)]
    for mention in found:
        taken[mention.start : mention.end] = [True] * (mention.end - mention.start)
    found += _sides_before(scan, taken, found)
    found += _ports(scan, taken, [*made, *found])
    return found


def _levels(scan: Scan, taken: list[bool]) -> list[Mention]:
    made = []
    for at, word in enumerate(scan.words):
        level = _LEVELS.get(word.key)
        if level is None or taken[at]:
            continue
        end = at + 1
        while scan.next(end) in _UNITS and end < at + 3 and not taken[end]:
            end += 1
        start = at
        while start > 0 and scan.before(start) in _LEADING and not taken[start - 1]:
            start -= 1
        led = start < at and any(scan.words[place].token.text in _TO for place in range(start, at))
        if scan.before(at) in _NOT_LEVEL or scan.next(end) in _NOT_LEVEL:
            continue
        if end > at + 1 or (word.key in _BARE and (led or _alone(scan, at))):
            made.append(Mention("@level", (level,), start, end))
    return made


def _limbs(scan: Scan, taken: list[bool]) -> list[Mention]:
    """ "by my right knee": a side as the speaker has it, and a level."""
    made: list[Mention] = []
    for at, word in enumerate(scan.words):
        side, level = word.token.text, _LEVELS.get(scan.key(at + 1))
        if side not in ("left", "right") or scan.before(at) not in ("my", "your") or taken[at]:
            continue
        if scan.before(at - 1) not in _BEFORE_LIMB or level is None:
            continue
        made.append(Mention("@side", (side,), at - 1, at + 1))
        made.append(Mention("@view", ("mine",), at - 1, at + 1))
        made.append(Mention("@level", (level,), at + 1, at + 2))
        taken[at - 1 : at + 2] = [True] * 3
    return made


def _alone(scan: Scan, at: int) -> bool:
    """ "front wheel, knee, my left", "right side waist": a clause of its own, or right after a place."""
    ends = scan.next(at + 1) in ("", "and", "or")
    if not scan.before(at):
        return ends and at > 0 and scan.words[at].token.parted < STOP
    return ends and _place_ends(scan, at)


def _place_ends(scan: Scan, at: int) -> bool:
    """A saying of a place ends right before a word."""
    return any(
        end == at and any(meaning.attribute in PLACES for meaning in meanings)
        for start in range(max(0, at - 4), at)
        for end, meanings in scan.ends[start]
    )


def _letters(scan: Scan, taken: list[bool]) -> list[Mention]:
    """ "on my R", "flap L, aft of the wheel", "R rear": single letters for sides."""
    made = []
    for at, word in enumerate(scan.words):
        side = _LETTERS.get(word.token.text)
        if side is None or taken[at]:
            continue
        before, after = scan.before(at), scan.next(at + 1)
        if before in ("letter", "badge", "says", "trim", "an", "a"):
            continue
        mine = before in ("my", "your")
        led = before == "the" and scan.before(at - 1) in ("on", "to", "at")
        if led or before in _BEFORE_SIDE or after in _AFTER_SIDE:
            end = at + 2 if after in ("side", "sde", "hand", "hnd") and not taken[at + 1] else at + 1
            made.append(Mention("@side", (side,), at, end))
            if mine:
                made.append(Mention("@view", ("mine",), at - 1, end))
    return made


_NEVER = frozenset(("not", "isnt", "no", "wasnt", "never", "nor", "neither", "arent", "aint"))


def sides_again(scan: Scan) -> list[Mention]:
    """ "same side", "the other side": the side said last before, or its opposite."""
    found = []
    for at, word in enumerate(scan.words):
        if word.key != "side" or scan.before(at) not in ("same", "other", "opposite"):
            continue
        if scan.next(at + 1) in ("of", "from", "to", "as"):
            continue
        if any(scan.words[place].token.text in _NEVER for place in range(max(0, at - 5), at)):
            continue
        said = _last_side(scan, at - 1)
        side = said if scan.before(at) == "same" else _OTHER.get(said, "")
        if side:
            found.append(Mention("@side", (side,), at - 1, at + 1))
    return found


def _last_side(scan: Scan, stop: int) -> str:
    """The side said last before a word, "" for none."""
    for start in range(stop - 1, max(-1, stop - 40), -1):
        for _, meanings in scan.ends[start]:
            for meaning in meanings:
                if meaning.attribute == "@side" and meaning.values[0] in _OTHER:
                    return meaning.values[0]
    return ""


def _sides_before(scan: Scan, taken: list[bool], made: Sequence[Mention]) -> list[Mention]:
    """ "left hip high": the side before a level, which by itself would be a limb."""
    found = []
    starts = {mention.start for mention in made if mention.attribute == "@level"}
    for at, word in enumerate(scan.words):
        if word.token.text in ("left", "right") and not taken[at] and at + 1 in starts and scan.next(at + 1):
            found.append(Mention("@side", (word.token.text,), at, at + 1))
            taken[at] = True
    return found


def _ports(scan: Scan, taken: list[bool], made: Sequence[Mention]) -> list[Mention]:
    """ "charger's on the left", "at my right hand is the charging"."""
    starts = {mention.start for mention in made if mention.attribute in PLACES}
    ends = {mention.end for mention in made if mention.attribute in PLACES}
    found = []
    for at, word in enumerate(scan.words):
        hole = word.key == "hole" and scan.before(at) in ("two", "both", "2")
        if not (word.key in _PORTISH or hole) or taken[at] or scan.before(at) in ("on", "while", "was"):
            continue
        if scan.next(at + 1) in ("was", "were", "left") and not hole:
            continue
        after = at + 1
        while after < len(scan.words) and after < at + 4 and scan.next(after) in _AFTER_PORT:
            after += 1
        before = at
        while before > 0 and at - before < 4 and scan.before(before) in _BEFORE_PORT:
            before -= 1
        follows = after in starts and (after == at + 1 or scan.words[after].token.parted < STOP)
        leads = before in ends and (at + 1 == len(scan.words) or scan.words[at + 1].token.parted >= PAUSE)
        if follows or leads:
            found.append(Mention("@port", ("port",), at, at + 1))
            taken[at] = True
    return found
