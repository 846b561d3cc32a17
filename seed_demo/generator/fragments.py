"""The sections of a family's records; what does not differ between its vehicles is written once."""

from collections.abc import Callable
from typing import Any

from seed_demo.generator.access import access
from seed_demo.generator.aftermath import aftermath, heavy
from seed_demo.generator.cutoff import cutoff
from seed_demo.generator.doubt import Gone, silence
from seed_demo.generator.energy import energy
from seed_demo.generator.guide import Guide
from seed_demo.generator.looks import looks
from seed_demo.generator.marks import Document, Src
from seed_demo.generator.motion import motion
from seed_demo.generator.plan import Body, Member
from seed_demo.generator.ports import ports
from seed_demo.generator.restraints import restraints
from seed_demo.generator.structure import structure

_Writer = Callable[[Member, Body, Src], Any]
# Section, its topic in the guide, and whether it depends on the very drive (or only on whether there is one).
_SECTIONS: tuple[tuple[str, str, _Writer, bool], ...] = (
    ("ports", "ports", ports, True),
    ("motion", "motion", motion, True),
    ("cutoff", "cutoff", cutoff, True),
    ("energy", "energy", energy, True),
    ("restraints", "restraints", restraints, False),
    ("structure", "structure", structure, False),
    ("access", "access", access, False),
    ("heavy", "motion", heavy, True),
)


class Fragments:
    """Sections with the family's silences taken out. Equal ones are one object."""

    def __init__(self, body: Body, gone: Gone) -> None:
        self.body = body
        self._gone = gone
        self._held: dict[tuple[object, ...], Any] = {}

    def sections(self, member: Member, model: str, guide: Guide) -> Document:
        """Every section that says something, in the document's order. model: as the badge has it."""
        src = guide.pages
        made = {"looks": self._thinned("looks", looks(member, self.body, model, src["looks"]))}
        for key, topic, write, by_drive in _SECTIONS:
            own = (member.propulsion, member.fuel) if by_drive else (member.propulsion == "combustion",)
            mark = (key, member.issue, member.region.key, member.band, *own)
            if mark not in self._held:
                self._held[mark] = self._thinned(key, write(member, self.body, src[topic]))
            made[key] = self._held[mark]
        made["aftermath"] = self._thinned("aftermath", aftermath(member, src["aftermath"], src["towing"]))
        return {key: section for key, section in made.items() if section or section == []}

    def _thinned(self, key: str, section: Any) -> Any:
        gone = self._gone.get(key, {})
        for entry in section if isinstance(section, list) else (section,):
            silence(entry, gone)
        return section
