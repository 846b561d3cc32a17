"""Place words put together, and whose place each group is.

Words of side, end and level that stand together in one part of a sentence are one group. The port
owns a group where a port word (or its connector, cover or door) stands in the same part; damage,
smoke, a person or a part of the vehicle may own it instead; some groups nobody claims.
"""

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from catalog.resolve.cue import Doubt
from catalog.resolve.reading.mention import Mention, Range, Text, in_order, is_place, most_doubtful
from catalog.resolve.reading.words import keys
from catalog.resolve.reading.zones import exact_ends

POSTURE = frozenset(("left_down", "right_down", "on_side", "on_roof", "rolled"))
# What goes on about the vehicle without having a place on it.
_CLAIMING = frozenset(
    (
        "fire", "smoke", "vapour", "jet", "hiss", "pop", "odour", "leak", "damage", "damage_front", "damage_rear",
        "damage_left", "damage_right", "damage_under", "damage_roof", "casualty", "orange_cable", "port_damaged",
        "port_reachable", "wheel_off_ground",
    )
)  # fmt: skip
# Saying one of these is speaking of the port.
PORTISH = frozenset(("@port", "port_cover", "door_mechanism", "connector"))
# Looks that have their own place: "no grille at the front".
_LOOKS = frozenset(
    (
        "front_face", "front_lamps", "rear_lamps", "tailpipe", "handles", "roof", "selector", "start", "screen",
        "wheels", "cable", "marking",
    )
)  # fmt: skip
# What may stand in letters on the bodywork.
_LETTERED = frozenset(("name", "propulsion", "marking", "fuel"))
_LETTERED_AT = frozenset(("on", "over", "across", "along", "low", "up", "down", "of", "at", "in"))
_BEHIND_FACE = frozenset(("badge", "plate", "grille"))
_NEAR = 12
_LEADING = frozenset(("at", "on", "in", "by", "is", "the", "its", "to", "near"))
_OWNING_SCENE = frozenset(("charger_attached",))
_LIDS = ((frozenset(("bonnet", "hood")), "front"), (frozenset(("boot", "trunk")), "rear"))


@dataclass(frozen=True, slots=True)
class Group:
    """Place words that stand together. Each part is a set of alternatives, empty = unsaid.

    of: what the place is of, where that is something of the scene. usual: where such a port usually is.
    """

    sides: frozenset[str]
    ends: frozenset[str]
    levels: frozenset[str]
    ranges: tuple[Range, ...]
    doubt: Doubt
    denied: bool = False
    apart: bool = False
    usual: bool = False
    viewpoint: str = ""
    of: Mention | None = None
    at: int = -1

    @property
    def start(self) -> int:
        """The first of its own words; its ranges may begin with a viewpoint said long before."""
        return self.at if self.at >= 0 else self.ranges[0][0]


@dataclass(slots=True)
class Sorted:
    """Groups by owner: the port's, nobody's, something else's; and words that only locate a look."""

    owned: list[Group] = field(default_factory=list)
    loose: list[Group] = field(default_factory=list)
    others: list[Group] = field(default_factory=list)
    of_looks: dict[int, list[Range]] = field(default_factory=dict)


class Parts:
    """The mentions of a text by the part of a sentence they stand in."""

    def __init__(self, text: Text, mentions: Sequence[Mention]) -> None:
        self.text = text
        self.covered = [False] * len(text.words)
        self._by_part: dict[int, list[Mention]] = {}
        self._places: dict[int, int] = {}
        part = text.clauses.part
        for mention in mentions:
            here = part[mention.start]
            self._by_part.setdefault(here, []).append(mention)
            if is_place(mention):
                self._places[here] = self._places.get(here, 0) + 1
            if mention.attribute != "@trap":
                for first, last in mention.ranges:
                    self.covered[first:last] = [True] * (last - first)
        words = zip(part, self.covered, text.small, strict=True)
        self._unexplained = {here for here, covered, small in words if not covered and not small}

    def near(self, word: int) -> list[Mention]:
        """The mentions in the part of a word; of very many those nearest to it."""
        found = self._by_part.get(self.text.clauses.part[word], [])
        if len(found) <= 2 * _NEAR:
            return found
        at = bisect_left(found, word, key=lambda mention: mention.start)
        return found[max(0, at - _NEAR) : at + _NEAR]

    def places(self, word: int) -> int:
        """How many place mentions the part of a word holds."""
        return self._places.get(self.text.clauses.part[word], 0)

    def explained(self, word: int) -> bool:
        """Whether nothing in the part of a word is left over."""
        return self.text.clauses.part[word] not in self._unexplained

    def words(self, word: int) -> range:
        """The words of the part of a word; of very many those nearest to it."""
        part = self.text.clauses.part
        start, end = bisect_left(part, part[word]), bisect_left(part, part[word] + 1)
        return range(max(start, word - 2 * _NEAR), min(end, word + 2 * _NEAR))


