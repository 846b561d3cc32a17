"""The bytes that weighing a description must move, whatever the code."""

from collections.abc import Sequence

from catalog.resolve.evidence import Evidence


def least_bytes(found: Sequence[Evidence], count: int) -> int:
    """Per cue over all records: its index read, the two gathered numbers written, and the product of two
    numbers (two reads, one write); at the end the prior read and the records written and looked through."""
    dense = [entry for entry in found if entry.few is None]
    few = sum(len(entry.few) for entry in found if entry.few is not None)
    products = max(0, len(dense) - 1) * 48 * count
    return sum((entry.index.itemsize + 16) * count for entry in dense) + products + few * 56 + 64 * count
