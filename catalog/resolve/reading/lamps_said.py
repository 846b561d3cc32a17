"""Lamps and their shape: "square headlights", "one light right across the back", "tall ones behind"."""

from collections.abc import Sequence

from catalog.resolve.reading.mention import Mention
from catalog.resolve.reading.parts import OR, Hit, ranges
from catalog.resolve.reading.words import Word

LAMP = "lamp"
# Of two shapes said of one pair the more telling counts: "long thin light across" is a strip.
_RANK = ("pixels", "strip", "single", "pair_tall", "pair_slim", "pair_round", "pair_square")
_ENDS = {"@front": ("front_lamps",), "@rear": ("rear_lamps",), "@both": ("front_lamps", "rear_lamps")}
_OTHER = {"front": "@rear", "rear": "@front"}
_AGAIN = "again"  # "ones", "rears": lamps only where lamps were spoken of
_STRIP = "strip"  # a noun that says the shape itself
_PLACED = "placed"  # "red stripe": lamps only where a place is said
_BROKEN = frozenset(
    ("out", "broken", "smashed", "gone", "missing", "working", "off", "flashing", "blown", "cracked", "hanging", "bust")
)


def lamps_said(words: Sequence[Word], noun: Hit, said: Sequence[Hit], spoken_of: bool) -> list[Mention]:
    """The front lamps or the rear ones, or both. spoken_of: whether the text named lamps before."""
    kind = noun.nouns[LAMP].split()
    again = _AGAIN in kind
    words_said = [*("@" + word for word in kind), *(word for hit in said for word in hit.likes.get(LAMP, "").split())]
    shapes = [word for word in words_said if word in _RANK]
    if _STRIP in kind:
        shapes.append(_STRIP)
    ends = _ends_said(words_said)
    if not shapes or (not ends and (again or _PLACED in kind)) or (again and not spoken_of):
        return []
    values = shapes if any(OR in hit.likes for hit in said) else [min(shapes, key=_RANK.index)]
    start, end, apart = ranges(words, noun, said)
    if values == ["single"] and (_broken(words, noun.end) or _one_of(words, start)):
        return []
    return [
        Mention(attribute, tuple(sorted(set(values))), start, end, also=apart) for attribute in ends or ("front_lamps",)
    ]


def elsewhere(noun: Hit, said: Hit) -> bool:
    """Whether what is said is at the other end: "thin headlights and a name across the boot"."""
    return _OTHER.get(noun.nouns[LAMP], "-") in said.likes.get(LAMP, "").split()


def _ends_said(said: Sequence[str]) -> tuple[str, ...]:
    """Which lamps: where the noun says they are, else the places said of it; empty where nothing says."""
    places = [word for word in said if word in _ENDS]
    return tuple(sorted({attribute for word in places for attribute in _ENDS[word]}))


def _one_of(words: Sequence[Word], at: int) -> bool:
    """ "one of the tail lights" counts nothing."""
    return words[at].key == "one" and at + 1 < len(words) and words[at + 1].token.text == "of"


def _broken(words: Sequence[Word], at: int) -> bool:
    return any(word.key in _BROKEN for word in words[at : at + 3])
