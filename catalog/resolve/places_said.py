"""Where things are: the port's place and other places, in the vehicle's frame.

Places come out in the vehicle's frame: nearside and offside by the side traffic keeps to, a left
said from in front turned round. A place belongs to the port when a port word stands in its part
of the sentence, or when nothing else claims it (then with a doubt if no port was spoken of).
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import product

from catalog.resolve.cue import Doubt
from catalog.resolve.mention import Mention, Range, Text, most_doubtful
from catalog.resolve.modifiers import is_place
from catalog.resolve.place_groups import PORTISH, POSTURE, REARWARD, Group, agreed, is_portish, may_own, sorted_groups

_OTHER = {"left": "right", "right": "left"}


def read_places(text: Text, mentions: Sequence[Mention], driving_side: str) -> list[Mention]:
    """The mentions with places read: "side|end|level" of the port and of other things, roles left out."""
    found = sorted_groups(text, mentions)
    owned, loose, others = found.owned, found.loose, found.others
    tipped = any(m.attribute == "scene" and not m.denied and POSTURE & set(m.values) for m in mentions)
    owned, loose = (
        [_in_frame(text, group, mentions, driving_side, tipped) for group in groups] for groups in (owned, loose)
    )
    others = [_in_frame(text, group, mentions, driving_side, False) for group in others]
    if not any(is_portish(m) for m in mentions) and _unplaced_claim(text, mentions):
        others, loose = [*others, *loose], []
    ports, left_over = _with_loose(owned, loose, [m for m in mentions if is_portish(m)])
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
        if mention.attribute in PORTISH:
            said = [m for m in mentions if m.attribute == "@port" and part[m.start] == part[mention.start]]
            ranges += [span for m in said for span in m.ranges]
        made.append(mention.with_ranges(ranges))
    return made


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
        if "front" not in said and group.ends & REARWARD:
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
    scene = (m for m in mentions if m.attribute == "scene" and may_own(m) and not m.denied)
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
    sides, ends, levels = (agreed(getattr(one, part), getattr(other, part)) for part in ("sides", "ends", "levels"))
    if sides is None or ends is None or levels is None:
        return [one, other]
    ranges = tuple(sorted({*one.ranges, *other.ranges}))
    return [Group(sides, ends, levels, ranges, most_doubtful((one.doubt, other.doubt)))]


def _mention(attribute: str, group: Group) -> Mention:
    parts = [sorted(part) or [""] for part in (group.sides, group.ends, group.levels)]
    values = tuple(sorted("|".join(value) for value in product(*parts)))
    start, end = group.ranges[0]
    return Mention(attribute, values, start, end, group.doubt, group.denied, apart=group.apart, also=group.ranges[1:])


def _each_side(text: Text, groups: list[Group], mentions: Sequence[Mention]) -> list[Group]:
    """ "one port each side at the front": two ports, so two cues."""
    said = [mention for mention in mentions if mention.attribute == "@each"]
    if not said or not any(is_portish(mention) for mention in mentions):
        return groups
    plain = [group for group in groups if not group.denied]
    one = plain[0] if plain else Group(frozenset(), frozenset(), frozenset(), (), Doubt.FIRM)
    ranges = tuple(sorted({*one.ranges, *(span for mention in said for span in mention.ranges)}))
    both = [replace(one, sides=frozenset((side,)), ranges=ranges, apart=True) for side in ("left", "right")]
    return [*both, *(group for group in groups if group is not one)]
