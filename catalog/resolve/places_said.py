"""Where things are: groups of side, end and level words, and whose place each is.

Places come out in the vehicle's frame: nearside and offside by the side traffic keeps to, a left
said from in front turned round. A place belongs to the port when a port word stands in its part
of the sentence, or when nothing else claims it (then with a doubt if no port was spoken of).
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import product

from catalog.resolve.cue import Doubt
from catalog.resolve.mention import Mention, Range, Text, most_doubtful
from catalog.resolve.modifiers import claims, is_place

_OTHER = {"left": "right", "right": "left"}
_POSTURE = frozenset(("left_down", "right_down", "on_side", "on_roof", "rolled"))
# What goes on about the vehicle without having a place on it.
_NOT_CLAIMING = _POSTURE | {"charger_attached", "water", "trapped", "trailer", "enclosed", "converted", "airbags"}
# Saying one of these is speaking of the port.
_PORTISH = frozenset(("@port", "port_cover", "door_mechanism", "connector"))
# Looks that have their own place: "no grille at the front".
_LOOKS = frozenset(("front_face", "front_lamps", "rear_lamps", "tailpipe", "handles", "roof", "selector"))
# What may stand in letters on the bodywork.
_LETTERED = frozenset(("name", "propulsion"))
_REARWARD = frozenset(("rear", "rear_face", "rear_quarter"))
_FORWARD = frozenset(("front", "front_face", "front_quarter"))
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
class _Sorted:
    """Groups by owner: the port's, nobody's, something else's; and words that only locate a look."""

    owned: list[Group]
    loose: list[Group]
    others: list[Group]
    of_looks: list[tuple[Mention, tuple[Range, ...]]]


def read_places(text: Text, mentions: Sequence[Mention], driving_side: str) -> list[Mention]:
    """The mentions with places read: "side|end|level" of the port and of other things, roles left out."""
    found = _sorted_groups(text, mentions)
    owned, loose, others = found.owned, found.loose, found.others
    tipped = any(m.attribute == "scene" and not m.denied and _POSTURE & set(m.values) for m in mentions)
    owned, loose = (
        [_in_frame(text, group, mentions, driving_side, tipped) for group in groups] for groups in (owned, loose)
    )
    others = [_in_frame(text, group, mentions, driving_side, False) for group in others]
    if not any(_is_portish(m) for m in mentions) and _unplaced_claim(text, mentions):
        others, loose = [*others, *loose], []
    ports, left_over = _with_loose(owned, loose, [m for m in mentions if _is_portish(m)])
    made = [_mention("port_place", group) for group in _each_side(text, _united(ports), mentions)]
    made += [_mention("other_place", group) for group in (*others, *left_over)]
    return made + _with_their_places(text, mentions, found.of_looks)


def _with_their_places(
    text: Text, mentions: Sequence[Mention], of_looks: Sequence[tuple[Mention, tuple[Range, ...]]]
) -> list[Mention]:
    """What is not a place: each look with the words that say where it is, a connector with its "socket"."""
    part = text.clauses.part
    made = []
    for mention in mentions:
        if mention.is_role or mention.attribute == "port_place":
            continue
        ranges = [span for look, spans in of_looks if look is mention for span in spans]
        if mention.attribute in _PORTISH:
            said = [m for m in mentions if m.attribute == "@port" and part[m.start] == part[mention.start]]
            ranges += [span for m in said for span in m.ranges]
        made.append(mention.with_ranges(ranges))
    return made


def _sorted_groups(text: Text, mentions: Sequence[Mention]) -> _Sorted:
    made = _Sorted([], [], [], [])
    for run in _runs(text, mentions):
        owner = _owner(text, run, mentions)
        if owner is not None and _is_portish(owner):
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
    owners = [mention for mention in mentions if _may_own(mention)]
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


def _may_own(mention: Mention) -> bool:
    if mention.attribute == "scene":
        return not set(mention.values) <= _NOT_CLAIMING or _is_portish(mention)
    return mention.attribute in _PORTISH or mention.attribute in _LOOKS


def _is_portish(mention: Mention) -> bool:
    return mention.attribute in _PORTISH or (mention.attribute == "scene" and "charger_attached" in mention.values)


def _owner(text: Text, run: Sequence[Mention], mentions: Sequence[Mention]) -> Mention | None:
    """The nearest thing in the same part that may own a place; the port if it is the only place said."""
    part = text.clauses.part[run[0].start]
    found = [m for m in mentions if _may_own(m) and text.clauses.part[m.start] == part]
    ports = sorted((m for m in found if _is_portish(m)), key=lambda m: m.attribute != "@port")
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
        if ends & (_FORWARD if lay == "front" else _REARWARD) - {lay}:
            ends.discard(lay)
    exact = ends - set(_ALONE)
    if exact:
        return frozenset(exact)
    return frozenset(value for vague in ends for value in _ALONE[vague])


def _in_frame(text: Text, group: Group, mentions: Sequence[Mention], driving_side: str, tipped: bool) -> Group:
    """The group with its sides in the vehicle's frame."""
    near = {"near": driving_side, "off": _OTHER[driving_side]}
    sides = frozenset(near.get(side, side) for side in group.sides)
    if not sides & {"left", "right"} or group.sides & {"near", "off"}:
        return replace(group, sides=sides, doubt=_tipped(group.doubt, tipped and bool(sides)))
    views = _views(text, group, mentions)
    said = {value for view in views for value in view.values}
    doubt = _tipped(group.doubt, tipped)
    if said & {"front", "facing"} and not said & {"rear", "inside"}:
        turned = frozenset(_OTHER.get(side, side) for side in sides)
        if "front" not in said and group.ends & _REARWARD:
            # Facing "it" at the rear end: from behind or from in front, nobody can tell.
            sides, doubt = sides | turned, most_doubtful((doubt, Doubt.HEDGED))
        else:
            sides = turned
    elif said == {"mine"}:
        doubt = most_doubtful((doubt, Doubt.HEDGED))
    ranges = tuple(sorted({*group.ranges, *(span for view in views for span in view.ranges)}))
    return replace(group, sides=sides, ranges=ranges, doubt=doubt)


