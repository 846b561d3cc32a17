"""Invented names from syllables, screened against the hand-written catalogue's own.

Opening clusters are chosen to be rare at the head of real makes; tests/outside/test_invented_names.py
holds the names of a large catalogue against real makes and models.
"""

from collections.abc import Iterable
from random import Random

from catalog.domain.folding import fold_name
from seed_demo.generator.draws import pick

_HEADS = (
    "Vro", "Zwe", "Thra", "Skre", "Gwi", "Drau", "Plo", "Ulve", "Yor", "Krei", "Fjo", "Ombe", "Nau", "Jethe", "Wrau",
    "Quo", "Ise", "Blou", "Hroe", "Tyva", "Skau", "Vlo", "Aune", "Elda", "Ruvi", "Mosko", "Dwe", "Sprau", "Glou",
    "Thwo", "Cyre", "Brue", "Imra", "Oske", "Prau", "Sny", "Wole", "Kva", "Zau", "Lio",
)  # fmt: skip
_JOINS = (
    "dr", "lt", "nn", "mb", "rv", "ss", "ld", "ng", "thr", "ck", "rm", "st", "ft", "ndr", "lv", "rg", "sp",
    "nv", "lm",
)  # fmt: skip
_VOWELS = ("a", "e", "i", "o", "u")
_TAILS = (
    "ren", "kow", "mer", "dal", "vane", "rick", "sley", "tho", "bury", "nor", "quist", "lund", "wen", "gast", "mont",
    "rade", "pell", "sett", "ra", "lo", "ne", "dy", "n", "l", "x", "s",
)  # fmt: skip
_LONG_TAILS, _SYLLABLES = 18, 22  # the first of them are long; those beyond are single letters
_LONGER = 0.3  # share of models with a syllable more


def cuts(folded: str) -> set[str]:
    """A word and all it becomes with one letter left out: words within one edit share one of them."""
    return {folded} | {folded[:at] + folded[at + 1 :] for at in range(len(folded))}


class Names:
    """Names that were not given before and are no near neighbour of those in `apart`."""

    def __init__(self, apart: Iterable[str]) -> None:
        self._apart = {cut for name in apart for cut in cuts(fold_name(name))}
        self._given: set[str] = set()

    def make(self, draw: Random) -> str:
        """A make's name, nine letters or so."""
        return self._fresh(draw, _TAILS[:_LONG_TAILS], is_longer=False)

    def model(self, draw: Random) -> str:
        """A model's name; some have a syllable more, and only those end in a single letter: the short ones
        that did came within an edit of real names."""
        is_longer = draw.random() < _LONGER
        return self._fresh(draw, _TAILS if is_longer else _TAILS[:_SYLLABLES], is_longer=is_longer)

    def _fresh(self, draw: Random, tails: tuple[str, ...], *, is_longer: bool) -> str:
        while True:
            middle = pick(draw, _JOINS) + pick(draw, _VOWELS)
            if is_longer:
                middle += pick(draw, _JOINS) + pick(draw, _VOWELS)
            name = pick(draw, _HEADS) + middle + pick(draw, tails)
            folded = name.lower()
            if folded not in self._given and not cuts(folded) & self._apart:
                self._given.add(folded)
                return name
