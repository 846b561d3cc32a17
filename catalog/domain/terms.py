"""Closed vocabularies: the words a fact may take, each with the label a crew reads.

A vocabulary is an ordered tuple of terms. Keys are what documents store and never
change meaning; labels may be reworded. The whole set is a member of every edition.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property


@dataclass(frozen=True, slots=True)
class Term:
    """One word of a vocabulary. key: stored form (ASCII). label: on screen. note: what it covers."""

    key: str
    label: str
    note: str = ""


@dataclass(frozen=True)
class Vocabulary:
    """An ordered, closed set of terms."""

    key: str
    label: str
    terms: tuple[Term, ...]

    @cached_property
    def keys(self) -> tuple[str, ...]:
        return tuple(self._labels)

    @cached_property
    def _labels(self) -> Mapping[str, str]:
        return {term.key: term.label for term in self.terms}

    def label_of(self, key: str) -> str:
        """The label of a term; the key itself when the vocabulary does not know it."""
        return self._labels.get(key, key)


def vocabulary(key: str, label: str, **terms: str) -> Vocabulary:
    """Build a vocabulary from key="label" or key="label | note" pairs."""
    made = []
    for name, text in terms.items():
        shown, _, note = text.partition(" | ")
        made.append(Term(name.rstrip("_"), shown, note))
    return Vocabulary(key, label, tuple(made))


def index(*vocabularies: Vocabulary) -> Mapping[str, Vocabulary]:
    """Vocabularies by key."""
    return {entry.key: entry for entry in vocabularies}
