"""What a description is weighed against: the tables, the parameters, the assumed unlisted share."""

from dataclasses import dataclass

from catalog.resolve.parameters import Parameters
from catalog.resolve.tables import Tables


@dataclass(frozen=True, eq=False)
class Field:
    """unlisted_rate: assumed share of calls about vehicles that are not in the catalogue."""

    tables: Tables
    parameters: Parameters
    unlisted_rate: float
