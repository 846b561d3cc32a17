"""Text hits as a page of lines."""

from catalog.cli.paper import Paper
from catalog.domain.cautions import FULL
from catalog.domain.numbers import counted
from catalog.services.views import Found, Hit


def found_lines(found: Found, paper: Paper) -> list[str]:
    """How many, then each hit with its place and the matching words marked."""
    return [
        *paper.wrap(_count(found)),
        "",
        *(line for hit in found.hits for line in _hit(hit, paper)),
        *(line for caution in FULL for line in paper.wrap(caution)),
    ]


def _count(found: Found) -> str:
    if not found.total:
        return f"Nothing in notes or guides holds “{found.query}”. Try fewer or other words."
    places = counted(found.total, "place holds", "places hold")
    if found.total > len(found.hits):
        return f"{places} “{found.query}”; the best {len(found.hits)} are below."
    return f"{places} “{found.query}”."


def _hit(hit: Hit, paper: Paper) -> list[str]:
    # Stars show the match where bold cannot; a reader's search for the word still finds it.
    snippet = "".join(f"*{text}*" if match else text for text, match in hit.snippet)
    return [paper.across(hit.title, hit.where, bold=True), *paper.wrap(snippet, 2), ""]
