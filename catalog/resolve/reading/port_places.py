"""The groups of the port put together: one place, several ports, or alternatives.

What agrees is one place. Where left meets right, there are two ports if the text counts them ("both inlets",
"a second one", "one ... the other") or joins two ports by "and"; what is said of neither alone ("above the rear
wheels") is said of both, and an end said of the first holds for the next ("... behind the front wheel on the
right, the other on the left"). Otherwise all that was said are alternatives.
"""

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import replace

from catalog.resolve.cue import Doubt
from catalog.resolve.reading.mention import Mention, Range, Text, most_doubtful
from catalog.resolve.reading.place_groups import Group
from catalog.resolve.reading.zones import agreed

_PARTS = ("sides", "ends", "levels")
_LONG = 8  # ranges: more than one mention has
_MANY = frozenset(
    ("two", "both", "2", "twin", "pair", "dual", "second", "2nd", "another", "either", "opposite", "each")
)
_PORTS = frozenset(
    ("ports", "sockets", "inlets", "flaps", "points", "plugs", "lids", "covers", "doors", "chargers", "charges")
)
_NOT_SURE = frozenset(
    ("or", "says", "say", "said", "reckons", "swears", "disagree", "disagrees", "maybe", "either", "agree", "thinks",
     "cld", "could", "might", "perhaps", "possibly", "unsure", "sure", "claims", "insists")
)  # fmt: skip


def several(text: Text, mentions: Sequence[Mention]) -> bool:
    """Whether more than one port is spoken of."""
    if any(mention.attribute == "@another" for mention in mentions):
        return True
    ports = {at for m in mentions if m.attribute == "@port" for at in range(m.start, m.end)}
    for at in sorted(ports):
        if text.words[at].token.text in _PORTS:
            before = [text.words[place].token.text for place in range(max(0, at - 4), at)]
            if text.words[at].token.text not in ("plugs", "charges", "doors") or _MANY & set(before):
                return True
    kinds = [set(m.values) for m in mentions if m.attribute == "connector" and not m.denied]
    return any(not kinds[0] & other for other in kinds[1:])


def with_loose(
    text: Text, owned: list[Group], loose: list[Group], ports: Sequence[Mention], many: bool
) -> tuple[list[Group], list[Group]]:
    """Port groups with the unclaimed ones that complete them, and those left over."""
    if not loose:
        return owned, []
    placed = [group for group in owned if not group.denied and not group.usual]
    if not placed:
        used = {span for group in owned for span in group.ranges}
        spare = [m for m in ports if m.attribute == "@port" and not used & set(m.ranges)]
        doubt = most_doubtful([m.doubt for m in spare] or [Doubt.FIRM if ports else Doubt.HEDGED])
        ranges = [span for m in spare for span in m.ranges]
        hanging: list[Group] = []
        for group in sorted(loose, key=lambda group: group.start):
            goes_on = any(_goes_on(text, group, other) for other in hanging)
            if goes_on or _may_be_port(text, group, ports):
                hanging.append(group)
        if not hanging:
            return owned, loose
        first, *rest = hanging
        return [*owned, _taken_as_port(first, ranges, doubt), *(_taken_as_port(g, (), doubt) for g in rest)], []
    said = [bool(_sum(getattr(group, part) for group in placed)) for part in _PARTS]
    kept: list[Group] = []
    over: list[Group] = []
    for group in loose:
        fits = not group.denied and (
            any(_completes(text, group, other, said) for other in placed)
            or any(_one_more(text, group, other, many) for other in [*placed, *kept])
        )
        (kept if fits else over).append(group)
    return [*owned, *kept], over


def _one_more(text: Text, group: Group, port: Group, many: bool) -> bool:
    """ "... at eight and at four o'clock", "another guy swears it's the left": another side, soon after."""
    apart = text.clauses.sentence[group.start] - text.clauses.sentence[port.start]
    if not 0 <= apart <= 1 or not group.sides or group.sides & port.sides or (apart and group.start < port.start):
        return False
    if not many and not (apart == 0 and _unsure(text, port.start, group.start)):
        return False
    return bool(port.sides) or agreed(group.ends, port.ends) is not None


def _goes_on(text: Text, group: Group, other: Group) -> bool:
    """More of the same place in the same sentence: "right front wing, aft of the wheel, belt high"."""
    same = text.same_sentence(group.start, other.start)
    return same and all(agreed(getattr(group, part), getattr(other, part)) is not None for part in _PARTS)


def _may_be_port(text: Text, group: Group, ports: Sequence[Mention]) -> bool:
    """A place left hanging is the port's: near where the port is spoken of, or a side and an end by itself."""
    if not group.sides and not group.ends:
        return False
    if not ports:
        return bool(group.sides and group.ends)
    sentence = text.clauses.sentence
    return any(abs(sentence[group.start] - sentence[port.start]) <= 1 for port in ports)


def _completes(text: Text, group: Group, port: Group, said: Sequence[bool]) -> bool:
    """ "at the back on the right, above the wheel": what is said next of the same place, or what was left open."""
    if text.same_sentence(group.start, port.start):
        return all(agreed(getattr(group, part), getattr(port, part)) is not None for part in _PARTS)
    if not group.sides and not group.ends:
        return False
    return not any(one and getattr(group, part) for one, part in zip(said, _PARTS, strict=True))


