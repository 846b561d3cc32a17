"""A cue as shown."""

from dataclasses import dataclass

from catalog.resolve.amending import READ, Key
from catalog.resolve.cue import Cue


@dataclass(frozen=True, slots=True)
class CueView:
    """A cue as shown: label "body pickup"; note says why it does not rank, or how it was taken.

    wording: a phrase that reads back to the same cue. origin: read, corrected or given. instead_of: the key
    of the cue as it was read, where it was corrected. near: listed names that are like
    the name heard, folded and as written.
    """

    cue: Cue
    label: str
    ranks: bool
    note: str = ""
    wording: str = ""
    origin: str = READ
    instead_of: Key | None = None
    near: tuple[tuple[str, str], ...] = ()
