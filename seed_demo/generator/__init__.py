"""Invented catalogues of any size, in the manner of the hand-written one.

`generate(count, seed)` gives records family by family: look-alikes with other drives, facelifts,
other markets, twins under another badge, each make with habits of its own. The same numbers give
the same records on every machine, and a longer run begins with the records of a shorter one (of
the shorter one's last family, links to what it left out are missing). Shares are in
data/shape.json with where they come from.

May import: catalog.domain, seed_demo and the standard library. Nothing real is in here, and
nothing of it is for operations.
"""

from collections.abc import Iterator
from functools import cache
from itertools import count as counting
from itertools import islice
from random import Random
from typing import Any

from seed_demo.files import read_families
from seed_demo.generator.assemble import Family, Outline, cut, family
from seed_demo.generator.draws import weighted
from seed_demo.generator.makes import Roster
from seed_demo.generator.minting import minted
from seed_demo.generator.names import Names
from seed_demo.generator.plan import draw_band, draw_body, draw_members
from seed_demo.generator.platforms import Platforms
from seed_demo.generator.tables import table

__all__ = ["Family", "families", "generate", "sources"]

Document = dict[str, Any]


def generate(count: int, seed: int) -> Iterator[tuple[str, Document]]:
    """(code, record document) of `count` records. Documents share parts: do not change them."""
    for made in families(count, seed):
        yield from made.records


def sources(count: int, seed: int) -> Iterator[tuple[str, Document]]:
    """(key, source document) of every source that these records cite."""
    for made in families(count, seed):
        yield from made.sources


def families(count: int, seed: int, share: range | None = None) -> Iterator[Family]:
    """Families until `count` records are reached; the last one is cut to it.

    share: only those whose first record's number is in it. Parts made apart are the parts of the whole.
    """
    begins = 0
    for outline, draw in _outlines(seed):
        if begins >= (count if share is None else min(count, share.stop)):
            return
        if share is None or begins in share:
            made = family(outline, draw)
            yield made if begins + outline.size <= count else cut(made, count - begins)
        begins += outline.size


def _outlines(seed: int) -> Iterator[tuple[Outline, Random]]:
    """Every family in its turn, before it is written, and the draw to write it with."""
    taken, apart = _listed()
    names = Names(apart)
    codes, roster, platforms = minted(seed, taken), Roster(names), Platforms(seed)
    shape = table("shape")
    for number in counting(1):
        draw = Random(f"{seed}/{number}")  # noqa: S311  repeatable on purpose
        make = roster.next(draw)
        band = draw_band(draw)
        lead = weighted(draw, shape["lead"][band])
        body = draw_body(draw, lead, band)
        members = tuple(draw_members(draw, make, body, lead, band))
        platform, is_first = platforms.of(make, body, members[0].since, draw)
        twin = roster.other(draw, make) if draw.random() < shape["twin"] else None
        outline = Outline(
            number=number,
            make=make,
            model=names.model(draw),
            body=body,
            members=members,
            codes=tuple(islice(codes, len(members))),
            twin=None if twin is None else (twin, names.model(draw), next(codes)),
            platform=platform,
            is_first=is_first,
        )
        yield outline, draw


@cache
def _listed() -> tuple[frozenset[str], frozenset[str]]:
    """The codes, and the makes and models, of the hand-written catalogue."""
    listed = read_families()
    names = {document["identity"][key] for document in listed.values() for key in ("make", "model")}
    return frozenset(listed), frozenset(names)
