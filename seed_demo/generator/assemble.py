"""A family put together: its records as documents, linked, and the sources they cite."""

from collections.abc import Sequence, Set
from dataclasses import dataclass
from random import Random

from seed_demo.generator.doubt import dispute, sparse, usual
from seed_demo.generator.fragments import Fragments
from seed_demo.generator.guide import FAMILY_TOPICS, Guide, crew_report
from seed_demo.generator.identity import Naming, identity
from seed_demo.generator.looks import looks
from seed_demo.generator.makes import Make
from seed_demo.generator.marks import Document, Src, stated
from seed_demo.generator.notes import notes
from seed_demo.generator.plan import Body, Member
from seed_demo.generator.platforms import Platform
from seed_demo.generator.tables import table


@dataclass(frozen=True, slots=True)
class Family:
    """records: (code, document), the facelift after what it replaces. sources: (key, document).

    Documents share parts with each other, also beyond the family: read them, do not change them.
    """

    records: Sequence[tuple[str, Document]]
    sources: Sequence[tuple[str, Document]]


@dataclass(frozen=True, slots=True)
class Outline:
    """What a family is made from.

    codes: one per member. twin: (make, model, code) of another badge. is_first: on its platform.
    """

    number: int
    make: Make
    model: str
    body: Body
    members: Sequence[Member]
    codes: Sequence[str]
    twin: tuple[Make, str, str] | None
    platform: Platform
    is_first: bool

    @property
    def size(self) -> int:
        """How many records it makes."""
        return len(self.members) + (self.twin is not None)


def family(outline: Outline, draw: Random) -> Family:
    """Write every record of a family and its sources."""
    number = f"{outline.make.short}-{outline.number}"
    lead = outline.members[0]
    firsts = {member.issue: member for member in reversed(outline.members)}
    guides = {issue: Guide(outline.make, number, issue, firsts[issue].since, FAMILY_TOPICS) for issue in sorted(firsts)}
    shape = table("shape")
    shared = Fragments(outline.body, outline.platform, usual(draw), sparse=False)
    records: list[tuple[str, Document]] = []
    seen: Src = [f"{number}S/1"]
    disputed = False
    for place, (member, code) in enumerate(zip(outline.members, outline.codes, strict=True)):
        is_sparse = place > 0 and draw.random() < 3 * shape["sparse"]
        fragments = Fragments(outline.body, outline.platform, sparse(draw), sparse=True) if is_sparse else shared
        naming = Naming(outline.make, outline.model, outline.platform.number, place, *_links(outline, place))
        document = _document(member, naming, guides[member.issue], fragments)
        if draw.random() < shape["disputed"]:
            disputed |= dispute(document, draw, seen)
        records.append((code, document))
    name = f"{outline.make.name} {outline.model}"
    sources = [(guide.key, guide.document(name, firsts[issue].kit)) for issue, guide in guides.items()]
    if outline.is_first:
        sources.append(outline.platform.source())
    if disputed:
        what = f"{outline.model}, not as the guide has it"
        sources.append((seen[0], crew_report(f"{number}S", lead.since + 1, what)))
    if outline.twin is not None:
        records.append(_twin(outline, records[0][1], guides[1]))
    return Family(records, sources)


def _links(outline: Outline, place: int) -> tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]]:
    """twin_of, replaces and replaced_by of a member: the facelift follows the lead."""
    twin = (outline.twin[2],) if outline.twin is not None and place == 0 else ()
    last = len(outline.members) - 1
    if outline.members[last].role != "facelift":
        return twin, (), ()
    return twin, (outline.codes[0],) if place == last else (), (outline.codes[last],) if place == 0 else ()


def _document(member: Member, naming: Naming, guide: Guide, fragments: Fragments) -> Document:
    made: Document = {
        "format": 1,
        "identity": identity(member, fragments.body, naming, guide.pages["looks"]),
        **fragments.sections(member, naming.model, guide),
    }
    complete = {
        path: stated(True, guide.pages[page])
        for path, section, key, page in _LISTS
        if _says_all(member, made if section is None else made.get(section, {}), path, key)
    }
    if complete:
        made["complete"] = complete
    made["notes"] = notes(member, fragments.body, naming.model, guide.pages)
    return made


def _says_all(member: Member, holder: Document, path: str, key: str) -> bool:
    """Whether the guide claims the list to be all there is; an empty one is only written where it does."""
    return key in holder and (not holder[key] or member.kit.number(f"all {path}", 0, 1) < 0.5)


_LISTS = (
    ("ports", None, "ports", "ports"),
    ("cutoff.methods", "cutoff", "methods", "cutoff"),
    ("energy.packs", "energy", "packs", "energy"),
    ("energy.low_voltage", "energy", "low_voltage", "energy"),
    ("energy.tanks", "energy", "tanks", "energy"),
)


def _twin(outline: Outline, lead: Document, guide: Guide) -> tuple[str, Document]:
    """The lead under another make's badge: other names and looks, everything else the same."""
    assert outline.twin is not None
    make, model, code = outline.twin
    member = outline.members[0]._replace(kit=outline.members[0].kit.anew("front_lamps", "rear_lamps", "front_face"))
    naming = Naming(make, model, outline.platform.number, 0, (outline.codes[0],), (), ())
    src = guide.pages["looks"]
    over = {"identity": identity(member, outline.body, naming, src), "looks": looks(member, outline.body, model, src)}
    return code, lead | over


def cut(made: Family, count: int) -> Family:
    """A family's first `count` records; links to those that were left out are dropped."""
    kept = made.records[:count]
    known = {code for code, _ in kept}
    return Family([(code, _unlinked(document, known)) for code, document in kept], made.sources)


def _unlinked(document: Document, known: Set[str]) -> Document:
    who = document["identity"]
    links = {key: [other for other in who[key] if other in known] for key in _LINKED if key in who}
    plain = {key: value for key, value in who.items() if not (key in links and not links[key])}
    return document | {"identity": plain | {key: value for key, value in links.items() if value}}


_LINKED = ("twin_of", "replaces", "replaced_by")