def sorted_groups(text: Text, mentions: Sequence[Mention]) -> Sorted:
    """All place words of a text as groups, by owner."""
    made = Sorted()
    parts = Parts(text, mentions)
    for run in _runs(text, mentions, parts):
        owner = _owner(run, parts)
        second = next((m for m in parts.near(run[0].start) if m.attribute == "@another"), None)
        second = second or _counted(text, run)
        if second is not None and (owner is None or is_portish(owner)):
            made.owned.append(replace(_group(run, second), apart=True))
        elif owner is not None and is_portish(owner):
            made.owned.append(_group(run, owner, on_face=_face_cover(owner, parts)))
        elif owner is not None and owner.attribute in _LOOKS | _LETTERED:
            made.of_looks.setdefault(id(owner), []).extend(span for entry in run for span in entry.ranges)
        elif owner is None and all(mention.attribute == "@landmark" for mention in run):
            continue
        elif owner is None and (_is_pure(run, parts) or (_is_full(run) and _port_in_sentence(text, run, mentions))):
            made.loose.append(_group(run))
        elif owner is not None and owner.attribute == "scene":
            made.others.append(replace(_group([_lid(m, parts) for m in run]), of=owner))
    for mention in mentions:
        if mention.attribute == "port_place":
            end = mention.values[0].split("|")[1]
            group = Group(frozenset(), frozenset((end,)), frozenset(), mention.ranges, mention.doubt, mention.denied)
            made.owned.append(replace(group, usual=True))
    return made


def _counted(text: Text, run: Sequence[Mention]) -> Mention | None:
    """ "one at the front and one at the back": ports of their own."""
    at = run[0].start - 1
    while at >= 0 and text.words[at].token.text in _LEADING and text.same_clause(at, run[0].start):
        at -= 1
    words = text.words
    if at < 0 or words[at].token.text != "one" or not text.same_clause(at, run[0].start):
        return None
    others = range(text.clause_start(at), min(text.sentence_end(at), text.clause_start(at) + 40))
    again = any(other != at and words[other].token.text in ("one", "another", "other") for other in others)
    return Mention("@another", ("another",), at, at + 1) if again else None


def _lid(mention: Mention, parts: Parts) -> Mention:
    """What burns under a bonnet or lies in a boot is at that end; only a port is in the lid's face."""
    words = {word.key for word in parts.text.words[mention.start : mention.end]}
    end = next((end for lids, end in _LIDS if words & lids and "lid" not in words), "")
    return replace(mention, values=(end,)) if end and mention.attribute == "@landmark" else mention


def _runs(text: Text, mentions: Sequence[Mention], parts: Parts) -> list[list[Mention]]:
    """Place mentions that stand together in one part of a sentence."""
    runs: list[list[Mention]] = []
    end = 0
    owners = sorted(mention.start for mention in mentions if may_own(mention))
    for mention in in_order(filter(is_place, mentions)):
        last = runs[-1] if runs else None
        if last is None or not _joins(text, last, end, mention, owners):
            runs.append([mention])
            end = mention.end
        else:
            last.append(mention)
            end = max(end, mention.end)
    return runs


def _joins(text: Text, run: Sequence[Mention], end: int, mention: Mention, owners: Sequence[int]) -> bool:
    if text.clauses.part[run[-1].start] != text.clauses.part[mention.start]:
        return False
    at = bisect_left(owners, end)
    if at < len(owners) and owners[at] < mention.start:
        return False
    if any(_claims(text.words[at].key) for at in range(end, mention.start)):
        return False
    if mention.attribute != "@side":
        return True
    sides = {value for entry in (*run[-_NEAR:], mention) if entry.attribute == "@side" for value in entry.values}
    full = any(entry.attribute in ("@end", "@landmark") for entry in run[-_NEAR:])
    return not (full and len(sides - {"centre"}) > len(mention.values))


def may_own(mention: Mention) -> bool:
    """Whether a place may be this mention's."""
    if mention.attribute == "scene":
        return bool(set(mention.values) & _CLAIMING) or is_portish(mention)
    return mention.attribute in PORTISH or mention.attribute in _LOOKS


