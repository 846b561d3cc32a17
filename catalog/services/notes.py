"""The text of records and guides as the text index reads it."""

from collections.abc import Iterator

from catalog.domain.record import Record, lines
from catalog.domain.sources import Source
from catalog.domain.spec.nodes import Text
from catalog.resolve.rows import subtitle
from catalog.search.port import TextDocument


def record_text(record: Record) -> str:
    """Names, looks in a line, notes, then every free-text fact, one sentence after the other."""
    parts = [record.identity.title, *record.identity.names, subtitle(record)]
    parts += [note.text for note in record.notes]
    for line in lines(record):
        if isinstance(line.attr.kind, Text):
            parts += [str(value) for value in line.fact.values()]
    return " ".join(part if part.endswith((".", "!", "?")) else f"{part}." for part in parts if part)


def guide_texts(source: Source) -> Iterator[TextDocument]:
    """One note per section of a guide, at its page."""
    for section in source.sections:
        title = f"{source.title}, {section.heading}"
        yield TextDocument("guide", source.key, title, section.page, f"{section.heading}. {section.text}", source.lang)
