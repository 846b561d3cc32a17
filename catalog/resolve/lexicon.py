"""The names of an edition, found again from what somebody heard.

Levels, best first: the same letters, the same sound, one edit, two edits, other. Spaces,
hyphens and case never matter: a name is compared by its letters and digits run together.
"""

from bisect import bisect_left
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from catalog.resolve.deletions import DeletionTable
from catalog.resolve.sound import sound_fold

LEVELS = ("exact", "sound", "osa1", "osa2", "other")
# One edit in a name of two letters is another name; two edits must leave something to know it by.
SHORTEST_ONE_EDIT = 3
SHORTEST_TWO_EDITS = 6
SHORTEST_SOUND = 4
# One text asks for the same words several times; this many look-ups are remembered.
_MEMO = 512


@dataclass(frozen=True, slots=True)
class Name:
    """A name of the edition.

    folded: lower-case ASCII letters and digits without spaces (`fold_name`). shown: as written.
    kind: "make", "model", "variant", "other" or "badge".
    """

    folded: str
    shown: str
    kind: str


@dataclass(frozen=True, slots=True)
class Match:
    """A name and how well the heard words fit it."""

    name: Name
    level: str


class Lexicon:
    """The names of one edition; immutable once built."""

    def __init__(self, names: Iterable[Name] = ()) -> None:
        self.names = tuple(names)
        # Tuples: nearly all hold one entry, and a list of one takes twice the room.
        self._by_folded: dict[str, tuple[Name, ...]] = {}
        self._by_sound: dict[str, tuple[str, ...]] = {}
        for name in self.names:
            self._by_folded[name.folded] = (*self._by_folded.get(name.folded, ()), name)
        for folded in self._by_folded:
            if len(folded) >= SHORTEST_SOUND:
                sound = sound_fold(folded)
                self._by_sound[sound] = (*self._by_sound.get(sound, ()), folded)
        self._near = DeletionTable(self._by_folded, 2, long=SHORTEST_TWO_EDITS)
        self._sorted = sorted(self._by_folded)
        self._memo: dict[str, Mapping[str, str]] = {}

    def exact(self, folded: str) -> tuple[Name, ...]:
        """Names spelt just so."""
        return self._by_folded.get(_joined(folded), ())

    def begins(self, joined: str) -> bool:
        """Whether a name begins with these letters, written without spaces."""
        at = bisect_left(self._sorted, joined)
        return bool(joined) and at < len(self._sorted) and self._sorted[at].startswith(joined)

    def levels(self, folded: str) -> Mapping[str, str]:
        """Folded name -> its best level, for every name within reach; the rest are "other".

        A fragment ("b*", "*o", "*ell*") fits exactly the names that have it there.
        """
        heard = _joined(folded)
        found = self._memo.get(heard)
        if found is None:
            if len(self._memo) >= _MEMO:
                self._memo.clear()
            found = self._memo[heard] = self._having(heard) if "*" in heard else self._levels(heard)
        return found

    def forget(self) -> None:
        """Drop what is remembered of look-ups, to measure them."""
        self._memo.clear()

    def _having(self, fragment: str) -> Mapping[str, str]:
        part = fragment.strip("*")
        if not part:
            return {}
        if not fragment.startswith("*"):
            return {name: "exact" for name in self._by_folded if name.startswith(part)}
        if not fragment.endswith("*"):
            return {name: "exact" for name in self._by_folded if name.endswith(part)}
        return {name: "exact" for name in self._by_folded if part in name}

    def _levels(self, heard: str) -> Mapping[str, str]:
        found: dict[str, str] = {}
        if heard in self._by_folded:
            found[heard] = "exact"
        if len(heard) >= SHORTEST_SOUND:
            for other in self._by_sound.get(sound_fold(heard), ()):
                found.setdefault(other, "sound")
        for distance, other in self._near.within(heard, _edits(heard)):
            if 0 < distance <= _edits(other):
                found.setdefault(other, f"osa{distance}")
        return found

    def near(self, folded: str) -> tuple[Match, ...]:
        """The names at the best level reached, in the edition's order; empty when none is near."""
        levels = self.levels(folded)
        best = min(levels.values(), key=LEVELS.index, default="other")
        return tuple(
            Match(name, best) for other in sorted(levels) if levels[other] == best for name in self._by_folded[other]
        )


def _joined(folded: str) -> str:
    return folded.replace(" ", "")


def _edits(folded: str) -> int:
    """How many edits a name of this length may be away."""
    if len(folded) < SHORTEST_ONE_EDIT:
        return 0
    return 2 if len(folded) >= SHORTEST_TWO_EDITS else 1
