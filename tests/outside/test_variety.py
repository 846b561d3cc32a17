"""What the newest edition of the invented catalogue must hold, against published standards.

Where each value was read stands beside it; the standards themselves were not at hand.
"""

from collections.abc import Iterator

import pytest

import seed_demo
from catalog.domain.documents import record_from_document
from catalog.domain.plausible_power import HIGH_VOLTAGE_ABOVE
from catalog.domain.record import Record, shape_of
from catalog.domain.vocabulary import DOOR_MECHANISM, SELECTOR

# Largest DC voltage a coupler is rated for (V), None where it carries no DC, and where it was read.
# Ratings change with the edition, so each stands with the one it was read for.
COUPLERS: dict[str, tuple[int | None, str]] = {
    "type1": (None, "SAE J1772 summary, doc.surf: single-phase AC"),
    "type2": (None, "IEC 62196-2, its title: AC; from memory"),
    "ccs1": (600, "IEC 62196-3 edition 1, configuration EE, table on electricvehiclegeek.com"),
    "ccs2": (1000, "same table, configuration FF"),
    "chademo": (600, "same table, configuration AA; later editions 1000 V, from memory"),
    "gbt_dc": (1000, "GB/T 20234.3-2015, asaptic.com; 750 V in IEC 62196-3 edition 1, configuration BB"),
    "gbt_ac": (None, "GB/T 20234.2, asaptic.com: AC"),
    "j3400": (1000, "SAE J3400, kpt-bj.com"),
    "mcs": (1250, "SAE J3271, encyclopedia article and meganorms.com"),
}

# UN R100 Rev.3, section 2 (definitions), "high voltage": above 60 V and up to 1500 V DC (read in a
# summary of Rev.3; the paragraph's number was not seen).
HIGH_VOLTAGE = range(61, 1501)

# R.E.3 Rev.6, section 2 (ECE/TRANS/WP.29/78/Rev.6, excerpt by the United Kingdom's certification
# agency): L1 and L3 two wheels, L2, L4 and L5 three, L6 and L7 four (2.1.1 to 2.1.7). That M is for
# passengers and N for goods, and which bodies that makes, is from memory of 2.2 and 2.3.
# Not checked: masses, seats and power, which a record does not state.
BODIES_OF = {
    "M": {"hatchback", "saloon", "estate", "suv", "coupe", "convertible", "people_carrier", "bus", "van", "microcar"},
    "N": {"pickup", "van", "lorry"},
    "two_wheels": {"motorcycle"},
    "three_or_four_wheels": {"microcar"},
}
# 2.2.1 to 2.2.3: M1 has at most eight seats besides the driver's, M2 and M3 more (from memory).
BUS = {"M2", "M3"}


@pytest.fixture(scope="module")
def latest() -> dict[str, Record]:
    made: dict[str, Record] = {}
    for edition in seed_demo.load().editions:
        made |= {code: record_from_document(document) for code, document in edition.records.items()}
        made = {code: record for code, record in made.items() if code not in edition.withdrawn}
    return made


def said(record: Record, shape: str) -> set[object]:
    """Every value a record states at paths of this shape, items put together."""
    return {value for path, fact in record.facts.items() if shape_of(path) == shape for value in fact.values()}


def traction_volts(record: Record) -> set[int]:
    return {
        volts
        for pack in record.items.get("energy.packs", ())
        if record.fact(f"energy.packs[{pack}].role").values() in ((), ("traction",))
        for volts in record.fact(f"energy.packs[{pack}].voltage").values()
        if isinstance(volts, int)
    }


def missing(latest: dict[str, Record], shape: str, wanted: set[str]) -> set[str]:
    return wanted - {value for record in latest.values() for value in said(record, shape)}


# --- couplers


def test_every_coupler_occurs(latest: dict[str, Record]) -> None:
    assert not missing(latest, "ports[].standard", set(COUPLERS) | {"own"})


def test_every_pack_is_within_its_coupler_s_rated_voltage(latest: dict[str, Record]) -> None:
    above, checked = {}, 0
    for code, record in latest.items():
        for standard in said(record, "ports[].standard") - {"own"}:
            rated, source = COUPLERS[str(standard)]
            checked += rated is not None and bool(traction_volts(record))
            if rated is not None and max(traction_volts(record), default=0) > rated:
                above[code, str(standard)] = (traction_volts(record), rated, source)
    print(f"\n{checked} DC couplers with a pack of stated voltage; above the rating: {above or 'none'}")
    assert checked > 30
    assert not above


