"""What small words do to what was said: named functions from mentions to mentions.

Each has its own scope and leaves everything else alone. They run in the order of `MODIFIERS`.
Mentions are in order of place on the way in and out; each function looks at its neighbourhood only,
so a text costs what its words cost.
"""

from collections.abc import Callable

from catalog.resolve.reading.alternatives import alternatives, comparisons
from catalog.resolve.reading.asking import questions
from catalog.resolve.reading.corrections import corrections
from catalog.resolve.reading.drives import drives
from catalog.resolve.reading.hedging import hedges, inverted_names
from catalog.resolve.reading.mention import Mentions, Text
from catalog.resolve.reading.negation import negation, plugless
from catalog.resolve.reading.vehicles import vehicles

MODIFIERS: tuple[Callable[[Text, Mentions], Mentions], ...] = (
    vehicles,
    corrections,
    alternatives,
    comparisons,
    negation,
    plugless,
    hedges,
    inverted_names,
    questions,
    drives,
)
