"""The facts of an answer the plain way, to hold ours against: each fact by itself, every word made anew."""

import numpy as np

from catalog.resolve.answering.chances import Chance, chance_of
from catalog.resolve.fact_chances import LISTED
from catalog.resolve.fact_index import indexed_facts
from catalog.resolve.fact_protective import protective_elements
from catalog.resolve.fact_words import element_words
from catalog.resolve.posterior import Posterior
from catalog.resolve.tables import Tables

Shown = list[tuple[str, Chance]]


def plain_facts(result: Posterior, tables: Tables) -> list[Shown]:
    """The values to show of each fact in words with their chances, likeliest first."""
    made = []
    for place, column in enumerate(indexed_facts(tables).columns):
        shares = np.bincount(tables.arrays["facts"][place], weights=result.records, minlength=len(column.values))
        each = [0.0] * len(column.elements)
        for share, ids in zip(shares.tolist(), column.values, strict=True):
            for number in ids or ():
                each[number] += share
        protective = protective_elements(column.fact, column.elements).tolist()
        shown = [number for number, share in enumerate(each) if share > LISTED or protective[number]]
        told = [(element_words(column.fact, column.elements[number]), chance_of(each[number])) for number in shown]
        made.append(sorted(told, key=lambda entry: (-entry[1].probability, entry[0])))
    return made
