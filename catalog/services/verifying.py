"""Recompute everything that was promised about the stored bytes."""

from catalog.services.house import House
from catalog.services.views import Fault, Verified
from catalog.store.engine import read
from catalog.store.verify import verify


def verify_catalogue(house: House, *, expect: str | None = None) -> Verified:
    """Check every chain, listing and edition. expect: an edition's hash kept elsewhere."""
    with read(house.engine) as conn:
        report = verify(conn, expect)
    faults = tuple(Fault(fault.kind, fault.key, fault.seq, fault.problem) for fault in report.faults)
    return Verified(report.revisions, report.editions, report.head, faults)
