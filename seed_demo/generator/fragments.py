"""The sections of a family's records; what does not differ between its vehicles is written once."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from seed_demo.generator.aftermath import aftermath, heavy
from seed_demo.generator.cutoff import cutoff
from seed_demo.generator.doubt import Gone, silence
from seed_demo.generator.energy import energy
from seed_demo.generator.guide import Guide
from seed_demo.generator.looks import looks
from seed_demo.generator.marks import Document, Src
from seed_demo.generator.motion import motion
from seed_demo.generator.plan import Body, Member
from seed_demo.generator.platforms import Platform
from seed_demo.generator.ports import ports

_Writer = Callable[[Member, Body, Src], Any]


@dataclass(frozen=True, slots=True)
class _Section:
    """key: in the document. topic: in the guide. depends: what of a vehicle it is written from, besides
    the series; vehicles alike in that have it in common."""

    key: str
    topic: str
    write: _Writer
    depends: Callable[[Member], object]


def _is_engine_only(member: Member) -> bool:
    return member.propulsion == "combustion"


_FIRST = (
    _Section("ports", "ports", ports, lambda member: (member.region.key, member.band, member.propulsion)),
    _Section("motion", "motion", motion, lambda member: (member.region.steering, member.band, member.propulsion)),
    _Section("cutoff", "cutoff", cutoff, _is_engine_only),
    _Section(
        "energy", "energy", energy, lambda member: (member.region.key, member.band, member.propulsion, member.fuel)
    ),
)
_LAST = (
    _Section("heavy", "motion", heavy, lambda member: (member.region.steering, _is_engine_only(member))),
    _Section("aftermath", "aftermath", aftermath, _is_engine_only),
)


class Fragments:
    """Sections with the family's silences taken out. Equal ones are one object."""

    def __init__(self, body: Body, platform: Platform, gone: Gone, *, sparse: bool) -> None:
        self.body = body
        self.platform = platform
        self._gone = gone
        self._sparse = sparse
        self._held: dict[tuple[str, int, object], Any] = {}

    def sections(self, member: Member, model: str, guide: Guide) -> Document:
        """Every section that says something, in the document's order. model: as the badge has it."""
        src = guide.pages
        made = {"looks": self._thinned("looks", looks(member, self.body, model, src["looks"]))}
        made |= {section.key: self._shared(member, section, src) for section in _FIRST}
        made |= self.platform.sections(member, self._gone if self._sparse else None)
        made |= {section.key: self._shared(member, section, src) for section in _LAST}
        return {key: section for key, section in made.items() if section or section == []}

    def _shared(self, member: Member, section: _Section, pages: Mapping[str, Src]) -> Any:
        """A section, written once for vehicles that are alike in what it says."""
        mark = section.key, member.issue, section.depends(member)
        if mark not in self._held:
            written = section.write(member, self.body, pages[section.topic])
            self._held[mark] = self._thinned(section.key, written)
        return self._held[mark]

    def _thinned(self, key: str, section: Any) -> Any:
        gone = self._gone.get(key, {})
        for entry in section if isinstance(section, list) else (section,):
            silence(entry, gone)
        return section
