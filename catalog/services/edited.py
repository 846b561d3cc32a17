"""What a person writes in a field's place, in the words of a workbook's cells: "60 s", NOT STATED, NOT FITTED."""

from collections.abc import Mapping
from typing import Any

from catalog.domain.record import attribute_at
from catalog.domain.spec import Attr
from catalog.errors import BadInput
from catalog.intake.claims import Shape, fact_text, read_fact, read_sources, sources_text

Document = Mapping[str, Any]


def cell_of(path: str, stored: Document | None) -> tuple[str, str]:
    """(value, sources) of a stored fact as cells say them; NOT STATED and "" for none."""
    attr = _attr(path)
    return ("NOT STATED", "") if stored is None else (fact_text(attr.kind, stored), sources_text(stored))


def fact_from(path: str, text: str, sources: str) -> dict[str, Any] | None:
    """The fact as a document holds it; None for not stated. Raises BadInput with what is allowed."""
    attr = _attr(path)
    read = read_fact(Shape(attr.kind, attr), text.strip())
    if read.value is None:
        first = read.problems[0]
        raise BadInput(
            f"{attr.label}: {text.strip() or 'nothing'!r} is not understood: {first.allowed}.", cure=first.cure
        )
    claims = list(read.value)
    if not claims:
        return None
    cited = read_sources(sources.strip())
    if cited.value is None or len(cited.value) not in (1, len(claims)):
        raise BadInput(
            f"{attr.label}: its source is not understood.", cure="Name the page: NUMBER/ISSUE:PAGE; one line a side."
        )
    given = cited.value if len(cited.value) == len(claims) else cited.value * len(claims)
    sides = [{**claim, "src": list(src)} for claim, src in zip(claims, given, strict=True)]
    return sides[0] if len(sides) == 1 else {"disputed": sides}


def _attr(path: str) -> Attr:
    try:
        return attribute_at(path)
    except KeyError as error:
        raise BadInput(
            f"{path} is no fact, so it is not edited here.", cure="Accept or reject it, or bring the file in again."
        ) from error
