"""The sections of a family's records; what does not differ between its vehicles is written once."""

from collections.abc import Callable
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
# Section, its topic in the guide.
_FIRST: tuple[tuple[str, str, _Writer], ...] = (
    ("ports", "ports", ports),
    ("motion", "motion", motion),
    ("cutoff", "cutoff", cutoff),
    ("energy", "energy", energy),
)
_LAST: tuple[tuple[str, str, _Writer], ...] = (("heavy", "motion", heavy), ("aftermath", "aftermath", aftermath))


class Fragments:
    """Sections with the family's silences taken out. Equal ones are one object."""

    def __init__(self, body: Body, platform: Platform, gone: Gone, *, sparse: bool) -> None:
        self.body = body
        self.platform = platform
        self._gone = gone
        self._sparse = sparse
        self._held: dict[tuple[object, ...], Any] = {}

    def sections(self, member: Member, model: str, guide: Guide) -> Document:
        """Every section that says something, in the document's order. model: as the badge has it."""
        src = guide.pages
        made = {"looks": self._thinned("looks", looks(member, self.body, model, src["looks"]))}
        made |= {key: self._shared(member, key, write, src[topic]) for key, topic, write in _FIRST}
        made |= self.platform.sections(member, self._gone if self._sparse else None)
        made |= {key: self._shared(member, key, write, src[topic]) for key, topic, write in _LAST}
        return {key: section for key, section in made.items() if section or section == []}

    def _shared(self, member: Member, key: str, write: _Writer, src: Src) -> Any:
        """A section, written once for vehicles of one drive, market and series."""
        mark = (key, member.issue, member.region.key, member.band, member.propulsion, member.fuel)
        if mark not in self._held:
            self._held[mark] = self._thinned(key, write(member, self.body, src))
        return self._held[mark]

    def _thinned(self, key: str, section: Any) -> Any:
        gone = self._gone.get(key, {})
        for entry in section if isinstance(section, list) else (section,):
            silence(entry, gone)
        return section
