"""What end words come to: "rear" and "wing" are the rear quarter, "face" alone is either face."""

REARWARD = frozenset(("rear", "rear_face", "rear_quarter"))
FORWARD = frozenset(("front", "front_face", "front_quarter"))
_SPECIFIC = {
    ("front", "quarter"): "front_quarter", ("front", "wing"): "front_quarter", ("front", "face"): "front_face",
    ("rear", "quarter"): "rear_quarter", ("rear", "wing"): "rear_quarter", ("rear", "face"): "rear_face",
}  # fmt: skip
_ALONE = {"wing": ("front_quarter",), "quarter": ("front_quarter", "rear_quarter"), "face": ("front_face", "rear_face")}


def exact_ends(said: frozenset[str]) -> frozenset[str]:
    """The most exact reading of the end words of one group."""
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
    for vague, plain in ((one, other), (other, one)):
        if vague in ("driver", "passenger") and plain in ("left", "right"):
            return plain
    return one if one == other else ""
