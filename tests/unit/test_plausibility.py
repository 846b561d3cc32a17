"""Facts that cannot all be true of one vehicle, and the reason each check gives."""

from typing import Any

import pytest
from hypothesis import given, settings

from catalog.domain.documents import record_from_document
from catalog.domain.findings import Finding, Severity
from catalog.domain.markets import MARKETS
from catalog.domain.places import END, LEVEL, SIDE, Place, zone_box, zone_centre
from catalog.domain.plausibility import check_catalogue, implausible
from catalog.domain.record import Record
from catalog.domain.sources import Source
from schemas.findings import Invalid
from schemas.record import check_record
from tests.sample import REMOVE, Document, absent, place, said, sample
from tests.strategies import records

BLOCKS, LOOK, NOTE = Severity.BLOCKS, Severity.LOOK, Severity.NOTE

TRUE_LIST = said(True)
PLUG_IN = {"identity.propulsion": "plug_in_hybrid", "energy.packs.0.capacity": said(14000)}
FUEL_CELL = {"identity.propulsion": "fuel_cell", "energy.packs.0.capacity": said(1500)}
COMBUSTION = {"identity.propulsion": "combustion", "ports": REMOVE, "energy.packs": REMOVE}
BUS = {
    "identity.category": "M3", "looks.body": said("bus"), "looks.doors": said(3),
    "energy.packs.0.capacity": said(350_000),
}  # fmt: skip
MOTORCYCLE = {
    "identity.category": "L3", "looks.body": said("motorcycle"), "looks.doors": said(0),
    "identity.steering": ["none"], "energy.packs.0.capacity": said(9000),
}  # fmt: skip

