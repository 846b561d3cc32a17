"""A plug like no other: "only their own cord goes in", "I never saw a shape like it", "some odd shape"."""

from collections.abc import Sequence

from catalog.resolve.cue import Doubt
from catalog.resolve.reading.mention import Mention
from catalog.resolve.reading.scan import Scan
from catalog.resolve.reading.words import Word, exactly

_LEADS = frozenset(
    ("cable", "lead", "cord", "plug", "charger", "adaptor", "adapter", "connector", "socket", "wire", "coupler")
)
_ONLY = frozenset(("only", "just", "nothing", "need", "take", "takes", "needs", "accept", "accepts", "want", "wants"))
_FITS = frozenset(("fit", "fits", "go", "goes", "work", "works", "match", "matches"))
_STRANGE = frozenset(
    ("strange", "odd", "weird", "funny", "peculiar", "unusual", "special", "unknown", "unfamiliar", "queer", "bizarre",
     "different", "curious", "exotic")
)  # fmt: skip
_SHAPES = frozenset(("shape", "shaped", "plug", "socket", "connector", "inlet", "fitting", "pattern", "design"))
_SEEN = frozenset(("seen", "saw", "see", "come", "met"))
_NEVER = frozenset(("never", "not", "havent", "didnt", "nobody", "nothing"))
_NEAR = 16


def read_own(scan: Scan, taken: Sequence[bool]) -> list[Mention]:
    """At most one mention, where a port is spoken of near by."""
    for at, word in enumerate(scan.words):
        if taken[at] or word.key not in _BEGINS:
            continue
        span = _only_own(scan, at) or _strange(scan, at) or _never_seen(scan, at)
        if span and any(near.key in exactly("port_words") or near.key in _LEADS for near in _around(scan, at)):
            return [Mention("connector", ("own",), *span, Doubt.HEDGED)]
    return []


_BEGINS = _STRANGE | _NEVER | {"own"}


def _around(scan: Scan, at: int) -> Sequence[Word]:
    return scan.words[max(0, at - _NEAR) : at + _NEAR]


def _only_own(scan: Scan, at: int) -> tuple[int, int] | None:
    """ "only their | own cord", "own lead fits"."""
    if scan.words[at].key != "own" or scan.key(at + 1) not in _LEADS:
        return None
    before = [scan.words[place].key for place in range(max(0, at - 5), at)]
    after = [scan.key(place) for place in range(at + 2, at + 6)]
    told = not _ONLY.isdisjoint(before) or not _FITS.isdisjoint(after)
    return (at, at + 2) if told else None


def _strange(scan: Scan, at: int) -> tuple[int, int] | None:
    """ "some odd shape", "a strange sort of socket"."""
    if scan.words[at].key not in _STRANGE or scan.before(at) in _NEVER:
        return None
    end = next((place for place in range(at + 1, at + 4) if scan.key(place) in _SHAPES), 0)
    return (at, end + 1) if end else None


def _never_seen(scan: Scan, at: int) -> tuple[int, int] | None:
    """ "never seen a shape like it", "havent seen one before"."""
    if scan.words[at].key not in _NEVER or scan.key(at + 1) not in _SEEN:
        return None
    after = [scan.key(place) for place in range(at + 2, at + 8)]
    shape = any(word in _SHAPES or word in ("one", "such", "that", "hole", "port") for word in after)
    end = next((place for place, word in enumerate(after) if word in ("like", "before", "such")), -1)
    return (at, at + 3 + end) if shape and end >= 0 else None
