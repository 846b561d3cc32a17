"""Platforms: what several families of a make share under different names.

Restraints, structure and doors belong to the platform and are stated in its manual, so that they
are written once for all of its families, as a maker does.
"""

from collections.abc import Callable
from functools import cached_property
from random import Random

from seed_demo.generator.access import access
from seed_demo.generator.doubt import Gone, silence, usual
from seed_demo.generator.draws import pick
from seed_demo.generator.guide import PLATFORM_TOPICS, Guide
from seed_demo.generator.makes import Kit, Make
from seed_demo.generator.marks import Document, Src
from seed_demo.generator.plan import LATEST, Body, Member
from seed_demo.generator.regions import REGIONS
from seed_demo.generator.restraints import restraints
from seed_demo.generator.structure import structure
from seed_demo.generator.tables import table

_Writer = Callable[[Member, Body, Src], Document]
# Section -> its writer, and what of a vehicle it depends on: vehicles alike in that have it in common.
_WRITERS: dict[str, tuple[_Writer, Callable[[Member, Body], object]]] = {
    "restraints": (restraints, lambda member, body: (member.region.steering, member.band)),
    "structure": (structure, lambda member, body: member.propulsion == "combustion"),
    "access": (access, lambda member, body: member.region.steering if body.name == "bus" else None),
}
_ROOFS = {"glass": "G", "soft": "S"}  # they have other panes
_PER_BODY = "AB"  # a make has up to two platforms for a kind of body


class Platform:
    """One platform of a make. Sections are written when first needed; equal ones are one object."""

    def __init__(self, make: Make, number: str, body: Body, since: int, seed: int) -> None:
        self.number = number
        self.guide = Guide(make, number, 1, since, PLATFORM_TOPICS)
        self._body = body
        self._seed = f"{seed}/{number}"
        self._held: dict[tuple[str, object], Document] = {}

    @cached_property
    def _kit(self) -> Kit:
        """Drawn whole and in one order, so that it does not matter which vehicle is written first."""
        kit = Kit(self.guide.make, Random(self._seed), self._body.use)  # noqa: S311  repeatable on purpose
        for propulsion in ("battery", "combustion"):
            self._shared(_newest(propulsion, kit), kit)
        return kit

    @cached_property
    def _own(self) -> Gone:
        """The silences of the manual."""
        return usual(Random(f"{self._seed}/gone"))  # noqa: S311  repeatable on purpose

    def sections(self, member: Member, gone: Gone | None) -> Document:
        """Restraints, structure and access. gone: silences of a sparse record; None for the manual's own."""
        kit = self._kit
        if gone is None:
            return self._shared(member, kit)
        return {key: self._written(key, member._replace(kit=kit), gone) for key in _WRITERS}

    def _shared(self, member: Member, kit: Kit) -> Document:
        made: Document = {}
        like = None
        for key, (_, depends) in _WRITERS.items():
            mark = key, depends(member, self._body)
            if mark not in self._held:
                like = like or member._replace(kit=kit)
                self._held[mark] = self._written(key, like, self._own)
            made[key] = self._held[mark]
        return made

    def _written(self, key: str, like: Member, gone: Gone) -> Document:
        """A section with its silences. like: the vehicle, with the platform's kit."""
        section = _WRITERS[key][0](like, self._body, self.guide.pages[key])
        silence(section, gone.get(key, {}))
        return section

    def source(self) -> tuple[str, Document]:
        """The manual."""
        return self.guide.key, self.guide.document(f"{self.guide.make.name} platform {self.number}", self._kit)


def _newest(propulsion: str, kit: Kit) -> Member:
    """A vehicle with all a platform may have."""
    newest = max(table("shape")["bands"])
    return Member(propulsion, "", REGIONS["europe"], LATEST, None, newest, "lead", 1, kit)


class Platforms:
    """All platforms so far."""

    def __init__(self, seed: int) -> None:
        self._seed = seed
        self._known: dict[str, Platform] = {}

    def of(self, make: Make, body: Body, since: int, draw: Random) -> tuple[Platform, bool]:
        """A family's platform, and whether it is a new one (its manual is then new too)."""
        trim = f"{_ROOFS.get(body.roof, 'F')}{'4' if body.doors >= 4 else '2'}"
        number = f"{make.short}-{body.name[:3].upper()}{trim}{pick(draw, _PER_BODY)}"
        known = number in self._known
        if not known:
            self._known[number] = Platform(make, number, body, since, self._seed)
        return self._known[number], not known