# What changes, and the finding it must bring: path, severity, words of the reason.
DOUBTFUL: list[tuple[dict[str, Any], str, Severity, str]] = [
    ({"identity.years.to": 2020}, "identity.years.to", BLOCKS, "first model year is 2021"),
    ({"identity.years.to": 2031}, "identity.years.to", BLOCKS, "2030"),
    ({"identity.years.from": 1989}, "identity.years.from", LOOK, "before 1990"),
    ({"identity.vins": ["FA1KL2V4?VA??????"]}, "identity.vins[#1]", LOOK, "1997 or 2027"),
    ({"identity.vins": ["FA1KL2V43?A000123"]}, "identity.vins[#1]", LOOK, "one vehicle"),
    ({"identity.vins": ["FA1KL2V43RA000123"]}, "identity.vins[#1]", LOOK, "should be 2"),
    ({"identity.steering": ["left", "none"]}, "identity.steering", BLOCKS, "stand alone"),
    ({"identity.steering": ["none"]}, "identity.steering", BLOCKS, "steering wheel"),
    ({"identity.steering": ["right"]}, "identity.steering", LOOK, "mainland Europe traffic keeps right"),
    ({"identity.markets": ["europe", "japan"]}, "identity.steering", LOOK, "Japan traffic keeps left"),
    ({"identity.category": "N3"}, "identity.category", BLOCKS, "hatchback"),
    ({"looks.body": said("bus")}, "identity.category", LOOK, "M2 or M3"),
    ({"identity.category": "M1", "looks.body": said("motorcycle")}, "identity.category", BLOCKS, "L1 or L2"),
    ({"looks.doors": said(7)}, "looks.doors", LOOK, "2 to 5"),
    ({**MOTORCYCLE, "looks.doors": said(2)}, "looks.doors", BLOCKS, "0 to 0"),
    ({"looks.width": said(3400), "looks.length": said(1800)}, "looks.width", LOOK, "overall length"),
    ({"ports.0.wakes": said(["nothing", "fans"])}, "ports[a].wakes", BLOCKS, "denies"),
    ({"motion.auto_park": said(["never", "power_off"])}, "motion.auto_park", BLOCKS, "denies"),
    ({"restraints.inflators": [{"id": "a", "place": said(place("left", "middle", "low", landmark="roof_rail"))}]},
     "restraints.inflators[a].place", LOOK, "roof"),
    ({"ports.0.place": said(place("left", "rear_quarter", "mid", at=[700, 900, 450]))}, "ports[a].place.at", BLOCKS,
     "y 0–380"),
    ({"energy.packs.0.voltage": said(60)}, "energy.packs[a].voltage", LOOK, "UN R100"),
    ({"energy.low_voltage": [{"id": "a", "voltage": said(36)}]}, "energy.low_voltage[a].voltage", NOTE, "12, 24 or 48"),
    ({**COMBUSTION, "energy.packs": [{"id": "a", "role": said("traction")}]}, "energy.packs[a].role", BLOCKS,
     "no traction battery"),
    ({"energy.packs": [], "complete": {"energy.packs": TRUE_LIST}}, "energy.packs", BLOCKS, "propulsion is battery"),
    ({"energy.packs.0.capacity": said(580)}, "energy.packs[a].capacity", LOOK, "8000 to 300000 Wh"),
    ({**PLUG_IN, "energy.packs.0.capacity": said(1400)}, "energy.packs[a].capacity", LOOK, "plug_in_hybrid"),
    ({**BUS, "energy.packs.0.capacity": said(3500)}, "energy.packs[a].capacity", LOOK, "category M3"),
    ({"energy.tanks": [{"id": "a"}]}, "energy.tanks", BLOCKS, "no fuel"),
    ({**BUS, "energy.tanks": [{"id": "a"}]}, "energy.tanks", LOOK, "heater"),
    (FUEL_CELL, "energy.tanks", LOOK, "fuel-cell"),
    ({**FUEL_CELL, "energy.tanks": [{"id": "a", "fuel": said("petrol")}]}, "energy.tanks", LOOK, "fuel-cell"),
    ({**PLUG_IN, "energy.tanks": [], "complete": {"energy.tanks": TRUE_LIST}}, "energy.tanks", BLOCKS, "propulsion is"),
    ({**PLUG_IN, "energy.tanks": [{"id": "a", "fuel": said("petrol"), "pressure": said(20_000)}]},
     "energy.tanks[a].pressure", LOOK, "without pressure"),
    ({**FUEL_CELL, "energy.tanks": [{"id": "a", "fuel": said("hydrogen"), "pressure": said(70)}]},
     "energy.tanks[a].pressure", LOOK, "under pressure"),
    ({"looks.tailpipe": said(place("right", "rear_face", "low"))}, "looks.tailpipe", BLOCKS, "has none"),
    ({**BUS, "looks.tailpipe": said(place("right", "rear_face", "low"))}, "looks.tailpipe", LOOK, "has none"),
    ({"motion.engine_autostart": said(True)}, "motion.engine_autostart", BLOCKS, "has none"),
    ({"ports": REMOVE}, "ports", LOOK, "charged somewhere"),
    ({"ports": [], "complete": {"ports": TRUE_LIST}}, "ports", LOOK, "charged somewhere"),
    ({**PLUG_IN, "ports": REMOVE}, "ports", LOOK, "charged somewhere"),
    ({"identity.propulsion": "hybrid", "energy.packs.0.capacity": said(1400)}, "ports", BLOCKS, "cannot be plugged in"),
    ({"ports": [], "complete": {"ports": TRUE_LIST}, "motion.coupled.refuses_drive": said(True)},
     "motion.coupled.refuses_drive", BLOCKS, "no charge port"),
    ({"ports": [], "complete": {"ports": TRUE_LIST}, "energy.pyro_fuse.port_effect": said("plug_refused")},
     "energy.pyro_fuse.port_effect", BLOCKS, "no charge port"),
    ({"ports.0.standard": said("type2")}, "ports[a].current", BLOCKS, "carries AC only"),
    ({"ports.0.standard": said("chademo")}, "ports[a].current", BLOCKS, "carries DC only"),
    ({"ports.0.standard": said("ccs1")}, "ports[a].standard", LOOK, "North America, Korea"),
    ({"identity.markets": ["europe", "china"]}, "ports", NOTE, "China"),
    ({"ports.0.standard": said("chademo"), "ports.0.current": said("dc"), "energy.packs.0.voltage": said(800)},
     "ports[a].standard", LOOK, "rated 600 V"),
    ({"ports.0.door.mechanism": said("hinged_badge")}, "ports[a].door.mechanism", LOOK, "covered by flap"),
    ({"ports.0.cover": said("plate"), "ports.0.place": said(place("left", "middle", "mid"))}, "ports[a].place", LOOK,
     "front or the rear"),
    ({"ports.0.lock": {"fitted": absent(), "release": said("pull the loop")}}, "ports[a].lock.release", LOOK,
     "not locked"),
    ({"cutoff.methods.0": {"id": "d", "kind": said("lv_negative")}}, "cutoff.methods[d].kind", LOOK, "converter"),
    ({"cutoff.methods.3": {"id": "d", "kind": said("power_off")}}, "cutoff.methods[d].kind", LOOK, "comes first"),
    ({"cutoff.methods.1.wait": REMOVE}, "restraints.wait", LOOK, "treat it as armed"),
    ({"cutoff.methods.0.cuts": said(1)}, "cutoff.methods[a].cuts", LOOK, "nothing is cut"),
    ({"energy.pyro_fuse": {"fitted": absent(), "port_effect": said("plug_refused")}}, "energy.pyro_fuse.port_effect",
     BLOCKS, "no pyro-fuse"),
    ({"energy.pyro_fuse": {"fitted": absent(), "trigger": said(["airbag"])}}, "energy.pyro_fuse.trigger", BLOCKS,
     "no pyro-fuse"),
]  # fmt: skip


