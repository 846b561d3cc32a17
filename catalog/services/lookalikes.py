"""Look-alikes of a record, and the possible vehicles put together by their looks."""

from catalog.errors import BadInput
from catalog.resolve.answering.alike import NONE_FOUND, alike_views
from catalog.resolve.sights import Observer
from catalog.services.compiling import edition_view
from catalog.services.fact_views import Lookalikes
from catalog.services.house import House, field_of
from catalog.services.records import not_listed, parsed_code

OBSERVERS = tuple(observer.value for observer in Observer)
MOST = 50


def find_lookalikes(house: House, code: str, *, observer: str = "caller", limit: int = 5) -> Lookalikes:
    """The records of the current edition that look like one, nearest first. code: in any spelling.

    observer: "caller" is told only of what is seen from where they stand. Raises BadInput, NotFound.
    """
    if observer not in OBSERVERS:
        raise BadInput(f"observer is {observer!r}.", cure=f"Use one of: {', '.join(OBSERVERS)}.")
    if not 1 <= limit <= MOST:
        raise BadInput(f"limit is {limit}.", cure=f"Use 1 to {MOST}.")
    compiled = house.shelf.current()
    field = field_of(house, compiled)
    known = parsed_code(code)
    meta = field.tables.meta
    if known not in compiled.codes:
        raise not_listed(compiled, known, "Search by description, or list the records.")
    position = meta["codes"].index(known)
    found = alike_views(position, field, Observer(observer), limit)
    return Lookalikes(
        edition=edition_view(compiled),
        code=known,
        title=meta["titles"][position],
        subtitle=meta["subtitles"][position],
        observer=observer,
        lookalikes=found,
        message="" if found else NONE_FOUND,
    )
