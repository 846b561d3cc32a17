"""Which of the words that were not understood may be counted for the steward. Pure.

Never a number or anything with a digit, never what is masked, never a word of a trap ("the right thing"),
never a letter alone: the list is to show words for things, not whose call it was.
"""

from functools import cache

from catalog.domain.folding import fold
from catalog.resolve.cue import Reading
from catalog.resolve.reading.phrases import rows
from catalog.resolve.reading.words import singular

SHORTEST, LONGEST = 2, 40


@cache
def trap_words() -> frozenset[str]:
    """Every word that occurs in a trap, singular."""
    return frozenset(word for saying, meaning in rows() if meaning.attribute == "@trap" for word in saying)


def countable(text: str, reading: Reading) -> frozenset[str]:
    """The words of a text, folded, that were not understood and may be counted."""
    words = {fold(text[span.start : span.end]) for span in reading.unread}
    return frozenset(word for word in words if _may_be_counted(word))


def _may_be_counted(word: str) -> bool:
    if not SHORTEST <= len(word) <= LONGEST or not all(char.isalpha() for char in word):
        return False
    return word not in trap_words() and singular(word) not in trap_words()
