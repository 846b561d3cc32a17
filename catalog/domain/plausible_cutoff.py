"""Plausibility of cutting high voltage off: order of the ways, waits, cuts, the pyro-fuse."""

from collections.abc import Iterator

from catalog.domain.findings import Finding
from catalog.domain.plausible_parts import absent, blocks, items, look, stated, values
from catalog.domain.record import Record

_HIGH_VOLTAGE = ("lv_cut_loop", "service_disconnect")
_LOW_VOLTAGE = ("lv_cut_loop", "lv_negative")
_CUT = ("lv_cut_loop", "lv_negative", "fuse")


def order(record: Record) -> Iterator[Finding]:
    """The trade's order, unless the guide's own is explained: power off, disconnect, then 12 V."""
    if stated(record, "cutoff.order_note"):
        return
    ways = [(path, values(record, f"{path}.kind")) for path in items(record, "cutoff.methods")]
    cure = "Keep the guide's order and say so in cutoff.order_note, or correct it."
    for position, (path, kinds) in enumerate(ways):
        if "power_off" in kinds and position > 0:
            yield look(f"{path}.kind", "power off after another way", "power off comes first", cure)
        if "lv_negative" in kinds and any(set(later) & set(_HIGH_VOLTAGE) for _, later in ways[position + 1 :]):
            why = "a converter that still runs keeps 12 V alive, so the high-voltage disconnect comes before"
            yield look(f"{path}.kind", "12 V negative before the high-voltage disconnect", why, cure)


def waits(record: Record) -> Iterator[Finding]:
    ways = list(items(record, "cutoff.methods"))
    kinds = {kind for path in ways for kind in values(record, f"{path}.kind")}
    waited = stated(record, "restraints.wait") or any(stated(record, f"{path}.wait") for path in ways)
    if kinds & set(_LOW_VOLTAGE) and not waited:
        why = "the restraint wait starts when the last source is off; without one crews must treat it as armed"
        yield look("restraints.wait", "not stated", why, "Look for the wait in the guide.")


def cuts(record: Record) -> Iterator[Finding]:
    for path in items(record, "cutoff.methods"):
        kinds = values(record, f"{path}.kind")
        if kinds and not set(kinds) & set(_CUT) and stated(record, f"{path}.cuts"):
            why = "nothing is cut this way"
            yield look(f"{path}.cuts", "a number of cuts", why, "Check the way, or drop the cuts.")


def pyro_fuse(record: Record) -> Iterator[Finding]:
    if not absent(record, "energy.pyro_fuse.fitted"):
        return
    for key in ("port_effect", "trigger", "separates"):
        path = f"energy.pyro_fuse.{key}"
        if stated(record, path):
            why = "the record says no pyro-fuse is fitted"
            yield blocks(path, "something of a pyro-fuse", why, "Check which of the two is right.")


CHECKS = (order, waits, cuts, pyro_fuse)
