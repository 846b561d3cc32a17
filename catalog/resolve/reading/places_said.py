"""Where things are: the port's place and other places, in the vehicle's frame.

A place belongs to the port when a port word stands in its part of the sentence, or when nothing
else claims it (then with a doubt if no port was spoken of). Each vehicle is read by itself.
"""

from collections.abc import Sequence
from dataclasses import replace
from itertools import product

from catalog.resolve.cue import ANOTHER, ASKED, Doubt
from catalog.resolve.reading.damage import placed_damage
from catalog.resolve.reading.mention import Mention, Range, Text, in_order, is_place, most_doubtful
from catalog.resolve.reading.place_groups import POSTURE, Group, sorted_groups
from catalog.resolve.reading.place_owners import PORTISH, is_portish, may_own
from catalog.resolve.reading.port_likenesses import without_likenesses
from catalog.resolve.reading.port_places import several, united, with_loose
from catalog.resolve.reading.viewpoints import Views, in_frame

# The ends of a vehicle that a cover sits at, where none is said.
_AT_ENDS = {"badge": ("front_face", "rear_face"), "plate": ("front_face", "rear_face"), "lamp": ("front", "rear")}
_SEEN = frozenset(("name", "propulsion", "marking", "doors", "handles", "front_lamps", "rear_lamps", "wheels", "fuel"))


def read_places(text: Text, mentions: Sequence[Mention], driving_side: str) -> list[Mention]:
    """The mentions with places read: "side|end|level" of the port and of other things, roles left out."""
    if all(mention.vehicle == ASKED for mention in mentions):
        return _of_one(text, mentions, driving_side)
    made: list[Mention] = []
    for vehicle in (ASKED, ANOTHER):
        own = [m for m in mentions if m.vehicle == vehicle or m.attribute == "@view"]
        made += [replace(m, vehicle=vehicle) for m in _of_one(text, own, driving_side)]
    return made


def _of_one(text: Text, mentions: Sequence[Mention], driving_side: str) -> list[Mention]:
    if not any(is_place(m) or m.attribute in ("port_place", "@each") or m.attribute in PORTISH for m in mentions):
        return [mention for mention in mentions if not mention.is_role]
    mentions = in_order(without_likenesses(text, mentions))
    found = sorted_groups(text, mentions)
    views = Views(text, mentions)
    scene = {value for m in mentions if m.attribute == "scene" and not m.denied for value in m.values}
    tipped, inside = bool(POSTURE & scene), "caller_inside" in scene

    def framed(groups: Sequence[Group]) -> list[Group]:
        return [in_frame(group, views, driving_side, tipped=tipped, inside=inside) for group in groups]

    owned, loose, others = framed(found.owned), framed(found.loose), framed(found.others)
    spoken_of = [mention for mention in mentions if is_portish(mention)]
    waiting = _unplaced_claim(text, mentions)
    if not spoken_of and waiting:
        others, loose = [*others, *(replace(group, of=waiting) for group in loose)], []
    many = several(text, mentions)
    ports, left_over = with_loose(text, owned, loose, spoken_of, many)
    places = _behind_cover(_each_side(united(text, ports, many), text, mentions), mentions)
    made = [_mention("port_place", group) for group in places]
    elsewhere = [group for group in (*others, *left_over) if group.of is not None]
    made += [_mention("other_place", group) for group in elsewhere if group.sides or group.ends]
    return made + placed_damage(_with_their_places(text, mentions, found.of_looks), elsewhere)


def _with_their_places(text: Text, mentions: Sequence[Mention], of_looks: dict[int, list[Range]]) -> list[Mention]:
    """What is not a place: each look with the words that say where it is, a connector with its "socket"."""
    part = text.clauses.part
    said: dict[int, list[Range]] = {}
    for mention in mentions:
        if mention.attribute == "@port":
            said.setdefault(part[mention.start], []).extend(mention.ranges)
    made = []
    for mention in mentions:
        if mention.is_role or mention.attribute == "port_place":
            continue
        ranges = of_looks.get(id(mention), [])
        if mention.attribute in PORTISH:
            ranges = [*ranges, *said.get(part[mention.start], [])[:4]]
        made.append(mention.with_ranges(ranges))
    return made


