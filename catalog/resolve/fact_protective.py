"""Which elements of a fact protect best: those are shown however unlikely their vehicle is.

From the protective orders of the specification: the one best value, the largest or smallest
number, every word of a union, everything said of equipment where two uses read it differently.
An aid that is not fitted, an item about which nothing is said and a dispute are always shown.
Places have no protective value; of what several attributes tell together, none is best either.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from catalog.domain.facts import State
from catalog.domain.spec.nodes import Attr, Equipment, Order, Role
from catalog.resolve.brief_facts import BriefFact
from catalog.resolve.fact_values import DISPUTED, Claim, Element


def protective_elements(fact: BriefFact, elements: Sequence[Element]) -> NDArray[np.bool_]:
    """One mark per element."""
    attr = fact.attrs[0]
    values = [value for element in elements for _, value in _claims(element)]
    numbers = [value for value in values if isinstance(value, int) and not isinstance(value, bool)]
    best = {Order.ONE: attr.best, Order.MOST: max(numbers, default=None), Order.LEAST: min(numbers, default=None)}
    wanted = best.get(attr.order)
    return np.array([_protects(fact, element, wanted) for element in elements], dtype=np.bool_)


def _protects(fact: BriefFact, element: Element, wanted: object) -> bool:
    if isinstance(element, str):
        return element == DISPUTED
    if all(claims is None for claims in element):
        return True
    if len(fact.attrs) > 1:
        return False
    attr = fact.attrs[0]
    if _always(attr):
        return True
    claims = _claims(element)
    if attr.role is Role.AID and any(state is State.NOT_FITTED for state, _ in claims):
        return True
    return wanted is not None and any(value == wanted for _, value in claims)


def _always(attr: Attr) -> bool:
    return attr.order is Order.UNION or (attr.order is Order.LIST_ALL and isinstance(attr.kind, Equipment))


def _claims(element: Element) -> tuple[Claim, ...]:
    """Of the first attribute."""
    return () if isinstance(element, str) else element[0] or ()
