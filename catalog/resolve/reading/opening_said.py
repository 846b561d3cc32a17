"""How the door over a charge port opens and what it is, said in new words: "get a nail under it and it swings out".

The phrase table holds what is often said in one way. Where it found nothing, what is done to a lid (push, pull,
touch, a catch inside) and what it does (springs, moves by itself, slides) is looked for in any order; it is said
of the lid where no other part was named after it. Word lists stand in data/openings.json.
"""

from collections.abc import Callable, Mapping, Sequence
from functools import cache

from catalog.resolve.cue import Doubt
from catalog.resolve.reading.mention import Mention
from catalog.resolve.reading.scan import Scan
from catalog.resolve.reading.tokens import STOP
from catalog.resolve.reading.words import exactly, word_lists

_BACK, _AHEAD = 22, 9  # words to a lid before what is said of it, and after
_NEAR = 7  # words between what is done and what it does
_CLOSE = 4


@cache
def _said() -> Mapping[str, frozenset[str]]:
    return word_lists("openings")


def read_openings(scan: Scan, made: Sequence[Mention]) -> list[Mention]:
    """The mechanism and the cover, each where no mention has it yet."""
    told = {mention.attribute for mention in made}
    spoken = "@port" in told or scan.charged or any(_is_piece(scan, at) for at in range(len(scan.words)))
    if not spoken:
        return []
    found = [] if "door_mechanism" in told else _opening(scan)
    if "port_cover" not in told and not any(mention.attribute == "port_cover" for mention in found):
        found += _painted(scan)
    return found


def _opening(scan: Scan) -> list[Mention]:
    """The first way found at the earliest word that may say one."""
    ways = _ways_of()
    for at, word in enumerate(scan.words):
        kinds = ways.get(word.token.text, 0) | ways.get(word.key, 0)
        if not kinds:
            continue
        for place, (_, way) in enumerate(_WAYS):
            found = way(scan, at) if kinds >> place & 1 else None
            if found:
                return found
    return []


@cache
def _ways_of() -> Mapping[str, int]:
    """A word -> the ways that it may say, one bit each."""
    made: dict[str, int] = {}
    for place, (kind, _) in enumerate(_WAYS):
        for word in _said()[kind]:
            made[word] = made.get(word, 0) | 1 << place
    return made


def _text(scan: Scan, at: int) -> str:
    return scan.words[at].token.text if 0 <= at < len(scan.words) else ""


def _is(scan: Scan, at: int, kind: str) -> bool:
    among = _said()[kind]
    return 0 <= at < len(scan.words) and (scan.words[at].token.text in among or scan.words[at].key in among)


def _find(scan: Scan, kind: str, start: int, end: int) -> list[int]:
    """Where words of a kind stand in [start, end), not beyond a stop that leads away."""
    return [at for at in range(max(0, start), min(len(scan.words), end)) if _is(scan, at, kind)]


def _is_lid(scan: Scan, at: int) -> bool:
    """A flap, or a door of charging: "charge door", "little hatch", "bit of bodywork"."""
    if _is(scan, at, "lid"):
        return True
    return _is_piece(scan, at) or (_is(scan, at, "door") and _is(scan, at - 1, "of_charging"))


def _is_piece(scan: Scan, at: int) -> bool:
    """ "a bit of the bodywork", "a square of paint"."""
    return _is(scan, at, "piece") and _is(scan, at + 1, "cut") and bool(_find(scan, "body", at + 2, at + _CLOSE))


def _of_lid(scan: Scan, at: int) -> bool:
    """The part named last before a word, or next after it, is the lid."""
    for place in range(at, max(-1, at - _BACK), -1):
        if _is_lid(scan, place):
            return True
        if _is(scan, place, "other"):
            return False
    for place in range(at + 1, min(len(scan.words), at + _AHEAD)):
        if scan.words[place].token.parted >= STOP or _is(scan, place, "other"):
            return False
        if _is_lid(scan, place):
            return True
    return False


def _mention(scan: Scan, values: Sequence[str], start: int, end: int) -> list[Mention]:
    if not _of_lid(scan, start):
        return []
    return [Mention("door_mechanism", tuple(values), start, end, Doubt.HEDGED)]


def _inside(scan: Scan, at: int) -> list[Mention]:
    """A catch or button in the cabin that opens it: "pull the catch by the driver's seat", "opens only from inside"."""
    if _is(scan, at, "lets"):
        only = at + 1 + (_text(scan, at + 1) == "only")
        from_in = _text(scan, only) in ("from", "by", "only") and _find(scan, "cabin", only + 1, only + 5)
        return _mention(scan, ("inside_release",), at, from_in[0] + 1) if from_in else []
    if _text(scan, at) == "pull" and _text(scan, at - 1) not in ("cable", "cord", "wire", "string", "a", "the"):
        return []
    opens = _find(scan, "lets", at + 1, at + _CLOSE)
    if opens and any(_is_lid(scan, place) for place in range(opens[0], opens[0] + _CLOSE + 1)):
        return [Mention("door_mechanism", ("inside_release",), at, opens[0] + 1, Doubt.HEDGED)]
    cabin = _find(scan, "cabin", at + 1, at + _NEAR) or _find(scan, "cabin", at - 2, at)
    lets = _find(scan, "lets", at - _NEAR, at + _NEAR + _CLOSE)
    if cabin and lets and _in_sentence(scan, at):
        return [Mention("door_mechanism", ("inside_release",), at, max(at, *cabin) + 1, Doubt.HEDGED)]
    return []


