"""What a vehicle sounds like: silent, an engine, or first one and then the other.

Said in ever new words ("not a peep out of it", "all you hear is tyres", "the motor cuts in later"), so the
parts are looked for: a word for silence, a denial near a word for noise, an engine near what engines do.
Word lists stand in data/sounds.json.
"""

from collections.abc import Mapping, Sequence
from functools import cache

from catalog.resolve.cue import Doubt
from catalog.resolve.reading.mention import Mention
from catalog.resolve.reading.needs_energy import gas_filler_beside_port
from catalog.resolve.reading.phrases import Meaning
from catalog.resolve.reading.scan import Scan
from catalog.resolve.reading.tokens import PAUSE, STOP
from catalog.resolve.reading.words import keys, word_lists

SILENT, ENGINE = ("battery", "fuel_cell"), ("combustion", "hybrid", "plug_in_hybrid")
BOTH = ("hybrid", "plug_in_hybrid")
_REACH, _APART = 6, 24


@cache
def _sounds() -> Mapping[str, frozenset[str]]:
    return word_lists("sounds")


def read_sounds(scan: Scan, taken: Sequence[bool]) -> list[Mention]:
    """Each silence and each engine heard; a silence with an engine near it is one mention of both."""
    words = scan.words
    if not scan.anywhere(_sounds()["any"]):
        return []
    found: list[tuple[bool, int, int]] = []
    at = 0
    while at < len(words):
        cycle = 0 if taken[at] else _cycle(scan, at)
        if cycle:
            return [Mention("propulsion", BOTH, at, cycle, Doubt.HEDGED)]
        end = 0 if taken[at] else _silence(scan, at)
        engine = 0 if taken[at] or end else _engine(scan, at)
        stop = end or engine
        if engine and _denied_in_answer(scan, engine):
            found.append((False, at, engine))
            at = stop
        elif (
            stop
            and not any(taken[at:stop])
            and (engine or not _of_a_person(scan, at))
            and not _in_saying(scan, at, stop)
        ):
            how = at > 0 and scan.before(at) in _sounds()["how"] and not taken[at - 1]
            found.append((bool(engine), at - how, stop))
            at = stop
        else:
            at += 1
    return _together(found)


def read_tanks(scan: Scan, made: Sequence[Mention]) -> list[Mention]:
    """The petrol that an American "gas cap" beside a charge port says."""
    return [
        Mention("fuel", ("petrol",), tank.start, tank.end)
        for tank in made
        if tank.attribute == "@tank"
        and gas_filler_beside_port(scan, tank.start, tank.end)
        and scan.words[tank.start].key == "gas"
    ]


def _together(found: Sequence[tuple[bool, int, int]]) -> list[Mention]:
    silences = [(start, end) for engine, start, end in found if not engine]
    engines = [(start, end) for engine, start, end in found if engine]
    for start, end in silences:
        near = [place for place in engines if abs(place[0] - start) <= _APART and place[0] >= end]
        near = near or [place for place in engines if abs(place[0] - start) <= _APART]
        if near:
            return [Mention("propulsion", BOTH, start, end, Doubt.HEDGED, also=(near[0],))]
    made = [Mention("propulsion", SILENT, start, end, Doubt.HEDGED, weak=True) for start, end in silences]
    return made + [Mention("propulsion", ENGINE, start, end, Doubt.HEDGED, weak=True) for start, end in engines]


def _silence(scan: Scan, at: int) -> int:
    """Where a silence that begins at a word ends, or 0."""
    key = scan.words[at].key
    after = scan.key(at + 1)
    if key in _sounds()["silent"]:
        return at + 1 if after not in _sounds()["silent_things"] else 0
    if key == "quiet":
        told = scan.before(at) in _sounds()["before_quiet"] and after not in _sounds()["quiet_things"]
        return at + 1 if told else 0
    if key in _sounds()["no"]:
        return _no_noise(scan, at)
    if key in _sounds()["only"]:
        return _only_tyres(scan, at + 1)
    if key in _sounds()["rolling"] and (after == "only" or (after == "noise" and scan.key(at + 2) == "only")):
        return at + 2 + (after == "noise")
    return 0


