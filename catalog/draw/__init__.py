"""Drawings of a vehicle: the walk-round strip, as shapes and as text with the same facts.

Draws places, numbers and zones; knows no plan and no record. Integers throughout, so that the same picture comes out
on every machine. Pure: nothing here writes, and what is read is the body tables beside it.

May import: catalog.domain and the standard library.
"""
