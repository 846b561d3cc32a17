"""The look-alikes of a record as a page of lines."""

from catalog.cli.pages.shared import difference_lines, sight_lines
from catalog.cli.paper import Paper
from catalog.domain.cautions import FULL
from catalog.resolve.answering.alike import LookalikeView
from catalog.services.fact_views import Lookalikes

_SAME = "Every fact of a brief is the same in both records, what is not stated included."


def lookalike_lines(found: Lookalikes, paper: Paper) -> list[str]:
    """The record, then each look-alike with what differs for a crew and what tells them apart."""
    who = "seen from where the caller stands" if found.observer == "caller" else "seen by a crew at the vehicle"
    return [
        paper.heading(f"What looks like {found.title} [{found.code}]"),
        *paper.wrap(f"{found.subtitle}; sights are those {who}. 1 is this record, 2 the other.", 2),
        "",
        *(paper.wrap(found.message) if found.message else ()),
        *(line for each in found.lookalikes for line in _lookalike(each, paper)),
        *(line for caution in FULL for line in paper.wrap(caution)),
    ]


def _lookalike(other: LookalikeView, paper: Paper) -> list[str]:
    apart = "looks the same" if other.bits < 0.005 else f"{other.bits:.2f} bits apart in looks"
    return [
        paper.across(f"{other.title} [{other.code}]", apart, bold=True),
        *paper.wrap(other.subtitle, 2),
        *paper.wrap(f"{other.headline}." if other.headline else _SAME, 2),
        *difference_lines(other.differs[1:], paper),
        *sight_lines(other.sights, other.advice, paper),
        "",
    ]
