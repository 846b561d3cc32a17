"""The generator's names and shape against an open VIN decoder's data.

Source: ultravin 3.0.2 (MIT), data of 2026-10: vehicle makers' filings with the United States'
road safety authority. It holds no makes that were filed nowhere there. Its rows count VIN
patterns, not vehicles, so only the shape within a row is compared.
"""

from collections import Counter
from collections.abc import Iterator
from datetime import datetime
from typing import Any

import pytest
import ultravin

from seed_demo.generator import generate
from seed_demo.generator.tables import table

NOW = datetime(2026, 6, 1)  # noqa: DTZ001 - the decoder takes a naive time

BODIES = {
    "Sport Utility Vehicle [SUV]/Multipurpose Vehicle [MPV]": "suv", "Crossover Utility Vehicle [CUV]": "suv",
    "Sedan/Saloon": "saloon", "Hatchback/Liftback/Notchback": "hatchback", "Wagon": "estate", "Coupe": "coupe",
    "Convertible/Cabriolet": "convertible", "Roadster": "convertible", "Pickup": "pickup",
    "Sport Utility Truck [SUT]": "pickup", "Van": "van", "Cargo Van": "van", "Step Van/Walk-in Van": "van",
    "Minivan": "people_carrier", "Bus": "bus", "Bus - School Bus": "bus", "Truck": "lorry", "Truck-Tractor": "lorry",
    "Low Speed Vehicle [LSV]/Neighborhood Electric Vehicle [NEV]": "microcar",
}  # fmt: skip
NOT_ROAD = ("TRAILER", "OFF-ROAD VEHICLE", "")


def decoded(part: str) -> Iterator[dict[str, Any]]:
    vins = ultravin.sweep([part])
    for start in range(0, len(vins), 20_000):
        yield from ultravin.decode_batch(vins[start : start + 20_000], now=NOW)


def test_no_generated_make_is_a_real_one() -> None:
    real = {str(entry["attributes"].get("Make")).upper() for entry in decoded("wmi")}
    assert len(real) > 10_000, "the screen itself must work"
    identities = [document["identity"] for _, document in generate(4000, 11)]
    makes = {identity["make"].upper() for identity in identities}
    models = {identity["model"].upper() for identity in identities}
    found = (makes | models) & real
    print(f"\n{len(makes)} generated makes and {len(models)} models against {len(real)} makes: {found or 'none'}")
    assert not found
    for make in sorted(makes)[:100]:
        assert ultravin.generate(1, make=make) == [], make


def body_of(body_class: str) -> str | None:
    return "motorcycle" if body_class.startswith("Motorcycle") else BODIES.get(body_class)


def drive_of(electrification: str, fuel: str) -> str | None:
    """Our propulsion; mild hybrids are left out, they are combustion with 48 V here."""
    for start, drive in (("BEV", "battery"), ("PHEV", "plug_in_hybrid"), ("FCEV", "fuel_cell"), ("Mild", None)):
        if electrification.startswith(start):
            return drive
    if electrification.startswith(("HEV", "Strong")):
        return "hybrid"
    if "Fuel Cell" in fuel or "Hydrogen" in fuel:
        return "fuel_cell"
    if fuel == "Electric":
        return "battery"
    return None if fuel in ("", "Not Applicable") else "combustion"


@pytest.mark.slow
def test_the_counts_are_the_dataset_s() -> None:
    shape = table("shape")
    counted: Counter[tuple[str, str, str]] = Counter()
    for entry in decoded("pattern"):
        attributes, year = entry["attributes"], entry["model_year"] or 0
        if (attributes.get("Vehicle Type") or "") in NOT_ROAD:
            continue
        drive = drive_of(attributes.get("Electrification Level") or "", attributes.get("Fuel Type - Primary") or "")
        body = body_of(attributes.get("Body Class") or "")
        band = max((since for since in shape["bands"] if int(since) <= year), default=None)
        if drive and body and band:
            counted[drive, band, body] += 1
    ours = {
        (drive, band, body): count
        for drive, bands in shape["counts"].items()
        for band, counts in bands.items()
        for body, count in zip(shape["bodies"], counts, strict=True)
        if count
    }
    assert ours == counted


def test_bodies_by_drive_and_years_have_the_dataset_s_shape() -> None:
    """Families begin with a lead drawn from the counts; look-alikes share its body, so they blur it.

    Combustion is mostly there as a look-alike: its bodies follow the electrified ones and are only shown.
    """
    shape = table("shape")
    made: Counter[tuple[str, str, str]] = Counter()
    for _, document in generate(6000, 5):
        year = document["identity"]["years"]["from"]
        band = max(since for since in shape["bands"] if int(since) <= year)
        made[document["identity"]["propulsion"], band, document["looks"]["body"]["value"]] += 1
    print(f"\n{'drive':16}{'years from':>11}{'records':>9}  largest shares, generated | dataset (beyond cars damped)")
    for drive, bands in shape["counts"].items():
        for band, counts in bands.items():
            theirs = {
                body: (count + 1) * shape["beyond_cars"].get(body, 1.0)
                for body, count in zip(shape["bodies"], counts, strict=True)
            }
            total, all_made = sum(theirs.values()), sum(made[drive, band, body] for body in theirs)
            apart = sum(abs(made[drive, band, b] / max(all_made, 1) - theirs[b] / total) for b in theirs) / 2
            ours = {body: made[drive, band, body] for body in theirs}
            print(f"{drive:16}{band:>11}{all_made:9}  {leading(ours)} | {leading(theirs)}; apart {apart:.2f}")
            if all_made >= 150 and drive != "combustion":
                assert apart < 0.25, (drive, band)


def leading(shares: dict[str, Any]) -> str:
    total = max(sum(shares.values()), 1e-9)
    return ", ".join(f"{body} {shares[body] / total:.0%}" for body in sorted(shares, key=shares.__getitem__)[:-4:-1])
