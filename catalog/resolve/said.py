"""What would be said of a vehicle: one distribution per attribute and signature, and how far two lie apart.

The distance is the Jensen-Shannon divergence in bits: 0 where people would say the same of both, 1
where nothing that is said of one is ever said of the other.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import product
from typing import Any

import numpy as np

from catalog.resolve.evidence import attribute_of
from catalog.resolve.likelihood import NO_PORT_MARK, terms_of
from catalog.resolve.parameters import Parameters
from catalog.resolve.scorer import Vector
from catalog.resolve.tables import Tables

_MOST_DOORS = 8


@dataclass(frozen=True, eq=False)
class Said:
    """rows: (signatures, terms), each row adding up to 1. entropies: of each row, in bits.

    stated: which signatures state the attribute; the others are spoken of as vehicles at large are.
    """

    rows: Vector
    entropies: Vector
    stated: "np.ndarray[Any, np.dtype[np.bool_]]"


@lru_cache(maxsize=128)
def said_of(attribute: str, tables: Tables, parameters: Parameters) -> Said:
    """What would be said of each signature of an attribute; kept for a few editions."""
    about = attribute_of(attribute, False, tables, parameters)
    rows = np.column_stack([about.scorer.score([term]) for term in _terms(attribute, parameters)])
    silent, plugless = np.isnan(rows[:, 0]), rows[:, 0] == NO_PORT_MARK
    known = ~(silent | plugless)
    rows = _normal(np.where(known[:, None], rows, 0.0))
    shares = about.shares[known]
    usual = shares @ rows[known] if shares.sum() > 0 else np.ones(rows.shape[1])
    rows[~known] = usual / usual.sum()
    # Of what has nothing to plug in a port is spoken of by mistake only.
    port = np.where(plugless, parameters.no_port, 1.0)
    rows = np.column_stack((rows * port[:, None], 1 - port))
    return Said(rows, entropy(rows), ~silent)


def _terms(attribute: str, parameters: Parameters) -> Sequence[str]:
    """Everything that may be said of an attribute."""
    if attribute == "doors":
        return [str(count) for count in range(_MOST_DOORS + 1)]
    if attribute == "port_place":
        said = (next(iter(parameters.tables[part].values())) for part in ("side", "end", "level"))
        return ["|".join(parts) for parts in product(*said)]
    return terms_of(attribute)


def _normal(rows: Vector) -> Vector:
    total = rows.sum(axis=1, keepdims=True)
    return np.asarray(np.divide(rows, total, out=np.zeros_like(rows), where=total > 0))


def entropy(rows: Vector) -> Vector:
    """Shannon entropy of each row, in bits. rows: (..., terms), each adding up to 1."""
    logs = np.log2(rows, out=np.zeros_like(rows), where=rows > 0)
    return np.asarray(-(rows * logs).sum(axis=-1))


@lru_cache(maxsize=8192)
def divergence(attribute: str, signature: int, tables: Tables, parameters: Parameters) -> Vector:
    """Jensen-Shannon divergence, in bits, of one signature from each signature of the attribute."""
    said = said_of(attribute, tables, parameters)
    middle = entropy((said.rows + said.rows[signature]) / 2)
    return np.asarray(np.maximum(0.0, middle - (said.entropies + said.entropies[signature]) / 2))
