"""The compiled edition: a published edition as checked, memory-mapped files; build, open, swap.

May import: catalog.domain, catalog.resolve (its tables), catalog.search, catalog.errors, numpy.
It is handed what an edition holds; it never asks the store.
"""

from catalog.compiled.building import build, wait_for_builder
from catalog.compiled.edition import Compiled, open_edition
from catalog.compiled.inputs import EditionInput, RecordInput
from catalog.compiled.shelf import Shelf

__all__ = ["Compiled", "EditionInput", "RecordInput", "Shelf", "build", "open_edition", "wait_for_builder"]