def _tipped(doubt: Doubt, tipped: bool) -> Doubt:
    return most_doubtful((doubt, Doubt.HEDGED)) if tipped else doubt


def _views(text: Text, group: Group, mentions: Sequence[Mention]) -> list[Mention]:
    """The viewpoint said nearest: in the clause, else in the sentence, else anywhere."""
    views = [m for m in mentions if m.attribute == "@view"]
    own = [m for m in views if text.same_clause(m.start, group.start)]
    clauses_with_sides = {text.clauses.clause[m.start] for m in mentions if m.attribute == "@side"}
    free = [m for m in views if text.clauses.clause[m.start] not in clauses_with_sides]
    return own or [m for m in free if text.same_sentence(m.start, group.start)] or free


def _unplaced_claim(text: Text, mentions: Sequence[Mention]) -> bool:
    """Something happened to the vehicle and nobody said where: "it's been hit, front offside"."""
    placed = {text.clauses.part[m.start] for m in mentions if is_place(m)}
    scene = (m for m in mentions if m.attribute == "scene" and _may_own(m) and not m.denied)
    return any(text.clauses.part[m.start] not in placed for m in scene)


def _with_loose(owned: list[Group], loose: list[Group], ports: Sequence[Mention]) -> tuple[list[Group], list[Group]]:
    """Port groups with the unclaimed ones that complete them, and those left over."""
    if not loose:
        return owned, []
    placed = [group for group in owned if not group.denied and not group.usual]
    if not placed:
        used = {span for group in owned for span in group.ranges}
        spare = [m for m in ports if m.attribute == "@port" and not used & set(m.ranges)]
        doubt = most_doubtful([m.doubt for m in spare] or [Doubt.FIRM if ports else Doubt.HEDGED])
        ranges = [span for m in spare for span in m.ranges]
        return [*owned, *(_taken_as_port(group, ranges, doubt) for group in loose)], []
    said = [bool(_sum(getattr(group, part) for group in placed)) for part in ("sides", "ends", "levels")]
    kept: list[Group] = []
    over: list[Group] = []
    for group in loose:
        new = [bool(group.sides), bool(group.ends), bool(group.levels)]
        fits = not group.denied and not any(one and other for one, other in zip(said, new, strict=True))
        (kept if fits else over).append(group)
    return [*owned, *kept], over


def _taken_as_port(group: Group, ranges: Sequence[Range], doubt: Doubt) -> Group:
    return replace(group, ranges=tuple(sorted({*group.ranges, *ranges})), doubt=most_doubtful((group.doubt, doubt)))


def _sum(sets: Iterable[frozenset[str]]) -> frozenset[str]:
    return frozenset().union(*sets)


def _united(groups: list[Group]) -> list[Group]:
    """All positive groups of the port as one place where they agree, otherwise one each."""
    plain = [group for group in groups if not group.denied and not group.apart]
    rest = [group for group in groups if group.denied or group.apart]
    if any(group.ends for group in plain if not group.usual):
        plain = [group for group in plain if not group.usual]
    made = plain[:1]
    for group in plain[1:]:
        made = [*made[:-1], *_pair(made[-1], group)] if len(made) == 1 else [*made, group]
    if len(made) > 1:
        made = plain
    return [*made, *rest]


def _pair(one: Group, other: Group) -> list[Group]:
    """Two groups as one if no part contradicts, else both."""
    sides, ends, levels = (_agreed(getattr(one, part), getattr(other, part)) for part in ("sides", "ends", "levels"))
    if sides is None or ends is None or levels is None:
        return [one, other]
    ranges = tuple(sorted({*one.ranges, *other.ranges}))
    return [Group(sides, ends, levels, ranges, most_doubtful((one.doubt, other.doubt)))]


def _agreed(one: frozenset[str], other: frozenset[str]) -> frozenset[str] | None:
    if not one or not other:
        return one | other
    both = frozenset(exact for a in one for b in other if (exact := _exacter(a, b)))
    return both or None


def _exacter(one: str, other: str) -> str:
    """The more exact of two words for one place, "" if they are two places."""
    for lay, exact in (("front", _FORWARD), ("rear", _REARWARD)):
        if one == lay and other in exact:
            return other
        if other == lay and one in exact:
            return one
    return one if one == other else ""


def _mention(attribute: str, group: Group) -> Mention:
    parts = [sorted(part) or [""] for part in (group.sides, group.ends, group.levels)]
    values = tuple(sorted("|".join(value) for value in product(*parts)))
    start, end = group.ranges[0]
    return Mention(attribute, values, start, end, group.doubt, group.denied, apart=group.apart, also=group.ranges[1:])


def _each_side(text: Text, groups: list[Group], mentions: Sequence[Mention]) -> list[Group]:
    """ "one port each side at the front": two ports, so two cues."""
    said = [mention for mention in mentions if mention.attribute == "@each"]
    if not said or not any(_is_portish(mention) for mention in mentions):
        return groups
    plain = [group for group in groups if not group.denied]
    one = plain[0] if plain else Group(frozenset(), frozenset(), frozenset(), (), Doubt.FIRM)
    ranges = tuple(sorted({*one.ranges, *(span for mention in said for span in mention.ranges)}))
    both = [replace(one, sides=frozenset((side,)), ranges=ranges, apart=True) for side in ("left", "right")]
    return [*both, *(group for group in groups if group is not one)]
