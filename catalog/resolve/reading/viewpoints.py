"""From where sides were said, and what they are in the vehicle's frame.

Nearside and offside go by the side traffic keeps to. A left said facing the front is the vehicle's
right; said facing the rear, or from the seat, it is the vehicle's left. "as you look at it" faces the
front, or the rear when the place is at the rear; that is a reading, so it carries a doubt. A vehicle on
its side or roof makes left and right doubtful.
"""

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import replace

from catalog.resolve.cue import Doubt
from catalog.resolve.reading.mention import Mention, Mentions, Text, most_doubtful
from catalog.resolve.reading.place_groups import Group
from catalog.resolve.reading.zones import FORWARD, REARWARD

_OTHER = {"left": "right", "right": "left"}
# "on my left", "as I face it": from where is said elsewhere, if at all.
_NEEDS_MORE = frozenset(("mine", "facing"))
_FEW = 4
_RELATIVE = frozenset(("near", "off"))
# Where somebody stands or looks: the place words right after it are the viewpoint, not the port's.
_STANDS = frozenset(
    (
        "stood",
        "standing",
        "stand",
        "looking",
        "look",
        "facing",
        "face",
        "viewed",
        "seen",
        "sat",
        "sitting",
        "view",
        "positioned",
        "posted",
        "im",
        "am",
        "were",
        "stands",
        "stay",
        "staying",
        "kneeling",
        "crouched",
        "waiting",
        "here",
    )
)
_TOWARDS = frozenset(
    (
        "at",
        "by",
        "in",
        "to",
        "from",
        "of",
        "the",
        "its",
        "on",
        "toward",
        "towards",
        "it",
        "near",
        "my",
        "with",
        "front",
        "ahead",
        "before",
        "out",
        "right",
        "straight",
        "up",
        "close",
        "square",
        "on",
        "for",
    )
)


class Views:
    """The viewpoints of a text, by clause and sentence."""

    def __init__(self, text: Text, mentions: Sequence[Mention]) -> None:
        self._text = text
        clause, sentence = text.clauses.clause, text.clauses.sentence
        sided = {clause[m.start] for m in mentions if m.attribute == "@side"}
        self._own: dict[int, list[Mention]] = {}
        self._free: dict[int, list[Mention]] = {}
        self._anywhere: list[Mention] = []
        self._stood = [m for m in mentions if m.attribute == "@view" and not _NEEDS_MORE & set(m.values)]
        for view in (m for m in mentions if m.attribute == "@view"):
            self._own.setdefault(clause[view.start], []).append(view)
            if clause[view.start] not in sided:
                self._free.setdefault(sentence[view.start], []).append(view)
                self._anywhere.append(view)

    def nearest(self, word: int) -> list[Mention]:
        """What was said in the clause, else in the sentence, else anywhere where no side is."""
        own = _close(self._own.get(self._text.clauses.clause[word], []), word)
        if any(not _NEEDS_MORE & set(view.values) for view in own):
            return own
        more = self._free.get(self._text.clauses.sentence[word]) or self._anywhere[:_FEW]
        if not more and any("mine" in view.values for view in own):
            # "my right" needs a viewpoint, and the one said last before will do.
            before = [view for view in self._stood if view.start < word]
            more = before[-1:] or self._stood[:1]
        return [*own, *more]


def _close(views: list[Mention], word: int) -> list[Mention]:
    """Of many the few nearest."""
    if len(views) <= _FEW:
        return views
    at = bisect_left(views, word, key=lambda view: view.start)
    return views[max(0, at - _FEW // 2) : at + _FEW // 2]


def stood_at(text: Text, mentions: Mentions) -> Mentions:
    """ "stood at the bonnet", "looking at the boot": the end words that say from where become a viewpoint."""
    made: list[Mention] = []
    for place, mention in enumerate(mentions):
        view = _view_of(text, mention) if mention.attribute in ("@end", "@landmark") else ""
        stands = view != "" and not _beside(text, mentions, place)
        made.append(replace(mention, attribute="@view", values=(view,)) if stands else mention)
    return made


def _view_of(text: Text, mention: Mention) -> str:
    """ "front" or "rear" where a word of standing or looking leads to an end of the vehicle."""
    values = set(mention.values)
    end = "front" if values <= FORWARD else "rear" if values <= REARWARD else ""
    at = mention.start
    while at > 0 and text.same_clause(at - 1, mention.start) and text.words[at - 1].token.text in _TOWARDS:
        at -= 1
    if not end or at == 0 or not text.same_clause(at - 1, mention.start) or mention.start - at > 5:
        return ""
    return end if text.words[at - 1].token.text in _STANDS and mention.start > at - 1 else ""


def _beside(text: Text, mentions: Mentions, place: int) -> bool:
    """A side word right next to it makes it a place: "looking at the front left wing"."""
    this = mentions[place]
    around = mentions[max(0, place - 3) : place] + mentions[place + 1 : place + 4]
    return any(
        m.attribute in ("@side", "@port")
        and (m.start == this.end or m.end == this.start)
        and text.same_clause(m.start, this.start)
        for m in around
    )


def in_frame(group: Group, views: Views, driving_side: str, *, tipped: bool, inside: bool) -> Group:
    """The group with its sides in the vehicle's frame. tipped: not on its wheels. inside: so is the caller."""
    near = {"near": driving_side, "off": _OTHER[driving_side]}
    sides = frozenset(near.get(side, side) for side in group.sides)
    doubt = most_doubtful((group.doubt, Doubt.HEDGED)) if tipped and sides else group.doubt
    if not sides & {"left", "right"} or group.sides & _RELATIVE:
        return replace(group, sides=sides, doubt=doubt)
    said = views.nearest(group.start)
    viewpoint, unsure = _viewpoint({value for view in said for value in view.values}, group, inside=inside)
    if viewpoint == "front":
        sides = frozenset(_OTHER.get(side, side) for side in sides)
    if unsure:
        doubt = most_doubtful((doubt, Doubt.HEDGED))
    ranges = tuple(sorted({*group.ranges, *(span for view in said for span in view.ranges)}))
    return replace(group, sides=sides, ranges=ranges, doubt=doubt, viewpoint=viewpoint)


def _viewpoint(said: set[str], group: Group, *, inside: bool) -> tuple[str, bool]:
    """(viewpoint, whether that is only a reading) of what was said about it."""
    if "inside" in said:
        return "vehicle", False
    if "rear" in said:
        return "rear", "front" in said
    if "front" in said:
        return "front", False
    if "facing" in said:
        return ("rear", True) if group.ends & REARWARD else ("front", not group.ends & FORWARD)
    if "mine" in said:
        return ("vehicle", False) if inside else ("", True)
    return "", False