def is_portish(mention: Mention) -> bool:
    """Whether saying this is speaking of the charge port."""
    if mention.attribute == "scene":
        return bool(_OWNING_SCENE & set(mention.values))
    return mention.attribute in PORTISH


def _owner(run: Sequence[Mention], parts: Parts) -> Mention | None:
    """The nearest thing in the same part that may own a place; the port if it is the only place said."""
    here = parts.near(run[0].start)
    found = [mention for mention in here if may_own(mention)]
    ports = sorted((m for m in found if is_portish(m)), key=lambda m: m.attribute != "@port")
    if ports and parts.places(run[0].start) == len(run):
        return ports[0]
    found += [
        Mention("@claim", ("claim",), at, at + 1)
        for at in parts.words(run[0].start)
        if not parts.covered[at] and _claims(parts.text.words[at].key)
    ]
    if not found:
        return _lettering(run, parts)
    if not ports:
        return found[0]
    start, end = run[0].start, max(entry.end for entry in run)
    return min(found, key=lambda m: (start - m.end if m.end <= start else m.start - end, m.start > start))


def _lettering(run: Sequence[Mention], parts: Parts) -> Mention | None:
    """ "it says hybrid on the back", "PX over on the right": the place of the word just said."""
    start = run[0].start
    text = parts.text
    leads = text.words[start].key in _LETTERED_AT or (
        start > 0 and text.words[start - 1].key in _LETTERED_AT and text.same_clause(start - 1, start)
    )
    found = (m for m in parts.near(start) if m.attribute in _LETTERED and m.end <= start)
    return next((m for m in found if text.only_small(m.end, start) and (leads or _written(text, m))), None)


def _written(text: Text, mention: Mention) -> bool:
    """A name in capitals among small letters is lettering: "RUDDICOTT left, V6 right"."""
    shown = text.words[mention.start].token
    return mention.attribute == "name" and shown.upper and not text.words[-1].token.upper


def _is_pure(run: Sequence[Mention], parts: Parts) -> bool:
    """Nothing unexplained stands in the clause part that could own the place."""
    text, start = parts.text, run[0].start
    if not parts.explained(start):
        return False
    # "the van on the left" says where the van stands, not where its port is.
    stands = len(run) == 1 and run[0].attribute == "@side" and text.words[start].key in ("on", "to")
    return not (stands and any(m.attribute == "body" and m.end <= start for m in parts.near(start)))


def _is_full(run: Sequence[Mention]) -> bool:
    """A side and more: that is a place by itself, whatever else the words around it are."""
    kinds = {mention.attribute for mention in run}
    return "@side" in kinds and len(kinds) > 1


def _port_in_sentence(text: Text, run: Sequence[Mention], mentions: Sequence[Mention]) -> bool:
    return any(is_portish(mention) and text.same_sentence(mention.start, run[0].start) for mention in mentions)


def _face_cover(owner: Mention, parts: Parts) -> bool:
    """The port is said to be behind a badge, plate or grille: then "front" is the front face."""
    covers = (m for m in parts.near(owner.start) if m.attribute == "port_cover")
    return any(_BEHIND_FACE & set(m.values) for m in covers)


def _group(run: Sequence[Mention], owner: Mention | None = None, *, on_face: bool = False) -> Group:
    def of(*attributes: str) -> frozenset[str]:
        return frozenset(value for entry in run if entry.attribute in attributes for value in entry.values)

    ends = of("@end", "@landmark")
    ends = exact_ends(ends | {"face"} if on_face and ends & {"front", "rear"} else ends)
    sides = of("@side")
    if "middle" in ends and len(ends) > 1:
        ends, sides = ends - {"middle"}, sides or frozenset(("centre",))
    if len(sides) > 1 and "centre" in sides:
        sides -= {"centre"}
    everyone = [*run, *([owner] if owner else [])]
    ranges = tuple(sorted({span for entry in everyone for span in entry.ranges}))
    doubt = most_doubtful(entry.doubt for entry in everyone)
    denied = any(entry.denied for entry in everyone)
    apart = any(entry.apart for entry in everyone)
    return Group(sides, ends, of("@level"), ranges, doubt, denied, apart, at=run[0].start)


def _claims(word: str) -> bool:
    """Whether a word left over may own a place: a person or a part."""
    return word in keys("people") or word in keys("people_driving") or word in keys("parts")