def test_a_port_carries_what_its_coupler_can(latest: dict[str, Record]) -> None:
    for code, record in latest.items():
        for port in record.items.get("ports", ()):
            for standard in record.fact(f"ports[{port}].standard").values():
                if standard != "own" and COUPLERS[str(standard)][0] is None:
                    assert record.fact(f"ports[{port}].current").values() in ((), ("ac",)), (code, port)


# --- voltage class


def test_the_limit_is_the_regulation_s() -> None:
    assert HIGH_VOLTAGE.start == HIGH_VOLTAGE_ABOVE + 1


def test_above_60_v_dc_is_high_voltage_and_below_is_not(latest: dict[str, Record]) -> None:
    """The record's classes: a pack's voltage, a low-voltage source's, and what it says stays live."""
    high = low = 0
    for code, record in latest.items():
        packs = said(record, "energy.packs[].voltage")
        assert not said(record, "energy.low_voltage[].voltage") & set(HIGH_VOLTAGE), code
        stays = {
            term for terms in said(record, "cutoff.methods[].stays_live") if isinstance(terms, tuple) for term in terms
        }
        if packs & set(HIGH_VOLTAGE):
            high += 1
            assert record.items.get("cutoff.methods"), (code, "no way to cut high voltage off")
            assert not stays or stays & {"pack", "dc_cables"}, code
        elif packs:
            low += 1
            assert "dc_cables" not in stays, (code, "high-voltage cables without high voltage")
    print(f"\n{high} records with a pack above 60 V DC, {low} with packs up to 60 V only")
    assert high > 50
    assert low > 2


# --- categories


def test_categories_of_passengers_goods_and_light_vehicles_occur(latest: dict[str, Record]) -> None:
    assert {record.identity.category for record in latest.values()} >= {
        "M1", "M2", "M3", "N1", "N2", "N3", "L3", "L5", "L6", "L7",
    }  # fmt: skip


def test_categories_fit_the_body(latest: dict[str, Record]) -> None:
    for code, record in latest.items():
        category = record.identity.category
        bodies = said(record, "looks.body")
        assert bodies <= BODIES_OF[carries(category)], (code, category, bodies)
        if category[0] in "MN":
            assert ("bus" in bodies) == (category in BUS), (code, category, bodies)


def carries(category: str) -> str:
    if category[0] != "L":
        return category[0]
    return "two_wheels" if category in ("L1", "L3") else "three_or_four_wheels"


# --- variety


def test_every_door_mechanism_occurs(latest: dict[str, Record]) -> None:
    assert not missing(latest, "ports[].door.mechanism", set(DOOR_MECHANISM.keys))


def test_every_selector_occurs(latest: dict[str, Record]) -> None:
    assert not missing(latest, "motion.selector", set(SELECTOR.keys))


def test_at_most_four_twins_are_declared(latest: dict[str, Record]) -> None:
    assert 0 < sum(bool(record.identity.twin_of) for record in latest.values()) <= 4


@pytest.mark.parametrize(
    ("shape", "value"),
    [
        ("energy.packs[].removable", True),
        ("energy.packs[].role", "house"),
        ("energy.packs[].role", "refrigeration"),
        ("energy.outlets", True),
        ("heavy.air_suspension", True),
    ],
)
def test_the_rarer_things_occur(latest: dict[str, Record], shape: str, value: object) -> None:
    found = [record.identity.title for record in latest.values() if value in said(record, shape)]
    print(f"\n{shape} {value}: {', '.join(found)}")
    assert found


def test_a_conversion_is_noted(latest: dict[str, Record]) -> None:
    found = [
        record.identity.title for record in latest.values() for note in record.notes if "converted" in note.text.lower()
    ]
    print(f"\nconversions: {', '.join(found)}")
    assert found


def test_a_facelift_moved_the_cut_point(latest: dict[str, Record]) -> None:
    moved = [
        f"{old.identity.title}, {new.identity.years}" for old, new in facelifts(latest) if places(old) != places(new)
    ]
    print(f"\ncut point moved: {'; '.join(moved)}")
    assert moved


def facelifts(latest: dict[str, Record]) -> Iterator[tuple[Record, Record]]:
    for code, new in latest.items():
        for old in new.identity.replaces:
            assert code in latest[old].identity.replaced_by
            yield latest[old], new


def places(record: Record) -> set[object]:
    """Where high voltage is cut off: the 12 V negative is no cut point."""
    return {
        place
        for method in record.items.get("cutoff.methods", ())
        if record.fact(f"cutoff.methods[{method}].kind").values() in (("lv_cut_loop",), ("service_disconnect",))
        for place in record.fact(f"cutoff.methods[{method}].place").values()
    }