def _no_noise(scan: Scan, at: int) -> int:
    """ "no engine noise", "never made a sound", "you can't hear it", "no motor running"."""
    engine = False
    for place in range(at + 1, min(len(scan.words), at + _REACH + 1)):
        key = scan.key(place)
        if not key:
            break
        if key in _sounds()["noise"]:
            return place + 1
        if key in _sounds()["hear"]:
            heard = scan.key(place + 1)
            return place + 1 if not heard or heard in _sounds()["heard"] else 0
        if engine and key in _sounds()["runs"]:
            return place + 1
        engine = engine or key in _sounds()["engine"]
        if key not in _sounds()["between"]:
            break
    return 0


def _only_tyres(scan: Scan, at: int) -> int:
    """ "only tyres I hear", "all you hear is the tyres", "just a whine"."""
    for place in range(at, min(len(scan.words), at + _REACH)):
        key = scan.key(place)
        if key in _sounds()["rolling"]:
            return place + 1
        if not key or not (key in _sounds()["before_tyres"] or key in _sounds()["hear"]):
            return 0
    return 0


def _engine(scan: Scan, at: int) -> int:
    """Where an engine that runs, starts or stops by itself ends, or 0."""
    words = scan.words
    key = words[at].key
    if key in _sounds()["comes"] and any(scan.key(later) in _sounds()["engine"] for later in range(at + 1, at + 4)):
        return next(later for later in range(at + 1, at + 4) if scan.key(later) in _sounds()["engine"]) + 1
    if key in _sounds()["idles"] and scan.before(at) not in _sounds()["no"]:
        return at + 1
    if key not in _sounds()["engine"] or scan.before(at) in _sounds()["not_engine_before"]:
        return 0
    if not scan.key(at + 1) and any(word.key in _sounds()["then"] for word in words[max(0, at - 3) : at]):
        return at + 1
    for place in range(at + 1, min(len(words), at + _REACH)):
        if words[place].token.parted >= PAUSE:
            return 0
        key = words[place].key
        if key in _sounds()["no"] or key in _sounds()["opens"]:
            return 0
        if key in _sounds()["runs"] and scan.key(place + 1) not in _sounds()["opens"]:
            opens = any(scan.key(later) in _sounds()["opens"] for later in range(place + 1, place + 4))
            return 0 if opens else place + 1
        if key not in _sounds()["between_engine"]:
            return 0
    return 0


def _cycle(scan: Scan, at: int) -> int:
    """Where "engine stops and starts again by itself" ends, or 0."""
    if scan.words[at].key not in _sounds()["engine"]:
        return 0
    last = next(
        (place for place in range(at + 1, min(len(scan.words), at + 12)) if scan.words[place].token.parted >= STOP),
        at + 12,
    )
    after = [scan.words[place].token.text for place in range(at, min(len(scan.words), last, at + 12))]
    alone = next((place for place, word in enumerate(after) if word in _sounds()["alone"]), 0)
    stops = any(word in _sounds()["stops"] for word in after[:alone])
    starts = any(word in _sounds()["starts"] for word in after[:alone])
    return at + alone + 1 if stops and starts else 0


def _denied_in_answer(scan: Scan, end: int) -> bool:
    """ "was the motor running? | no"."""
    asked = scan.words[end - 1].token.asked
    return asked and end < len(scan.words) and scan.words[end].key in ("no", "nope", "negative", "nah")


def _in_saying(scan: Scan, at: int, stop: int) -> bool:
    """Whether a longer saying about the scene or a named drive has these words: "old classic but dead quiet"."""
    return any(
        end >= stop and (start < at or end > stop) and any(_is_told(meaning) for meaning in meanings)
        for start in range(max(0, at - _REACH), at + 1)
        for end, meanings in scan.ends[start]
    )


def _is_told(meaning: Meaning) -> bool:
    return meaning.attribute == "scene" or (meaning.attribute == "propulsion" and not meaning.weak)


def _of_a_person(scan: Scan, at: int) -> bool:
    """ "he made no sound", "the line went quiet": nobody speaks of the vehicle."""
    first = at
    while first > 0 and at - first < _REACH and scan.words[first].token.parted < STOP and scan.before(first):
        first -= 1
    before = [scan.words[place] for place in range(first, at)]
    if any(word.key in _sounds()["reports"] for word in before) and scan.words[at].key not in _sounds()["others"]:
        before = [word for word in before if word.key in _sounds()["others"]]
    people = any(word.key in keys("people") or word.key in keys("people_driving") for word in before)
    own = any(
        scan.is_vehicle(place) or scan.words[place].key in ("it", "engine", "motor") for place in range(first, at)
    )
    return (people and not own) or any(word.key in _sounds()["others"] for word in before)
