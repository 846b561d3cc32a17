"""A record as a page of lines, in the order a crew needs it."""

from collections.abc import Iterator
from dataclasses import dataclass

from catalog.cli.pages.facts import FactBlock, common_refs, fact_lines
from catalog.cli.paper import Paper, joined, minute
from catalog.domain import vocabulary as v
from catalog.domain.cautions import FULL
from catalog.domain.markets import MARKET
from catalog.domain.record import Record
from catalog.domain.spec import TREE, ListOf, Node, Section
from catalog.domain.spec.template_order import ISO_17840_3, TemplateSection, template_sections
from catalog.resolve.rows import subtitle
from catalog.services.views import RecordView

PORT_LINE = "Charge port: only if no fire, smoke or water"


@dataclass(frozen=True, slots=True)
class Group:
    """Part of the page. sections: of the specification. only / without: of its children, by key."""

    title: str
    sections: tuple[str, ...]
    say: str = ""
    only: tuple[str, ...] = ()
    without: tuple[str, ...] = ()


_NO_CUT = ("no_cut", "never_push")

GROUPS: tuple[Group, ...] = (
    Group("Stop it moving", ("motion", "ports"), "Chock first, always: a plug may stop drive, never rolling."),
    Group("Doors without power", ("access",)),
    Group("Cut high voltage off", ("cutoff",), "The pack stays live after every step here."),
    Group("Do not cut here", ("structure",), "Anywhere else: not stated. Strip trim and look.", only=_NO_CUT),
    Group("Looks", ("looks",)),
    Group("Stored energy", ("energy",)),
    Group("Restraints", ("restraints",)),
    Group("Structure", ("structure",), without=_NO_CUT),
    Group("Heavy and two-wheeled", ("heavy",)),
    Group("Fire, water, towing, storage", ("aftermath",)),
)

_LIGHT = frozenset({"M1", "N1", "L6", "L7"})
_SECTIONS = {section.key: section for section in TREE}


def record_lines(view: RecordView, paper: Paper, order: str = "") -> list[str]:
    """The whole record; for one that must not be used, only that and why. order: "", or that of ISO 17840-3."""
    if view.withdrawn:
        return [*_title(view, paper), *_do_not_use(view, paper), "", *_cautions(paper)]
    return [
        *_title(view, paper),
        *doubt_lines(view, paper),
        *_identity(view.record, paper),
        "",
        *_facts(view, paper, order),
        *_notes(view.record, paper),
        *_sources(view, paper),
        *_cautions(paper),
    ]


def _title(view: RecordView, paper: Paper) -> Iterator[str]:
    yield paper.across(view.record.identity.title, view.code, bold=True)
    yield paper.across(subtitle(view.record), f"revision {view.seq}, {view.hash[:12]}")
    if view.edition.number < view.latest:
        yield from paper.wrap(f"A newer edition is out: edition {view.latest}.")


def doubt_lines(view: RecordView, paper: Paper) -> Iterator[str]:
    """What was taken back, since when and why: it is not stated, which is not "none"."""
    for doubt in view.doubts:
        yield ""
        yield from paper.wrap(f"DOUBTED since {minute(doubt.since)}: {doubt.label} ({doubt.path}).")
        yield from paper.wrap(f"Not stated now. {doubt.author}: {doubt.reason}", 2)


def _do_not_use(view: RecordView, paper: Paper) -> Iterator[str]:
    yield ""
    yield from paper.wrap(f"DO NOT USE: {view.withdrawn}")
    yield from paper.wrap("Go by the steps for any vehicle. Nothing that this record said may be relied on.")


def _identity(record: Record, paper: Paper) -> Iterator[str]:
    who = record.identity
    entries = (
        ("category", who.category),
        ("also called", joined(who.names)),
        ("markets", joined(map(MARKET.label_of, who.markets))),
        ("steering", joined(map(v.STEERING.label_of, who.steering))),
        ("platform", who.platform or ""),
        ("twin of", joined(who.twin_of)),
        ("replaces", joined(who.replaces)),
        ("replaced by", joined(who.replaced_by)),
        ("VIN like", joined(who.vins)),
    )
    for label, text in entries:
        if text:
            yield from paper.entry(label, text)


def _facts(view: RecordView, paper: Paper, order: str) -> Iterator[str]:
    if order == ISO_17840_3:
        for section in template_sections():
            yield from _template_section(section, view, paper)
        return
    for group in GROUPS:
        yield from _group(group, view, paper)


def _template_section(section: TemplateSection, view: RecordView, paper: Paper) -> Iterator[str]:
    yield paper.across(f"{section.number} {section.title}", "", bold=True)
    for part in section.parts:
        if part.prefix == "" and part.nodes[0].key == "ports":
            yield from paper.wrap(PORT_LINE, 2)
        yield from fact_lines(FactBlock(view.record, part.prefix, part.nodes, (), view.doubts), paper)
    yield ""


def _group(group: Group, view: RecordView, paper: Paper) -> Iterator[str]:
    record = view.record
    for key in group.sections:
        refs = common_refs(record, (key,))
        title = PORT_LINE if key == "ports" else group.title
        yield paper.across(title, f"stated {joined(refs)}" if refs else "", bold=True)
        if group.say and key != "ports":
            yield from paper.wrap(group.say, 2)
        if key == "heavy" and _folded(record):
            yield from paper.wrap(f"Nothing stated. Seldom concerns category {record.identity.category}.", 2)
        else:
            yield from fact_lines(FactBlock(record, *chosen(_SECTIONS[key], group), refs, view.doubts), paper)
    yield ""


def _folded(record: Record) -> bool:
    """What only heavy and two-wheeled vehicles have, when nobody states any of it of a light one."""
    stated = any(path.startswith("heavy.") for path in (*record.facts, *record.items, *record.complete))
    return record.identity.category in _LIGHT and not stated


def chosen(section: Section | ListOf, group: Group) -> tuple[str, tuple[Node, ...]]:
    """The path prefix and the nodes of a section that belong to a group."""
    if isinstance(section, ListOf):
        return "", (section,)
    nodes = tuple(
        node
        for node in section.children
        if (not group.only or node.key in group.only) and node.key not in group.without
    )
    return section.key, nodes


def _notes(record: Record, paper: Paper) -> Iterator[str]:
    if record.notes:
        yield paper.heading("Notes")
        for note in record.notes:
            yield from paper.wrap(f"{note.text} [{joined(note.src)}]", 2)
        yield ""


def _sources(view: RecordView, paper: Paper) -> Iterator[str]:
    yield paper.heading("Sources")
    for key, source in view.sources.items():
        text = f"{source.short}, {source.title}, {source.publisher}, issued {source.issued}"
        yield from paper.entry(key, text, column=16)
    yield ""


def _cautions(paper: Paper) -> Iterator[str]:
    for caution in FULL:
        yield from paper.wrap(caution)
