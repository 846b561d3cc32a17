"""The full text of a brief in plain lines, as it is copied."""

from catalog.plan.brief.model import Section
from catalog.services.brief_views import BriefView


def full_text(brief: BriefView) -> str:
    """The full text as it is copied: sections under their titles, what belongs to a line below it."""
    said = brief.brief
    parts = [*(_section(section) for section in said.full), "\n".join(said.warnings)]
    if brief.mark:
        parts.insert(0, brief.mark)
    return "\n\n".join(parts)


def _section(section: Section) -> str:
    lines = [section.title.upper()]
    for line in section.lines:
        number = f"{line.number}. " if line.number else ""
        lead = f"{line.lead}: " if line.lead else ""
        lines.append(f"{'   ' * line.level}{number}{lead}{line.text}")
    return "\n".join(lines)
