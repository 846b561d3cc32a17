"""Names said together: not so many witnesses as there are names.

Who takes the vehicle for another calls it by all of that one's names (make, model, badge). With
L_k the ratio of each name, were nobody mistaken, and m the share of the mistaken, the ratio of all
of them is (1 - m) prod L_k + m E, E the mean of the product over the catalogue: what is heard of a
vehicle drawn from it. One name alone has that in its own ratio already. Here is the factor that
puts the product of those right; without it two names of one vehicle count as 1 / m**2 to 1 against
every other, and answers that are nearly sure are too often wrong.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from catalog.resolve.cue import Doubt
from catalog.resolve.evidence import Evidence, weights_of
from catalog.resolve.field import Field
from catalog.resolve.likelihood import Vector


def together(found: Sequence[Evidence], field: Field) -> Evidence | None:
    """The factor, as evidence of the first of the names; None where fewer than two names were said. A guess is not
    counted: whoever guesses is no more mistaken about the rest."""
    names = [entry for entry in found if entry.cue.attribute == "name" and _counts(entry)]
    if len(names) < 2:
        return None
    tables, parameters = field.tables, field.parameters
    places = _near(names, tables.size)
    prior: Vector = tables.arrays["prior"][places]
    rest = max(0.0, 1.0 - float(prior.sum()))  # of the records that no name comes near
    columns = [_own(entry, places, parameters.tables["name"]["mistaken"]) for entry in names]
    product = np.prod([own for _, own in columns], axis=0)  # (places + 1, 2), the last for all the rest
    usual = float(prior @ product[:-1, 0]) + rest * float(product[-1, 0])
    mistaken = parameters.tables["name"]["mistaken"]
    factor = ((1 - mistaken) * product + mistaken * usual) / np.prod([given for given, _ in columns], axis=0)
    index = np.full(tables.size, len(places), dtype=np.uint32)
    index[places] = np.arange(len(places), dtype=np.uint32)
    weights = weights_of(factor[:, 0], factor[:, 1], 1.0, parameters, by_last=True)
    return Evidence(names[0].cue, weights, index, places)


def _counts(entry: Evidence) -> bool:
    return not entry.cue.denied and entry.cue.doubt is not Doubt.GUESS


def _near(names: Sequence[Evidence], size: int) -> NDArray[np.intp]:
    """Positions of the records that any of the names comes near."""
    last = [len(entry.weights.values) - 1 for entry in names]
    near = np.zeros(size, dtype=np.bool_)
    for entry, code in zip(names, last, strict=True):
        if entry.few is not None:
            near[entry.few] = True
        else:
            near |= entry.index != code
    return np.flatnonzero(near)


def _own(entry: Evidence, places: NDArray[np.intp], mistaken: float) -> tuple[Vector, Vector]:
    """(places + 1, 2) twice: what the name alone is given, and what it were were nobody mistaken."""
    codes = np.append(entry.index[places], len(entry.weights.values) - 1)
    given = np.column_stack((entry.weights.values, entry.weights.mixed))[codes]
    return given, (given - mistaken) / (1 - mistaken)
