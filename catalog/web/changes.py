"""What changed, fact by fact, old beside new, safety-critical first."""

from dataclasses import dataclass

from catalog.domain.delta import FactChange, PlainChange, RecordDelta
from catalog.domain.record import attribute_at, list_at
from catalog.domain.spec import TREE
from catalog.domain.wording import sentence
from catalog.services.views import MemberChange
from catalog.web.facts import FactView, fact_view

_SECTIONS = {section.key: section.label for section in TREE}
_ACTION = {"added": "new", "changed": "changed", "withdrawn": "do not use"}


@dataclass(frozen=True, slots=True)
class FactRow:
    """One fact before and after."""

    label: str
    where: str
    old: FactView
    new: FactView
    critical: bool


@dataclass(frozen=True, slots=True)
class PlainRow:
    """An identity field, order or note before and after; "" where there is none."""

    label: str
    old: str
    new: str


@dataclass(frozen=True, slots=True)
class Rows:
    """Everything that differs. critical: facts a crew acts on; other: looks and notes."""

    critical: tuple[FactRow, ...]
    other: tuple[FactRow, ...]
    plain: tuple[PlainRow, ...]

    @property
    def count(self) -> int:
        return len(self.critical) + len(self.other) + len(self.plain)


@dataclass(frozen=True, slots=True)
class ChangeView:
    """What happened to one member."""

    kind: str
    key: str
    title: str
    action: str
    reason: str
    rows: Rows


def change_view(change: MemberChange) -> ChangeView:
    """Build the view of one member's change."""
    rows = delta_rows(change.delta) if change.delta else Rows((), (), ())
    return ChangeView(
        change.kind, change.key, change.title, _ACTION.get(change.action, change.action), change.reason, rows
    )


def delta_rows(delta: RecordDelta) -> Rows:
    """Rows of a record's difference. Sources read as their keys: a guide may be newer than the page."""
    facts = [_fact_row(change) for change in delta.facts]
    return Rows(
        tuple(row for row in facts if row.critical),
        tuple(row for row in facts if not row.critical),
        tuple(_plain_row(change) for change in delta.plain),
    )


def path_words(path: str) -> str:
    """Where in the record a fact stands: "cutoff.methods[loop].place" -> "cut high voltage off, way loop"."""
    parts = path.split(".")
    made, at = [], ""
    for part in parts[:-1]:
        key, _, item = part.rstrip("]").partition("[")
        at = f"{at}.{key}" if at else key
        if item:
            made.append(f"{list_at(at).item} {item}")
        elif at == key:
            made.append(_SECTIONS.get(key, key))
        else:
            made.append(key.replace("_", " "))
    return ", ".join(made)


def _fact_row(change: FactChange) -> FactRow:
    attr = attribute_at(change.path)
    old, new = (fact_view(change.path, attr, fact, {}) for fact in (change.old, change.new))
    return FactRow(sentence(attr.label), path_words(change.path), old, new, attr.critical)


def plain_label(path: str) -> str:
    """What an identity field, an order, a claim that a list is complete, or a note is called."""
    group, _, name = path.partition(".")
    known = {"src": "sources of identity", "vins": "VIN patterns"}.get(name, name.replace("_", " "))
    label = (
        known if group == "identity" else f"{group} of {known}" if group in ("order", "complete") else f"note {known}"
    )
    return sentence(label)


def _plain_row(change: PlainChange) -> PlainRow:
    return PlainRow(plain_label(change.path), change.old, change.new)