@pytest.mark.parametrize(("changes", "path", "severity", "words"), DOUBTFUL)
def test_a_contradiction_is_found_with_its_reason(
    changes: dict[str, Any], path: str, severity: Severity, words: str
) -> None:
    found = _findings(sample(changes))
    there = [f for f in found if f.path == path and f.severity is severity and words in f"{f.found} {f.allowed}"]
    assert there, [f"{f.severity}: {f}" for f in found]
    assert all(finding.cure or finding.severity is not BLOCKS for finding in there)


# Vehicles that look odd and are right.
SOUND: dict[str, dict[str, Any]] = {
    "as it is": {},
    "the years it is still built": {"identity.years.to": REMOVE},
    "a year code that fits": {"identity.vins": ["FA1KL2V4?NA??????"]},
    "both steering sides, both sides of the road": {
        "identity.steering": ["left", "right"], "identity.markets": ["europe", "britain_ireland"],
    },
    "a motorcycle": MOTORCYCLE,
    "a light quadricycle on 48 V": {
        "identity.category": "L6", "looks.body": said("microcar"), "energy.packs.0.voltage": said(48),
        "looks.doors": said(2), "ports.0": {"id": "a", "standard": said("type2"), "current": said("ac")},
        "energy.packs.0.capacity": said(5500),
    },
    "a bus": BUS,
    "a mild hybrid": {
        "identity.propulsion": "hybrid", "ports": REMOVE, "energy.packs.0.voltage": said(48),
        "energy.packs.0.capacity": said(500), "energy.tanks": [{"id": "a", "fuel": said("petrol")}],
        "looks.tailpipe": said(place("right", "rear_face", "low")), "motion.engine_autostart": said(True),
    },
    "petrol only": {**COMBUSTION, "energy.tanks": [{"id": "a", "fuel": said("petrol")}], "cutoff": REMOVE},
    "hydrogen": {**FUEL_CELL, "energy.tanks": [{"id": "a", "fuel": said("hydrogen"), "pressure": said(70_000)}],
                 "ports": REMOVE},
    "the guide explains its order": {
        "cutoff.methods.0": {"id": "d", "kind": said("lv_negative")},
        "cutoff.order_note": said("12 V first: it opens the contactors"),
    },
    "no tailpipe, said so": {"looks.tailpipe": absent()},
    "a point at the edge of its zone": {
        "ports.0.place": said(place("left", "rear_quarter", "mid", at=[640, 380, 600])),
    },
    "a pyro-fuse with what it does": {
        "energy.pyro_fuse": {"fitted": said(True, fit="some"), "port_effect": said("plug_refused")},
    },
    "a house pack beside the traction pack": {
        "energy.packs.1": {"id": "b", "role": said("house"), "voltage": said(48), "capacity": said(5000)},
    },
    "capacity of one pack not stated": {"energy.packs.1": {"id": "b", "role": said("traction")}},
}  # fmt: skip


