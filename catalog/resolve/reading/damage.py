"""Damage with its place: "left front crushed" is damage to the front and to the left.

A corner is two kinds of damage; the driver's side, which is neither left nor right by itself, stays
damage without a place. Alternatives ("left or right") leave both doubtful.
"""

from collections.abc import Sequence
from dataclasses import replace

from catalog.resolve.cue import Doubt
from catalog.resolve.reading.mention import Mention, most_doubtful
from catalog.resolve.reading.place_groups import Group
from catalog.resolve.reading.zones import FORWARD, REARWARD


def placed_damage(mentions: list[Mention], groups: Sequence[Group]) -> list[Mention]:
    """The mentions, damage of unsaid place replaced where a group says where it is."""
    placed: dict[tuple[int, int], list[Group]] = {}
    for group in groups:
        if group.of is not None and "damage" in group.of.values and not group.denied:
            placed.setdefault((group.of.start, group.of.end), []).append(group)
    if not placed:
        return mentions
    made: list[Mention] = []
    for mention in mentions:
        if mention.attribute != "scene" or mention.values != ("damage",):
            made.append(mention)
            continue
        where = [kind for group in placed.get((mention.start, mention.end), ()) for kind in _kinds(mention, group)]
        made += where or [mention]
    return made


def _kinds(mention: Mention, group: Group) -> list[Mention]:
    """Damage by place, as this group says."""
    sides = sorted(group.sides & {"left", "right"})
    ends = sorted({"front" if end in FORWARD else "rear" for end in group.ends if end in FORWARD | REARWARD})
    levels = [level for level in ("under", "roof") if level in group.levels]
    made = []
    for kinds in (sides, ends, levels):
        doubt = Doubt.HEDGED if len(kinds) > 1 else group.doubt
        made += [
            replace(mention, values=(f"damage_{kind}",), doubt=most_doubtful((mention.doubt, doubt))).with_ranges(
                group.ranges
            )
            for kind in kinds
        ]
    return made
