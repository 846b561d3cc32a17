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
from catalog.resolve.reading.place_owners import LETTERED, LOOKS, NEAR, Parts, claims, is_portish, may_own, owner_of
from catalog.resolve.reading.tokens import JOINED
from catalog.resolve.reading.words import keys
from catalog.resolve.reading.zones import FORWARD, REARWARD, exact_ends

POSTURE = frozenset(("left_down", "right_down", "on_side", "on_roof", "rolled"))
_BEHIND_FACE = frozenset(("badge", "plate", "grille"))
_LEADING = frozenset(("at", "on", "in", "by", "is", "the", "its", "to", "near"))
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


def sorted_groups(text: Text, mentions: Sequence[Mention]) -> Sorted:
    """All place words of a text as groups, by owner."""
    made = Sorted()
    parts = Parts(text, mentions)
    said = -1  # the sentence in which the port's place was last begun
    for run in _runs(text, [m for m in mentions if not _bare_wheels(text, m)]):
        owner = owner_of(run, parts)
        second = next((m for m in parts.near(run[0].start) if m.attribute == "@another"), None)
        second = second or _counted(text, run)
        if second is not None and (owner is None or is_portish(owner)):
            made.owned.append(replace(_group(run, second), apart=True))
        elif owner is not None and is_portish(owner):
            made.owned.append(_group(run, owner, on_face=_face_cover(owner, parts)))
            said = text.clauses.sentence[run[0].start]
        elif owner is not None and owner.attribute in LOOKS | LETTERED:
            made.of_looks.setdefault(id(owner), []).extend(span for entry in run for span in entry.ranges)
        elif owner is None and _says_no_place(text, run, parts, after_port=said == text.clauses.sentence[run[0].start]):
            continue
        elif owner is None and (
            _is_pure(run, parts)
            or (_is_full(run) and _port_in_sentence(text, run, mentions))
            or (said == text.clauses.sentence[run[0].start] and not _others_letters(run, parts) and not run[0].denied)
        ):
            made.loose.append(_group(run))
        elif owner is not None and owner.attribute == "scene" and "wheel_off_ground" not in owner.values:
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


def _runs(text: Text, mentions: Sequence[Mention]) -> list[list[Mention]]:
    """Place mentions that stand together in one part of a sentence."""
    runs: list[list[Mention]] = []
    end = 0
    owners = sorted(mention.start for mention in mentions if may_own(mention) or mention.attribute == "name")
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
    if not _alike_denied(text, run, end, mention):
        return False
    at = bisect_left(owners, end)
    if at < len(owners) and owners[at] < mention.start:
        return False
    if any(claims(text.words[at].key) for at in range(end, mention.start)):
        return False
    if mention.attribute != "@side":
        return True
    sides = {value for entry in (*run[-NEAR:], mention) if entry.attribute == "@side" for value in entry.values}
    full = any(entry.attribute in ("@end", "@landmark") for entry in run[-NEAR:])
    return not (full and len(sides - {"centre"}) > len(mention.values))


_OPPOSED = (
    (frozenset(("left",)), frozenset(("right",))),
    (frozenset(("near",)), frozenset(("off",))),
    (frozenset(("driver",)), frozenset(("passenger",))),
    (FORWARD, REARWARD),
)


def _alike_denied(text: Text, run: Sequence[Mention], end: int, mention: Mention) -> bool:
    """ "on the left, not the right" are two places; of "not on the left at the rear" the rear is denied too."""
    if not run[0].denied:  # then none is: what is denied never joins such a run
        return not mention.denied
    if mention.denied:
        return True
    if any(text.words[at].token.text in ("its", "is", "it", "but", "thats") for at in range(end, mention.start)):
        return False
    values = {value for entry in (*run, mention) for value in entry.values}
    return not any(one & values and other & values for one, other in _OPPOSED)


def _is_pure(run: Sequence[Mention], parts: Parts) -> bool:
    """Nothing unexplained stands in the clause part that could own the place."""
    text, start = parts.text, run[0].start
    if not parts.explained(start):
        return False
    end = max(entry.end for entry in run)
    if end < len(text.words) and text.words[end].key == "mounted" and text.words[end].token.parted == JOINED:
        # "a rear-mounted engine"
        return False
    # "the van on the left" says where the van stands, not where its port is.
    stands = len(run) == 1 and run[0].attribute == "@side" and text.words[start].key in ("on", "to")
    return not (stands and any(m.attribute == "body" and m.end <= start for m in parts.near(start)))


def _others_letters(run: Sequence[Mention], parts: Parts) -> bool:
    """A name or another vehicle stands in the part: its place, not more of the port's."""
    return any(m.attribute in LETTERED or m.attribute == "body" for m in parts.near(run[0].start))


def _says_no_place(text: Text, run: Sequence[Mention], parts: Parts, *, after_port: bool) -> bool:
    """Parts named by themselves, unless they say where the port just spoken of is: "..., next to the mirror"."""
    if _vague(run, parts):
        return True
    if any(mention.attribute != "@landmark" for mention in run):
        return False
    at = run[0].start - 1
    while at > 0 and text.words[at].token.text in ("the", "its", "wing", "door"):
        at -= 1
    if text.words[run[0].start].token.text in _PREPOSITIONS:
        return not after_port
    led = at >= 0 and text.words[at].token.text in _LEADS
    return not (after_port and led and text.same_clause(at, run[0].start))


_VAGUE = frozenset(("middle", "centre", "corner", "quarter", "top", "on", "bottom"))
_PREPOSITIONS = frozenset(
    (
        "behind", "above", "over", "by", "near", "beside", "at", "ahead", "of", "before", "after", "past", "to", "off",
        "between", "aft", "next", "against", "from", "towards", "under", "below", "with", "on", "in", "buy",
    )
)  # fmt: skip
_LEADS = _PREPOSITIONS | {"where", "adjacent"}
_BESIDE = _PREPOSITIONS - {"of", "on", "in", "to", "from", "with"}


def _vague(run: Sequence[Mention], parts: Parts) -> bool:
    """ "two on top, one in the middle", "on the corner of the road": no place of a vehicle by themselves."""
    text = parts.text
    if any(entry.attribute == "@side" and set(entry.values) != {"centre"} for entry in run):
        return False
    words = {text.words[at].key for entry in run for at in range(entry.start, entry.end) if not text.small[at]}
    if words <= {"corner"}:
        return True
    return words <= _VAGUE and any(text.words[at].key in keys("number_words") for at in parts.words(run[0].start))


def _bare_wheels(text: Text, mention: Mention) -> bool:
    """ "the wheels are in the creek", "jumped out of my boots": things, not places."""
    if mention.attribute != "@landmark" or mention.end - mention.start > 1:
        return False
    word = text.words[mention.start].token.text
    if word not in ("wheels", "tyres", "tires", "boots"):
        return False
    at = mention.start - 1
    while at >= 0 and text.words[at].token.text in ("the", "its", "a", "my", "both", "their"):
        at -= 1
    return at < 0 or (
        text.words[at].token.text not in _BESIDE
        and text.words[at].token.text not in ("front", "rear", "back", "left", "right")
    )


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
    # "the flap isn't damaged, left rear" denies no place.
    denied = any(entry.denied for entry in everyone if entry.attribute != "scene")
    apart = any(entry.apart for entry in everyone)
    return Group(sides, ends, of("@level"), ranges, doubt, denied, apart, at=run[0].start)