@pytest.mark.parametrize("changes", SOUND.values(), ids=SOUND.keys())
def test_an_odd_but_right_vehicle_brings_no_finding(changes: dict[str, Any]) -> None:
    assert [str(finding) for finding in _findings(sample(changes))] == []


def test_the_gate_refuses_what_blocks_and_brings_the_rest_along() -> None:
    with pytest.raises(Invalid) as caught:
        check_record(sample({"identity.years.to": 2020, "looks.doors": said(7)}))
    assert {f.severity for f in caught.value.findings} == {BLOCKS, LOOK}
    assert "looks.doors" not in str(caught.value)
    _, doubts = check_record(sample({"looks.doors": said(7)}))
    assert [finding.path for finding in doubts] == ["looks.doors"]


def test_what_guides_dispute_never_blocks() -> None:
    sides = {"disputed": [said("ac"), said("ac_dc", "KEL-7/2:4")]}
    found = _findings(sample({"ports.0.standard": said("type2"), "ports.0.current": sides}))
    assert [(f.path, f.severity) for f in found] == [("ports[a].current", LOOK)]


def test_a_drawn_point_outside_its_zone_blocks_even_when_disputed() -> None:
    wrong = place("left", "rear_quarter", "mid", at=[0, 0, 0])
    sides = {"disputed": [said(wrong), said(place("right", "rear_quarter", "mid"), "KEL-7/2:4")]}
    assert [f.severity for f in _findings(sample({"ports.0.place": sides}))] == [BLOCKS]


@pytest.mark.parametrize("market", MARKETS, ids=lambda market: market.key)
def test_each_market_wants_the_wheel_away_from_the_kerb(market: Any) -> None:
    wrong = "left" if market.steering == "right" else "right"
    found = _findings(sample({"identity.markets": [market.key], "identity.steering": [wrong]}))
    assert any(f.path == "identity.steering" and market.label in f.allowed for f in found)
    right = _findings(sample({"identity.markets": [market.key], "identity.steering": [market.steering]}))
    assert not any(f.path == "identity.steering" for f in right)


@pytest.mark.parametrize("side", SIDE.keys)
@pytest.mark.parametrize("end", END.keys)
@pytest.mark.parametrize("level", LEVEL.keys)
def test_every_zone_holds_its_centre_and_refuses_a_point_beside_it(side: str, end: str, level: str) -> None:
    zone = Place(side, end, level)
    centre = list(zone_centre(zone))
    path = "restraints.control_unit"
    assert _findings(sample({path: said(place(side, end, level, at=centre))})) == []
    for axis, (low, high) in enumerate(zone_box(zone)):
        for outside in (low - 1, high + 1):
            at = [*centre[:axis], outside, *centre[axis + 1 :]]
            found = _findings(sample({path: said(place(side, end, level, at=at))}))
            assert [f.path for f in found] == [f"{path}.at"]


@settings(max_examples=25)
@given(records())
def test_checks_never_fail_and_put_what_blocks_first(record: Record) -> None:
    severities = [list(Severity).index(finding.severity) for finding in implausible(record)]
    assert severities == sorted(severities)


# A catalogue of two sources and two records that refer to each other.
GUIDE = Source("guide", "KEL-7", 1, "Guide", "Ondru", "2021-05-01", "2021-06-01", pages=40)
SEEN = Source("seen", "SEEN-4", 1, "Crew report", "Station 4", "2022-05-01", "2022-06-01")
SOURCES = {source.key: source for source in (GUIDE, SEEN)}
ONE, TWO = "QK7-M2T", "B3D-W9K"


