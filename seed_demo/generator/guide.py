"""The sources a family cites: its guide, a second issue for a facelift, and what a crew saw."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property
from typing import Any

from seed_demo.generator.makes import Kit, Make
from seed_demo.generator.marks import Src
from seed_demo.generator.ports import opening_words

Document = dict[str, Any]

PAGES = 24
# topic -> page, heading.
TOPICS = {
    "looks": (4, "Recognising the vehicle"),
    "motion": (6, "Stopping it moving"),
    "ports": (8, "Charge port"),
    "cutoff": (10, "Cutting high voltage off"),
    "energy": (13, "Stored energy"),
    "restraints": (16, "Restraints"),
    "structure": (18, "Where to cut and where not"),
    "access": (20, "Doors, bonnet and glass"),
    "aftermath": (22, "Fire, water and moving it"),
}
PLATFORM_TOPICS = ("restraints", "structure", "access")
FAMILY_TOPICS = tuple(topic for topic in TOPICS if topic not in PLATFORM_TOPICS)
# topic -> the family's wordings its section repeats.
_QUOTED = {
    "motion": ("switch_off", "neutral"),
    "ports": ("wedge", "release"),
    "cutoff": ("order_note", "verify", "label"),
    "energy": ("vents", "coolant", "cable_front"),
    "restraints": ("restraints_about",),
    "structure": ("no_cut_why", "never_push_why", "ram_why"),
    "access": ("outside", "inside", "bonnet", "tailgate"),
    "aftermath": ("pack_water", "venting_signs", "after_about", "tow_mode"),
}
_OPENINGS = {
    "looks": "This guide is about the {name} and the versions that share its body. Read the badge before anything else",
    "motion": "Chock the wheels first; nothing here stops it rolling",
    "ports": "A coupler that is plugged in makes it refuse its own drive and does not cut high voltage off",
    "cutoff": "Keep to the order and wait. The pack stays live",
    "energy": "The pack lies low. Never pierce, open or lever it",
    "restraints": "The wait begins when the last source is off. Fired is not spent",
    "structure": "Where nothing is said here, strip the trim and look",
    "access": "Use the power while it lasts",
    "aftermath": "Cool with plenty of water and keep watching it",
}


@dataclass(frozen=True)
class Guide:
    """One issue of a family's guide, or a platform's manual: what it covers are its topics."""

    make: Make
    number: str
    issue: int
    since: int
    topics: tuple[str, ...]

    @property
    def key(self) -> str:
        return f"{self.number}/{self.issue}"

    @cached_property
    def pages(self) -> dict[str, Src]:
        """topic -> the reference its facts carry."""
        return {topic: [f"{self.key}:{page}"] for topic, (page, _) in TOPICS.items() if topic in self.topics}

    def document(self, name: str, kit: Kit) -> Document:
        """The source document, a short text per topic. name: what the family is called."""
        issued = date(self.since, 1, 10) + timedelta(days=self.make.number % 300)
        return {
            "lang": "en",
            "kind": "guide",
            "number": self.number,
            "issue": self.issue,
            "title": f"{name}: emergency response guide",
            "publisher": f"{self.make.name} Technical Press",
            "issued": issued.isoformat(),
            "retrieved": (issued + timedelta(days=200)).isoformat(),
            "pages": PAGES,
            "sections": list(self._sections(name, kit)),
        }

    def _sections(self, name: str, kit: Kit) -> Iterator[Document]:
        for topic in self.topics:
            page, heading = TOPICS[topic]
            said = [_OPENINGS[topic].format(name=name), *(kit.text(key) for key in _quoted(topic, kit))]
            yield {"page": page, "heading": heading, "text": "".join(f"{part}. " for part in said).strip()}


def _quoted(topic: str, kit: Kit) -> tuple[str, ...]:
    first = (opening_words(kit.habit("port")[5]),) if topic == "ports" else ()
    return (*first, *_QUOTED.get(topic, ()))


def crew_report(number: str, issued: int, what: str) -> Document:
    """What a crew saw against the guide: a source without pages."""
    return {
        "lang": "en",
        "kind": "seen",
        "number": number,
        "issue": 1,
        "title": f"Crew report: {what}",
        "publisher": "Ashenfold Fire and Rescue",
        "issued": f"{issued}-05-14",
        "retrieved": f"{issued}-06-02",
    }
