"""Setting up a catalogue from prepared editions: migrate, publish what is missing, compile."""

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from typing import Any, Protocol

from catalog.services.calibrating import check_current
from catalog.services.clock import us_of
from catalog.services.compiling import compile_latest, is_behind
from catalog.services.house import House
from catalog.store.engine import read, write
from catalog.store.migrate import pending, upgrade
from catalog.store.publish import Publication, publish
from catalog.store.read import latest
from schemas.record import load_record
from schemas.source import load_source

Progress = Callable[[str], None]


class PreparedEdition(Protocol):
    """An edition ready to be published; `seed_demo.DemoEdition` is one."""

    @property
    def number(self) -> int: ...
    @property
    def published_at(self) -> datetime: ...
    @property
    def author(self) -> str: ...
    @property
    def reason(self) -> str: ...
    @property
    def records(self) -> Mapping[str, Mapping[str, Any]]: ...
    @property
    def reasons(self) -> Mapping[str, str]: ...
    @property
    def withdrawn(self) -> Mapping[str, str]: ...
    @property
    def sources(self) -> Mapping[str, Mapping[str, Any]]: ...


class Prepared(Protocol):
    """Editions, first to last; `seed_demo.Demo` is one."""

    @property
    def editions(self) -> Sequence[PreparedEdition]: ...


def prepare_demo(house: House, demo: Prepared, progress: Progress) -> None:
    """Bring the house to the demo's editions; does only what is missing, so a second run loses nothing.

    Editions published since by anyone else are kept: numbers already taken are not published
    again. Raises BadInput for a document that does not pass the gate.
    """
    if pending(house.engine):
        progress("Preparing the database")
        upgrade(house.engine)
    with read(house.engine) as conn:
        newest = latest(conn)
    published = newest.number if newest else 0
    for edition in demo.editions:
        if edition.number > published:
            progress(f"Publishing edition {edition.number}: {edition.reason}")
            _publish(house, edition)
    if is_behind(house):
        progress("Compiling the newest edition")
        compile_latest(house)
    if check_current(house):
        progress("Checked the calibration on it")


def _publish(house: House, edition: PreparedEdition) -> None:
    for document in edition.sources.values():
        load_source(document)
    for document in edition.records.values():
        load_record(document)
    publication = Publication(
        author=edition.author,
        reason=edition.reason,
        records=edition.records,
        reasons=edition.reasons,
        withdrawn=edition.withdrawn,
        sources=edition.sources,
    )
    with write(house.engine) as conn:
        publish(conn, publication, us_of(edition.published_at))