def _pair(mine: dict[str, Any], theirs: dict[str, Any]) -> dict[str, Record]:
    made = {ONE: mine, TWO: {"identity.variant": "Long", **theirs}}
    return {code: record_from_document(sample(changes)) for code, changes in made.items()}


def test_a_catalogue_in_order_brings_no_finding() -> None:
    mutual = _pair({"identity.twin_of": [TWO]}, {"identity.twin_of": [ONE]})
    later = _pair({"identity.replaces": [TWO]}, {"identity.replaced_by": [ONE]})
    for records_ in (mutual, later):
        assert list(check_catalogue(records_, SOURCES)) == []


# What differs in the two records; whose finding, at which path, how grave, saying what.
OUT_OF_ORDER: list[tuple[dict[str, Any], dict[str, Any], tuple[str, str, Severity, str]]] = [
    ({"identity.twin_of": [TWO]}, {}, (ONE, "identity.twin_of[#1]", BLOCKS, "twin_of")),
    ({"identity.replaces": [TWO]}, {}, (ONE, "identity.replaces[#1]", BLOCKS, "replaced_by")),
    ({"identity.replaced_by": [TWO]}, {}, (ONE, "identity.replaced_by[#1]", BLOCKS, "replaces")),
    ({"identity.twin_of": [ONE]}, {}, (ONE, "identity.twin_of[#1]", BLOCKS, "itself")),
    ({"identity.twin_of": ["Z9Z-Z9Z"]}, {}, (ONE, "identity.twin_of[#1]", BLOCKS, "no record")),
    (
        {"identity.replaces": [TWO], "identity.replaced_by": [TWO]},
        {"identity.replaces": [ONE], "identity.replaced_by": [ONE]},
        (ONE, "identity.replaces", BLOCKS, "itself over others"),
    ),
    ({"identity.variant": "Long"}, {}, (TWO, "identity", LOOK, "same name")),
    ({"looks.roof": said("glass", "XX-1/1:1")}, {}, (ONE, "looks.roof.src", BLOCKS, "no source")),
    ({"looks.roof": said("glass", "KEL-7/2:1")}, {}, (ONE, "looks.roof.src", BLOCKS, "no source")),
    ({"looks.roof": said("glass", "KEL-7/1:41")}, {}, (ONE, "looks.roof.src", BLOCKS, "40 pages")),
    ({"looks.roof": said("glass", "KEL-7/1")}, {}, (ONE, "looks.roof.src", NOTE, "has pages")),
    ({"looks.roof": said("glass", "SEEN-4/1:2")}, {}, (ONE, "looks.roof.src", LOOK, "has no pages")),
    ({"identity.src": ["XX-1/1:1"]}, {}, (ONE, "identity.src", BLOCKS, "no source")),
    ({"complete": {"ports": said(True, "XX-1/1")}}, {}, (ONE, "complete.ports.src", BLOCKS, "no source")),
    (
        {"looks.roof": {"disputed": [said("glass"), said("fixed", "XX-1/1")]}},
        {},
        (ONE, "looks.roof.src", BLOCKS, "no source"),
    ),
    (
        {"notes": [{"id": "a", "lang": "en", "text": "seen", "src": ["XX-1/1"]}]},
        {},
        (ONE, "notes[a].src", BLOCKS, "no source"),
    ),
]


@pytest.mark.parametrize(("mine", "theirs", "expected"), OUT_OF_ORDER)
def test_a_catalogue_out_of_order_is_named(
    mine: dict[str, Any], theirs: dict[str, Any], expected: tuple[str, str, Severity, str]
) -> None:
    code, path, severity, words = expected
    found = list(check_catalogue(_pair(mine, theirs), SOURCES))
    assert [f for owner, f in found if (owner, f.path, f.severity) == (code, path, severity) and words in f.allowed], (
        found
    )


def _findings(document: Document) -> list[Finding]:
    return list(implausible(record_from_document(document)))
