"""Which facts a brief is made of: rows of the record's specification, most urgent first.

Labels, kinds, protective orders and readings come from the specification. A fact of a list
(`cutoff.methods`) is about all of its items at once; one with several attributes keeps them
together item by item, because a place is of no use without the kind of way it belongs to.
"""

from dataclasses import dataclass

from catalog.domain.record import attribute_at, list_at
from catalog.domain.spec.nodes import Attr, Order, Terms
from catalog.domain.wording import protective_words


@dataclass(frozen=True, slots=True)
class BriefFact:
    """key: names it in tables and answers. inside: path of its list, "" where it is in none.

    keys: path of each attribute, below the item where it is in a list. weight: what it costs to act on
    the wrong value (expert guesses: 3 may kill, 2 may hurt or fail, 1 costs time). named: the first
    attribute only says which item is meant. words_apart: a set of words, each of which counts by itself.
    extreme: MOST or LEAST where only that number of a vehicle's items counts. in_order: the order of the
    items means something. reading: what to assume where nothing is stated, such as "treat as live".
    """

    key: str
    label: str
    inside: str
    keys: tuple[str, ...]
    attrs: tuple[Attr, ...]
    weight: int
    named: bool
    words_apart: bool
    extreme: Order | None
    in_order: bool
    reading: str


def _fact(weight: int, *paths: str, label: str = "", named: bool = False) -> BriefFact:
    """paths: of attributes, all of one list ("cutoff.methods[].kind") or none."""
    inside, mark, _ = paths[0].partition("[].")
    inside = inside if mark else ""
    attrs = tuple(attribute_at(path) for path in paths)
    keys = tuple(path.removeprefix(f"{inside}[].") for path in paths)
    first, alone = attrs[0], len(attrs) == 1
    return BriefFact(
        key=paths[-1].replace("[]", ""),
        label=label or first.label,
        inside=inside,
        keys=keys,
        attrs=attrs,
        weight=weight,
        named=named,
        words_apart=alone and isinstance(first.kind, Terms) and first.kind.many,
        extreme=first.order if alone and inside and first.order in (Order.MOST, Order.LEAST) else None,
        in_order=bool(inside) and list_at(inside).ordered,
        reading="; ".join(dict.fromkeys(words for attr in attrs if (words := protective_words(attr)))),
    )


FACTS: tuple[BriefFact, ...] = (
    # Stop it moving.
    _fact(2, "motion.switch_off"),
    _fact(2, "motion.selector"),
    _fact(2, "motion.wakes_again"),
    _fact(2, "motion.auto_park"),
    _fact(3, "motion.coupled.refuses_drive", label="plugged in: refuses its own drive"),
    _fact(2, "motion.coupled.selects_park", label="plugged in: selects park"),
    _fact(2, "motion.park_without_12v"),
    _fact(1, "motion.parking_brake"),
    _fact(2, "motion.engine_autostart"),
    _fact(2, "motion.self_moving_suspension"),
    _fact(1, "motion.key_distance"),
    # The charge port.
    _fact(3, "ports[].place", label="charge port: where"),
    _fact(2, "ports[].standard", label="charge port: connector"),
    _fact(1, "ports[].door.mechanism", label="charge port: door"),
    _fact(1, "ports[].door.without_12v", label="charge port: opens with no 12 V"),
    # Cut high voltage off.
    _fact(3, "cutoff.methods[].kind", "cutoff.methods[].place", label="ways to cut high voltage off"),
    _fact(
        1,
        "cutoff.methods[].kind",
        "cutoff.methods[].reachable_when",
        label="way to cut off: reachable when",
        named=True,
    ),
    _fact(3, "cutoff.methods[].wait", label="longest wait after cutting off"),
    _fact(3, "cutoff.methods[].stays_live", label="what stays live after it"),
    _fact(2, "cutoff.methods[].effects", label="what cutting off does besides"),
    _fact(3, "energy.low_voltage[].voltage", "energy.low_voltage[].place", label="12 V and 48 V sources"),
    _fact(3, "energy.pyro_fuse.fitted"),
    _fact(2, "energy.pyro_fuse.port_effect", label="pyro-fuse: what it does to the port"),
    # Where not to cut, push or stand.
    _fact(3, "structure.no_cut[].place", label="do not cut here"),
    _fact(3, "structure.never_push[].place", label="never push, pierce or lever"),
    _fact(3, "restraints.inflators[].place", label="inflators"),
    _fact(3, "restraints.wait", label="wait for the restraints"),
    _fact(2, "restraints.pop_up_bar"),
    _fact(2, "restraints.active_bonnet"),
    _fact(3, "energy.packs[].place", label="packs: where"),
    _fact(1, "energy.packs[].voltage", label="packs: highest voltage"),
    _fact(2, "energy.packs[].chemistry", label="packs: chemistry"),
    _fact(2, "energy.packs[].vents", label="packs: vents"),
    _fact(2, "energy.outlets"),
    _fact(3, "energy.tanks[].fuel", "energy.tanks[].place", label="fuel, gas and hydrogen tanks"),
    # Reach the casualty, move it, afterwards.
    _fact(1, "access.doors[].name", "access.doors[].outside", label="doors without power, from outside", named=True),
    _fact(1, "access.bonnet"),
    _fact(1, "access.tailgate"),
    _fact(2, "aftermath.wheels_turning"),
    _fact(2, "aftermath.salt_water"),
    _fact(1, "aftermath.stand_off"),
)

BY_KEY = {fact.key: fact for fact in FACTS}
