"""Place words put together, and whose place each group is.

Words of side, end and level that stand together in one part of a sentence are one group. The port
owns a group where a port word (or its connector, cover or door) stands in the same part; damage,
smoke, a person or a part of the vehicle may own it instead; some groups nobody claims.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from catalog.resolve.cue import Doubt
from catalog.resolve.mention import Mention, Range, Text, most_doubtful
from catalog.resolve.modifiers import claims, is_place

POSTURE = frozenset(("left_down", "right_down", "on_side", "on_roof", "rolled"))
# What goes on about the vehicle without having a place on it.
_NOT_CLAIMING = POSTURE | {"charger_attached", "water", "trapped", "trailer", "enclosed", "converted", "airbags"}
# Saying one of these is speaking of the port.
PORTISH = frozenset(("@port", "port_cover", "door_mechanism", "connector"))
# Looks that have their own place: "no grille at the front".
_LOOKS = frozenset(("front_face", "front_lamps", "rear_lamps", "tailpipe", "handles", "roof", "selector"))
# What may stand in letters on the bodywork.
_LETTERED = frozenset(("name", "propulsion"))
REARWARD = frozenset(("rear", "rear_face", "rear_quarter"))
FORWARD = frozenset(("front", "front_face", "front_quarter"))
_SPECIFIC = {
    ("front", "quarter"): "front_quarter", ("front", "wing"): "front_quarter", ("front", "face"): "front_face",
    ("rear", "quarter"): "rear_quarter", ("rear", "wing"): "rear_quarter", ("rear", "face"): "rear_face",
}  # fmt: skip
_ALONE = {"wing": ("front_quarter",), "quarter": ("front_quarter", "rear_quarter"), "face": ("front_face", "rear_face")}


@dataclass(frozen=True, slots=True)
class Group:
    """Place words that stand together. Each part is a set of alternatives, empty = unsaid."""

    sides: frozenset[str]
    ends: frozenset[str]
    levels: frozenset[str]
    ranges: tuple[Range, ...]
    doubt: Doubt
    denied: bool = False
    apart: bool = False
    usual: bool = False

    @property
    def start(self) -> int:
        return self.ranges[0][0]


@dataclass(slots=True)
class Sorted:
    """Groups by owner: the port's, nobody's, something else's; and words that only locate a look."""

    owned: list[Group]
    loose: list[Group]
    others: list[Group]
    of_looks: list[tuple[Mention, tuple[Range, ...]]]


def sorted_groups(text: Text, mentions: Sequence[Mention]) -> Sorted:
    """All place words of a text as groups, by owner."""
    made = Sorted([], [], [], [])
    for run in _runs(text, mentions):
        owner = _owner(text, run, mentions)
        second = _second_port(text, run, mentions)
        if second is not None and (owner is None or is_portish(owner)):
            made.owned.append(replace(_group(run, second), apart=True))
        elif owner is not None and is_portish(owner):
            made.owned.append(_group(run, owner, _face_cover(text, owner, mentions)))
        elif owner is not None and owner.attribute in _LOOKS | _LETTERED:
            made.of_looks.append((owner, tuple(span for entry in run for span in entry.ranges)))
        elif all(mention.attribute == "@landmark" for mention in run):
            continue
        elif owner is None and _is_pure(text, run, mentions):
            made.loose.append(_group(run))
        else:
            made.others.append(_group(run))
    for mention in mentions:
        if mention.attribute == "port_place":
            end = mention.values[0].split("|")[1]
            group = Group(frozenset(), frozenset((end,)), frozenset(), mention.ranges, mention.doubt, mention.denied)
            made.owned.append(replace(group, usual=True))
    return made


def _runs(text: Text, mentions: Sequence[Mention]) -> list[list[Mention]]:
    """Place mentions that stand together in one part of a sentence."""
    runs: list[list[Mention]] = []
    owners = [mention for mention in mentions if may_own(mention)]
    for mention in sorted(filter(is_place, mentions), key=lambda entry: (entry.start, entry.end)):
        last = runs[-1] if runs else None
        if last is None or not _joins(text, last, mention, owners):
            runs.append([mention])
        else:
            last.append(mention)
    return runs


def _joins(text: Text, run: Sequence[Mention], mention: Mention, owners: Sequence[Mention]) -> bool:
    end = max(entry.end for entry in run)
    if text.clauses.part[run[-1].start] != text.clauses.part[mention.start]:
        return False
    if any(end <= owner.start < mention.start for owner in owners):
        return False
    if any(claims(text.words[at].key) for at in range(end, mention.start)):
        return False
    sides = {value for entry in (*run, mention) if entry.attribute == "@side" for value in entry.values}
    full = any(entry.attribute in ("@end", "@landmark") for entry in run)
    new_side = mention.attribute == "@side" and len(sides - {"centre"}) > len(mention.values)
    return not (new_side and full)


def may_own(mention: Mention) -> bool:
    """Whether a place may be this mention's."""
    if mention.attribute == "scene":
        return not set(mention.values) <= _NOT_CLAIMING or is_portish(mention)
    return mention.attribute in PORTISH or mention.attribute in _LOOKS


def is_portish(mention: Mention) -> bool:
    """Whether saying this is speaking of the charge port."""
    return mention.attribute in PORTISH or (mention.attribute == "scene" and "charger_attached" in mention.values)


