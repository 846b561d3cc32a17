"""Free text over every note and guide of the current edition."""

from catalog.errors import BadInput
from catalog.services.compiling import edition_view
from catalog.services.house import House
from catalog.services.views import Found, Hit

LONGEST = 2000


def find_text(house: House, query: str, *, limit: int = 20) -> Found:
    """The notes that hold the query's words, best first. Raises BadInput, Unavailable."""
    if len(query) > LONGEST:
        raise BadInput(f"The query has {len(query)} characters; at most {LONGEST} are read.", cure="Use a few words.")
    if limit < 1:
        raise BadInput(f"limit is {limit}.", cure="Use 1 or more.")
    compiled = house.shelf.current()
    total, hits = compiled.text.find(query, limit)
    return Found(
        edition=edition_view(compiled),
        query=query,
        total=total,
        hits=tuple(
            Hit(
                kind=hit.kind,
                key=hit.key,
                title=hit.title,
                where=hit.key if hit.page is None else f"{hit.key}, page {hit.page}",
                page=hit.page,
                snippet=hit.snippet,
                score=hit.score,
            )
            for hit in hits
        ),
    )