def _unplaced_claim(text: Text, mentions: Sequence[Mention]) -> Mention | None:
    """Something happened to the vehicle and nobody said where: "it's been hit, front offside"."""
    placed = {text.clauses.part[m.start] for m in mentions if is_place(m)}
    scene = (m for m in mentions if m.attribute == "scene" and may_own(m) and not m.denied)
    return next((m for m in scene if text.clauses.part[m.start] not in placed), None)


def _mention(attribute: str, group: Group) -> Mention:
    parts = [sorted(part) or [""] for part in (group.sides, group.ends, group.levels)]
    values = tuple(sorted("|".join(value) for value in product(*parts)))
    start, end = group.ranges[0]
    return Mention(
        attribute,
        values,
        start,
        end,
        group.doubt,
        group.denied,
        apart=group.apart,
        also=group.ranges[1:],
        viewpoint=group.viewpoint,
    )


def _behind_cover(groups: list[Group], mentions: Sequence[Mention]) -> list[Group]:
    """ "behind the number plate" with no end said: either face; behind a lamp: either end."""
    groups = [_at_quarter(group) for group in groups]
    covers = {value for m in mentions if m.attribute == "port_cover" and not m.denied for value in m.values}
    if covers & {"badge", "plate", "grille"}:
        groups = [replace(group, ends=frozenset(_FACES.get(end, end) for end in group.ends)) for group in groups]
    said = [m for m in mentions if m.attribute == "port_cover" and not m.denied and set(m.values) <= set(_AT_ENDS)]
    if not said or any(group.ends or group.denied for group in groups):
        return groups
    ends = frozenset(end for cover in said for value in cover.values for end in _AT_ENDS[value])
    if not groups:
        doubt = most_doubtful(cover.doubt for cover in said)
        return [Group(frozenset(), ends, frozenset(), tuple(span for m in said for span in m.ranges), doubt)]
    return [replace(group, ends=ends) for group in groups]


_FACES = {"front": "front_face", "rear": "rear_face"}


def _at_quarter(group: Group) -> Group:
    """ "I'm behind it, on my left by the wheel": the wheel at that end."""
    if group.ends == {"front_quarter", "rear_quarter"} and group.viewpoint in ("front", "rear"):
        return replace(group, ends=frozenset((f"{group.viewpoint}_quarter",)))
    if group.ends == {"front_face", "rear_face"} and group.viewpoint in ("front", "rear"):
        return replace(group, ends=frozenset((f"{group.viewpoint}_face",)))
    return group


def _each_side(groups: list[Group], text: Text, mentions: Sequence[Mention]) -> list[Group]:
    """ "one port each side at the front": two ports, so two cues. Letters or lamps on each side are none."""
    said = [mention for mention in mentions if mention.attribute == "@each" and _of_port(text, mention, mentions)]
    if not said:
        return groups
    plain = [group for group in groups if not group.denied]
    if {"left", "right"} <= {side for group in plain for side in group.sides}:
        return groups
    one = plain[0] if plain else Group(frozenset(), frozenset(), frozenset(), (), Doubt.FIRM)
    ranges = tuple(sorted({*one.ranges, *(span for mention in said for span in mention.ranges)}))
    both = [replace(one, sides=frozenset((side,)), ranges=ranges, apart=True) for side in ("left", "right")]
    return [*both, *(group for group in groups if group is not one)]


def _of_port(text: Text, each: Mention, mentions: Sequence[Mention]) -> bool:
    """Whether the nearest thing said in the same clause is the port, not letters, doors or lamps."""
    lettered = [m for m in mentions if m.attribute == "name" and 0 <= each.start - m.end <= 3]
    if any(text.same_clause(m.start, each.start) for m in lettered):
        return False
    here = [m for m in mentions if m is not each and text.same_clause(m.start, each.start)]
    seen = any(m.attribute in _SEEN and text.same_sentence(m.start, each.start) for m in mentions)
    if not seen and any(is_portish(m) and text.same_sentence(m.start, each.start) for m in mentions):
        return True
    near = [m for m in here if is_portish(m) or m.attribute in _SEEN]
    if not near:
        before = [m for m in mentions if m.end <= each.start and (is_portish(m) or m.attribute in _SEEN)]
        near = before[-1:]
    nearest = min(near, key=lambda m: max(m.start - each.end, each.start - m.end), default=None)
    return nearest is not None and is_portish(nearest)
