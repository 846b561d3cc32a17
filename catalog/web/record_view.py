"""A record as its page shows it: first screen, groups in a crew's order, sources."""

from collections.abc import Mapping
from dataclasses import dataclass

from catalog.domain.facts import State
from catalog.domain.identity_words import identity_words, vehicle_line
from catalog.domain.places import END, Place
from catalog.domain.record import Record, attribute_at
from catalog.domain.sources import KIND, Source
from catalog.domain.spec.template_order import ISO_17840_3
from catalog.domain.wording import sentence
from catalog.services.views import RecordView
from catalog.web.facts import FactView, SourceMark, fact_view, source_marks
from catalog.web.first import FirstScreen, first_screen
from catalog.web.groups import Group, record_groups, template_groups

# After the first screen: what tells it apart, then what a crew meets, then where it goes.
ORDER = ("looks", "ports", "motion", "cutoff", "energy", "restraints", "structure", "access", "heavy", "aftermath")


@dataclass(frozen=True, slots=True)
class Page:
    """Everything the record page needs beside the stored view."""

    line: str
    badge: str
    badge_place: str
    identity: tuple[tuple[str, str], ...]
    identity_sources: tuple[SourceMark, ...]
    first: FirstScreen
    telltale: FactView
    groups: tuple[Group, ...]
    notes: tuple[tuple[str, str, tuple[SourceMark, ...]], ...]
    sources: tuple[tuple[Source, str], ...]
    order: str = ""


def record_view(view: RecordView, order: str = "") -> Page:
    """Build the page of a record that is in use. order: "", or that of ISO 17840-3 for all but the first screen."""
    record, sources = view.record, view.sources
    groups = record_groups(record, sources)
    badge, badge_place = _badge(record)
    telltale = attribute_at("looks.telltale")
    # Sections the specification gained since this order was written follow at the end.
    keys = [*ORDER, *(key for key in groups if key not in ORDER)]
    return Page(
        line=vehicle_line(record),
        badge=badge,
        badge_place=badge_place,
        identity=identity_words(record),
        identity_sources=source_marks(record.identity.src, sources),
        first=first_screen(record, sources),
        telltale=fact_view("looks.telltale", telltale, record.fact("looks.telltale"), sources),
        groups=template_groups(record, sources) if order == ISO_17840_3 else tuple(groups[key] for key in keys),
        notes=tuple((note.lang, note.text, source_marks(note.src, sources)) for note in record.notes),
        sources=_sources(sources),
        order=order,
    )


def _badge(record: Record) -> tuple[str, str]:
    """The first badge whose text is plainly stated, and the end it sits at ("" when that is not)."""
    for item in record.items.get("looks.badges", ()):
        path = f"looks.badges[{item}]"
        text, place = record.fact(f"{path}.text"), record.fact(f"{path}.place")
        if text.state is State.STATED:
            end = END.label_of(place.value.end) if isinstance(place.value, Place) else ""
            return str(text.value), end
    return "", ""


def _sources(sources: Mapping[str, Source]) -> tuple[tuple[Source, str], ...]:
    return tuple((source, sentence(KIND.label_of(source.kind))) for source in sources.values())
