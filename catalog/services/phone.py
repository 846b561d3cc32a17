"""The newest edition as phones fetch it, made once an edition and kept beside the compiled one."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from catalog.compiled import Compiled
from catalog.compiled.program import program
from catalog.device.bundle import BundleShelf, EngineFiles, Given, engine_files, engine_sum, make
from catalog.services.doubts import DoubtView, all_in
from catalog.services.house import House, field_of
from catalog.services.local_steps import added_by
from catalog.services.phone_bundles import Made, Offered

_FOLDER = "phone"  # beside the compiled editions


@dataclass(frozen=True, slots=True)
class PhoneEdition:
    """What a phone is told when it asks. newest: number of the edition that answers here, whose doubts and withdrawn
    records [code, title, subtitle, reason] these are; the one offered may be older for the seconds it takes to make."""

    offered: Offered
    newest: int
    doubts: tuple[Mapping[str, Any], ...]
    withdrawn: tuple[list[str], ...]


def phone_edition(house: House) -> PhoneEdition:
    """Which edition a phone should have. Raises Unavailable."""
    offered = offer(house)
    compiled = house.shelf.current()
    return PhoneEdition(
        offered=offered,
        newest=compiled.number,
        doubts=_doubts(compiled),
        withdrawn=tuple(compiled.tables.meta.get("withdrawn", ())),
    )


def offer(house: House) -> Offered:
    """The bundle of the current edition, made if it is not there yet. Raises Unavailable."""
    bundles = house.bundles
    held, wanted = bundles.held, _wanted(house)
    if held is not None and held[0] == wanted:
        return held[1]
    if not bundles.making.acquire(blocking=held is None):
        assert held is not None
        return held[1]  # another thread is making the newer one
    try:
        held = bundles.held
        if held is None or held[0] != wanted:
            held = wanted, _made(house, wanted)
            bundles.held = held
        return held[1]
    finally:
        bundles.making.release()


def part(house: House, name: str) -> bytes | None:
    """A part, packed by gzip; None where it is not (or no longer) offered."""
    return _shelf(house).packed(name)


def engine_for_phones() -> EngineFiles:
    """The engine that phones run."""
    return engine_files()


def program_for_phones() -> str:
    """Changes with whatever the engine is made from; known without making it."""
    return f"{program()}{engine_sum()}"


def site_of(house: House) -> Mapping[str, Any]:
    """What a phone needs to know of the site. local_steps: the site's own rules and wording, None where it has none or
    they cannot be used, which `notice` says."""
    settings = house.settings
    document, notice = added_by(house)
    return {
        "driving_side": settings.driving_side,
        "unlisted_rate": settings.unlisted_rate,
        "zone": settings.site_zone,
        "demo": settings.demo,
        "local_steps": document,
        "notice": notice,
    }


def _wanted(house: House) -> Made:
    compiled = house.shelf.current()
    weighed = field_of(house, compiled)
    return compiled, weighed.tables, weighed.parameters, json.dumps(site_of(house), sort_keys=True)


def _made(house: House, wanted: Made) -> Offered:
    compiled, tables, parameters, site = wanted
    bundle = make(Given(compiled, tables, parameters, json.loads(site), _doubts(compiled)))
    sizes = _shelf(house).keep(bundle)
    return Offered(
        number=compiled.number,
        hash=compiled.hash,
        published_at=compiled.published_at,
        reason=compiled.reason,
        records=len(compiled.codes),
        listing=bundle.listing.name,
        packed=sum(sizes.values()),
        unpacked=sum(len(each.content) for each in bundle.parts),
        engine=engine_files().hash,
    )


def _shelf(house: House) -> BundleShelf:
    return BundleShelf(house.shelf.root / _FOLDER)


def _doubts(compiled: Compiled) -> tuple[Mapping[str, Any], ...]:
    return tuple(_doubt(each, compiled.titles.get(each.code, each.code)) for each in all_in(compiled))


def _doubt(view: DoubtView, title: str) -> Mapping[str, Any]:
    return {
        "code": view.code, "title": title, "path": view.path, "label": view.label, "edition": view.edition,
        "revision": view.revision, "since": view.since.isoformat().replace("+00:00", "Z"), "author": view.author,
        "reason": view.reason,
    }  # fmt: skip
