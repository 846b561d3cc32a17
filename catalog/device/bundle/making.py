"""The bundle of one edition: its parts and the listing that names them."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from catalog.compiled import Compiled
from catalog.device.bundle.chunks import chunks
from catalog.device.bundle.part import Part, json_part
from catalog.device.bundle.tables import table_parts
from catalog.resolve.parameters import Parameters
from catalog.resolve.tables import Tables

# Raise when parts or the listing change their meaning; a phone that does not know the number takes the newer app first.
FORMAT = 1
_PARAMETERS = ("version", "origin", "temperature", "unlisted_bias", "cap", "floor", "kappa", "no_port")


@dataclass(frozen=True, eq=False)
class Given:
    """What a bundle is made from. tables: of the edition as this site meets its vehicles.

    site: what the phone needs to know of the site, JSON-able. doubts: those that stand, JSON-able, in words.
    """

    compiled: Compiled
    tables: Tables
    parameters: Parameters
    site: Mapping[str, Any]
    doubts: tuple[Mapping[str, Any], ...] = ()


@dataclass(frozen=True, eq=False)
class Bundle:
    """listing: the part that names the others. parts: all of them, the listing last."""

    listing: Part
    parts: tuple[Part, ...]


def make(given: Given) -> Bundle:
    """Equal input gives equal names, on every host."""
    parts = tuple(_parts(given))
    compiled = given.compiled
    listed = {
        "format": FORMAT,
        "edition": compiled.number,
        "hash": compiled.hash,
        "records": len(compiled.codes),
        "parts": [[part.use, part.key, part.name, len(part.content)] for part in parts],
    }
    listing = json_part("listing", "", listed)
    return Bundle(listing, (*parts, listing))


def _parts(given: Given) -> Iterator[Part]:
    compiled = given.compiled
    yield json_part("site", "", given.site)
    yield json_part("doubts", "", given.doubts)
    yield json_part("parameters", "", _parameters(given.parameters))
    yield from table_parts(given.tables)
    yield from chunks("records", ((code, _record(compiled, code)) for code in compiled.codes))
    yield from chunks("sources", ((key, _source(compiled, key)) for key in compiled.source_keys))


def _parameters(given: Parameters) -> Mapping[str, Any]:
    """The set as one object with its hash and what its temperature rests on."""
    plain = {name: getattr(given, name) for name in _PARAMETERS}
    return {"set": {**plain, **given.tables}, "hash": given.hash, "basis": given.basis}


def _record(compiled: Compiled, code: str) -> bytes:
    revision, seq = compiled.revision(code)
    return b'{"revision":"%s","seq":%d,"document":%s}' % (revision.encode(), seq, compiled.record_bytes(code))


def _source(compiled: Compiled, key: str) -> bytes:
    """What is cited of it. The guide's own text stays with the server."""
    document = json.loads(compiled.source_bytes(key))
    document.pop("sections", None)
    return json.dumps(document, ensure_ascii=False, sort_keys=True, separators=(",", ":")).encode()