def _taken_as_port(group: Group, ranges: Sequence[Range], doubt: Doubt) -> Group:
    return replace(group, ranges=tuple(sorted({*group.ranges, *ranges})), doubt=most_doubtful((group.doubt, doubt)))


def _sum(sets: Iterable[frozenset[str]]) -> frozenset[str]:
    return frozenset().union(*sets)


def united(text: Text, groups: list[Group], many: bool) -> list[Group]:
    """All positive groups of the port as one place where they agree, otherwise one each."""
    plain = [group for group in groups if not group.denied]
    rest = [group for group in groups if group.denied]
    if any(group.ends for group in plain if not group.usual):
        plain = [group for group in plain if not group.usual]
    if len(plain) < 2:
        return [*plain, *rest]
    plain.sort(key=lambda group: group.start)
    made = _one_by_one(text, plain)
    if len(made) == 1:
        return [*made, *rest]
    sided = [group for group in made if group.sides & {"left", "right"}]
    if len(sided) < 2 and not any(group.apart for group in made):
        one = _all_as_one(made)
        return [*([one] if one is not None else made), *rest]
    made = _filled(made)
    many = many or any(group.apart for group in made)
    apart = many and not _unsure(text, made[0].start - 6, made[-1].start)
    return [*(replace(group, apart=apart) for group in made), *rest]


def _unsure(text: Text, start: int, end: int) -> bool:
    """ "one says the right, the other the left": alternatives, not two ports."""
    return any(text.words[at].token.text in _NOT_SURE for at in range(max(0, start), end))


def _one_by_one(text: Text, groups: Sequence[Group]) -> list[Group]:
    """In the order of the text, each joined to the one before it that it agrees with."""
    made: list[Group] = []
    for group in groups:
        at = len(made) - 1
        if made and group.apart:
            same = [place for place, other in enumerate(made) if _place(other) == _place(group)]
            at = same[-1] if same else -1
        elif not group.sides and _of_two(text, made):
            at = -1
        elif made and _pair(made[at], group) is None:
            at = next((place for place in range(at, -1, -1) if _pair(made[place], group) is not None), -1)
        both = _pair(made[at], group) if made and at >= 0 else None
        if both is None:
            made.append(group)
        else:
            made[at] = both
    return made


def _of_two(text: Text, made: Sequence[Group]) -> bool:
    """The last two are two sides said in one clause: what comes next is said of both."""
    if len(made) < 2 or not made[-1].sides or not made[-2].sides or made[-1].sides & made[-2].sides:
        return False
    return text.same_clause(made[-1].start, made[-2].start)


def _place(group: Group) -> tuple[frozenset[str], frozenset[str], frozenset[str]]:
    return group.sides, group.ends, group.levels


def _all_as_one(groups: Sequence[Group]) -> Group | None:
    one: Group | None = groups[0]
    for group in groups[1:]:
        one = None if one is None else _pair(one, group)
    return one


def _filled(groups: list[Group]) -> list[Group]:
    """Sided groups with what is said of all of them, and with the end said of the one before."""
    sided = [group for group in groups if group.sides]
    general = [group for group in groups if not group.sides and not group.apart] if len(sided) > 1 else []
    made: list[Group] = []
    for group in groups:
        if not group.sides:
            if group not in general:
                made.append(group)
            continue
        for other in general:
            both = _pair(group, other)
            group = group if both is None else replace(both, apart=group.apart)
        if made and made[-1].ends and made[-1].sides != group.sides and group.sides & {"left", "right"}:
            ends = agreed(group.ends, made[-1].ends)
            if ends is not None and (not group.ends or len(group.ends) > 1):
                group = replace(group, ends=ends)
        made.append(group)
    return made


def _pair(one: Group, other: Group) -> Group | None:
    """Two groups as one if no part contradicts."""
    ends = agreed(one.ends, other.ends)
    sides = agreed(one.sides, other.sides)
    if ends is None and "middle" in one.ends | other.ends and len(one.ends) == len(other.ends) == 1:
        # "in the nose, middle": the middle of that end.
        ends = one.ends | other.ends
        ends -= {"middle"}
        sides = sides or frozenset(("centre",))
        if sides != {"centre"}:
            return None
    levels = agreed(one.levels, other.levels)
    if sides is None or ends is None or levels is None:
        return None
    ranges = _together(one.ranges, other.ranges)
    viewpoint = one.viewpoint or other.viewpoint
    return replace(
        one,
        sides=sides,
        ends=ends,
        levels=levels,
        ranges=ranges,
        doubt=most_doubtful((one.doubt, other.doubt)),
        viewpoint=viewpoint,
        apart=one.apart or other.apart,
        usual=False,
        at=one.start,
    )


def _together(one: tuple[Range, ...], other: tuple[Range, ...]) -> tuple[Range, ...]:
    """Both in order, each once. What was put together before is in order: a long one is not sorted again for what
    follows it, beside what it has already."""
    if len(one) > _LONG:
        later = [span for span in sorted({*other}) if span > one[-1]]
        if all(span > one[-1] or _has(one, span) for span in other):
            return (*one, *later)
    return tuple(sorted({*one, *other}))


def _has(ranges: Sequence[Range], span: Range) -> bool:
    """Whether a span is among ranges in order."""
    at = bisect_left(ranges, span)
    return at < len(ranges) and ranges[at] == span
