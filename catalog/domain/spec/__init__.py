"""The record's specification: one table per section, read by schema, pages, deltas and search.

To add an attribute, add one row here; the schema, the JSON Schema, the record page, the
differences between editions and the protective reading follow.
"""

from catalog.domain.spec.access import ACCESS
from catalog.domain.spec.aftermath import AFTERMATH
from catalog.domain.spec.cutoff import CUTOFF
from catalog.domain.spec.energy import ENERGY
from catalog.domain.spec.heavy import HEAVY
from catalog.domain.spec.looks import LOOKS
from catalog.domain.spec.motion import MOTION
from catalog.domain.spec.nodes import Attr, ListOf, Node, Section, Struct
from catalog.domain.spec.ports import PORTS
from catalog.domain.spec.restraints import RESTRAINTS
from catalog.domain.spec.structure import STRUCTURE

# In document order. Identity is not in here: it says which vehicle this is, not what is claimed of it.
TREE: tuple[Section | ListOf, ...] = (
    LOOKS,
    PORTS,
    MOTION,
    CUTOFF,
    ENERGY,
    RESTRAINTS,
    STRUCTURE,
    ACCESS,
    HEAVY,
    AFTERMATH,
)

__all__ = ["TREE", "Attr", "ListOf", "Node", "Section", "Struct"]