def _owner(text: Text, run: Sequence[Mention], mentions: Sequence[Mention]) -> Mention | None:
    """The nearest thing in the same part that may own a place; the port if it is the only place said."""
    part = text.clauses.part[run[0].start]
    found = [m for m in mentions if may_own(m) and text.clauses.part[m.start] == part]
    ports = sorted((m for m in found if is_portish(m)), key=lambda m: m.attribute != "@port")
    places = {id(m) for m in mentions if is_place(m) and text.clauses.part[m.start] == part}
    if ports and len(places) == len(run):
        return ports[0]
    covered = {at for m in mentions if m.attribute != "@trap" for at in range(m.start, m.end)}
    found += [
        Mention("@claim", ("claim",), at, at + 1)
        for at in range(len(text.words))
        if text.clauses.part[at] == part and at not in covered and claims(text.words[at].key)
    ]
    if not found:
        return _lettering(text, run, mentions)
    if not ports:
        return found[0]
    start, end = run[0].start, max(entry.end for entry in run)
    return min(found, key=lambda m: (start - m.end if m.end <= start else m.start - end, m.start > start))


def _second_port(text: Text, run: Sequence[Mention], mentions: Sequence[Mention]) -> Mention | None:
    """ "and another at the back": the word that makes it a port of its own."""
    part = text.clauses.part[run[0].start]
    return next((m for m in mentions if m.attribute == "@another" and text.clauses.part[m.start] == part), None)


def _lettering(text: Text, run: Sequence[Mention], mentions: Sequence[Mention]) -> Mention | None:
    """ "it says hybrid on the back": the place of the word just said."""
    start = run[0].start
    if text.words[start].key != "on" or any(mention.attribute == "@side" for mention in run):
        return None
    return next(
        (
            mention
            for mention in mentions
            if mention.attribute in _LETTERED
            and mention.end <= start
            and text.only_small(mention.end, start)
            and text.clauses.part[mention.start] == text.clauses.part[start]
        ),
        None,
    )


def _is_pure(text: Text, run: Sequence[Mention], mentions: Sequence[Mention]) -> bool:
    """Nothing unexplained stands in the clause part that could own the place."""
    part = text.clauses.part[run[0].start]
    covered = {at for m in mentions if m.attribute != "@trap" for first, last in m.ranges for at in range(first, last)}
    members = [at for at in range(len(text.words)) if text.clauses.part[at] == part]
    if any(at not in covered and not text.small[at] for at in members):
        return False
    # "the van on the left" says where the van stands, not where its port is.
    stands = len(run) == 1 and run[0].attribute == "@side" and text.words[run[0].start].key in ("on", "to")
    vehicle = any(
        m.attribute == "body" and m.end <= run[0].start and text.clauses.part[m.start] == part for m in mentions
    )
    return not (stands and vehicle)


def _face_cover(text: Text, owner: Mention, mentions: Sequence[Mention]) -> bool:
    """The port is said to be behind a badge, plate or grille: then "front" is the front face."""
    part = text.clauses.part[owner.start]
    covers = (m for m in mentions if m.attribute == "port_cover" and text.clauses.part[m.start] == part)
    return any(set(m.values) & {"badge", "plate", "grille"} for m in covers)


def _group(run: Sequence[Mention], owner: Mention | None = None, on_face: bool = False) -> Group:
    def of(*attributes: str) -> frozenset[str]:
        return frozenset(value for entry in run if entry.attribute in attributes for value in entry.values)

    ends = of("@end", "@landmark")
    ends = _ends(ends | {"face"} if on_face and ends & {"front", "rear"} else ends)
    sides = of("@side")
    if "middle" in ends and len(ends) > 1:
        ends, sides = ends - {"middle"}, sides or frozenset(("centre",))
    if len(sides) > 1 and "centre" in sides:
        sides -= {"centre"}
    everyone = [*run, *([owner] if owner else [])]
    ranges = tuple(sorted({span for entry in everyone for span in entry.ranges}))
    doubt = most_doubtful(entry.doubt for entry in everyone)
    denied = any(entry.denied for entry in everyone)
    return Group(sides, ends, of("@level"), ranges, doubt, denied, any(entry.apart for entry in everyone))


def _ends(said: frozenset[str]) -> frozenset[str]:
    """The most exact reading of the end words: "rear" and "wing" are the rear quarter."""
    ends = set(said)
    for lay in ("front", "rear"):
        for vague in ("quarter", "wing", "face"):
            if lay in ends and vague in ends:
                ends.add(_SPECIFIC[lay, vague])
        if ends & (FORWARD if lay == "front" else REARWARD) - {lay}:
            ends.discard(lay)
    exact = ends - set(_ALONE)
    if exact:
        return frozenset(exact)
    return frozenset(value for vague in ends for value in _ALONE[vague])


def agreed(one: frozenset[str], other: frozenset[str]) -> frozenset[str] | None:
    """What two sets of alternatives have in common, the more exact word of each pair; None if nothing."""
    if not one or not other:
        return one | other
    both = frozenset(exact for a in one for b in other if (exact := _exacter(a, b)))
    return both or None


def _exacter(one: str, other: str) -> str:
    """The more exact of two words for one place, "" if they are two places."""
    for lay, exact in (("front", FORWARD), ("rear", REARWARD)):
        if one == lay and other in exact:
            return other
        if other == lay and one in exact:
            return one
    return one if one == other else ""