def _in_sentence(scan: Scan, at: int) -> bool:
    """The sentence has a lid, and no door people get in by."""
    first = last = at
    while first > max(0, at - _BACK) and scan.words[first].token.parted < STOP:
        first -= 1
    while last + 1 < min(len(scan.words), at + _BACK) and scan.words[last + 1].token.parted < STOP:
        last += 1
    lids = [
        place
        for place in range(first, last + 1)
        if _is_lid(scan, place) or scan.words[place].key in exactly("port_words")
    ]
    doors = [
        place for place in range(first, last + 1) if scan.words[place].key in ("door", "handle") and place not in lids
    ]
    return bool(lids) and not any(place < at for place in doors)


def _slides(scan: Scan, at: int) -> list[Mention]:
    if _is(scan, at - 1, "not_slid") or _is(scan, at + 1, "not_slid"):
        return []
    motor = _find(scan, "motor", at - _CLOSE, at + _NEAR) or _find(scan, "itself", at, at + _NEAR)
    if motor:
        return _mention(scan, ("motorised", "sliding"), min(at, motor[0]), max(at, motor[-1]) + 1)
    if _is(scan, at + 1, "sideways") or _text(scan, at) == "sliding":
        return _mention(scan, ("sliding",), at, at + 1)
    return []


def _motor(scan: Scan, at: int) -> list[Mention]:
    """ "driven by its own motor", "it is on a motor", "opens with a whirr"."""
    if _is(scan, at, "engine"):
        driven = _is(scan, at - 1, "by_motor") and _find(scan, "moves", at - _CLOSE, at)
        moves = driven or _find(scan, "lets", at + 1, at + 3)
    else:
        moves = _find(scan, "moves", at - _CLOSE, at + _CLOSE)
    return _mention(scan, ("motorised",), at, at + 1) if moves else []


def _itself(scan: Scan, at: int) -> list[Mention]:
    """ "moves aside by itself", "opens on its own"."""
    if _text(scan, at) == "own" and _text(scan, at - 2) not in ("on", "by"):
        return []
    moves = _find(scan, "moves", at - _CLOSE, at) or _find(scan, "moves", at + 1, at + 2)
    return _mention(scan, ("motorised",), at, at + 1) if moves else []


def _touch(scan: Scan, at: int) -> list[Mention]:
    """ "you only touch it", "glides off if you stroke it"."""
    told = _find(scan, "moves", at - _NEAR, at + _NEAR) or _text(scan, at - 1) in ("only", "just")
    return _mention(scan, ("motorised",), at, at + 1) if told else []


def _push(scan: Scan, at: int) -> list[Mention]:
    """ "you press one edge and it jumps", "pops when pressed"."""
    for other in _find(scan, "springs", at - _NEAR, at + _NEAR + 2):
        low, high = min(at, other), max(at, other)
        if not _find(scan, "not_pushed", low, high + 2) and _of_lid(scan, low) and _of_lid(scan, high):
            return _mention(scan, ("push_to_open",), low, high + 1)
    return []


def _pull(scan: Scan, at: int) -> list[Mention]:
    """ "hook it with a nail", "swings out by hand"."""
    if _find(scan, "push", at - _NEAR, at) or _text(scan, at + 1) in ("of", "brake", "side"):
        return []
    if _is(scan, at, "by_hand") and _text(scan, at - 1) != "by":
        return []
    for other in _find(scan, "pull", at - _NEAR, at + _CLOSE):
        low, high = min(at, other), max(at, other)
        if _of_lid(scan, low):
            return _mention(scan, ("pull_edge",), low, high + 1)
    return []


def _cap(scan: Scan, at: int) -> list[Mention]:
    """ "there's a cap you just pull off", "stopper unscrews"."""
    if _is(scan, at - 1, "fuel") or (_text(scan, at) == "plug" and not _is(scan, at - 1, "rubber")):
        return []
    how = _find(scan, "rubber", at - 2, at) or _find(scan, "rubber", at + 1, at + _CLOSE + 2)
    if not how:
        return []
    low, high = min(at, how[0]), max(at, how[0])
    return [Mention(attribute, ("cap",), low, high + 1, Doubt.HEDGED) for attribute in ("door_mechanism", "port_cover")]


_Way = Callable[[Scan, int], list[Mention]]
_WAYS: Sequence[tuple[str, _Way]] = (
    ("bung", _cap), ("release", _inside), ("lets", _inside), ("slides", _slides), ("motor", _motor),
    ("itself", _itself), ("touch", _touch), ("push", _push), ("finger", _pull),
)  # fmt: skip


def _painted(scan: Scan) -> list[Mention]:
    """ "a bit of the bodywork that lifts", "lid, painted the same"."""
    for at in range(len(scan.words)):
        if _is(scan, at, "piece") and _is(scan, at + 1, "cut"):
            body = _find(scan, "body", at + 2, at + _CLOSE + 1)
            if body and _near_port(scan, at):
                return [Mention("port_cover", ("flap",), at, body[0] + 1, Doubt.HEDGED)]
        if _is(scan, at, "painted") and _of_lid(scan, at) and _same_as_body(scan, at):
            return [Mention("port_cover", ("flap",), at, at + 1, Doubt.HEDGED)]
    return []


def _same_as_body(scan: Scan, at: int) -> bool:
    """Painted, or a word of likeness beside paint or body: "same paint", "flush paint", "paint coloured"."""
    return _text(scan, at) == "painted" or _is(scan, at - 1, "matching") or _is(scan, at + 1, "matching")


def _near_port(scan: Scan, at: int) -> bool:
    near = scan.words[max(0, at - _BACK) : at + _BACK]
    return any(word.key in exactly("port_words") for word in near)
