"""Crew reports, the work list, guides and their files, the catalogue at a time, verifying beside the requests."""

import dataclasses
import hashlib
from collections.abc import Iterator
from datetime import UTC, datetime

import pytest

from catalog.domain.roles import Role
from catalog.errors import BadInput, Conflict, Forbidden, NotFound
from catalog.services.acting import actor_of
from catalog.services.catalogue import CatalogueAsked, catalogue
from catalog.services.counting import flush_counts
from catalog.services.crew_reports import Reported, report
from catalog.services.doubting import doubt
from catalog.services.house import House, open_house
from catalog.services.record_ages import record_ages
from catalog.services.records import read_record
from catalog.services.sources import FileGiven, SourcesAsked, keep_file, list_sources, old_records, source_file
from catalog.services.verifications import start_verification, verifications
from catalog.services.work_list import WorkAsked, close_work, draft_work, list_work, open_work, work_entry
from tests.integration.conftest import Filled
from tests.integration.review_samples import two_of_the_demo

STEWARD = actor_of("tamsin.orrell", Role.STEWARD, "test")
DISPATCHER = actor_of("a.dispatcher", Role.DISPATCHER, "test")
CODE = "QPW-TF3"
SECOND = 1_000_000


@pytest.fixture
def house(filled: Filled) -> Iterator[House]:
    made = open_house(filled(two_of_the_demo))
    yield made
    made.engine.dispose()


def reported(house: House, **changed: str) -> Reported:
    seen = read_record(house, CODE).hash
    given = Reported("r" * 24, CODE, "looks.body", seen, "It was a van, ring 07700 900123.", "d" * 24)
    return dataclasses.replace(given, **changed)


def test_a_report_is_kept_once_without_what_is_personal(house: House) -> None:
    assert report(house, reported(house))
    assert not report(house, reported(house))
    with pytest.raises(Conflict):
        report(house, reported(house, words="Something else."))
    [entry] = list_work(house, STEWARD, WorkAsked("report"))
    assert "van" in entry.detail
    assert "900123" not in entry.detail
    assert (entry.code, entry.path, entry.revision) == (CODE, "looks.body", read_record(house, CODE).hash)


@pytest.mark.parametrize("changed", [{"id": "short"}, {"device": "x"}, {"words": " "}, {"words": "x" * 1001}])
def test_what_is_no_report_is_refused(house: House, changed: dict[str, str]) -> None:
    with pytest.raises(BadInput):
        report(house, reported(house, **changed))
    for nothing in ({"revision": "0" * 64}, {"path": "identity.make"}):
        with pytest.raises(NotFound):
            report(house, reported(house, **nothing))


def test_an_entry_is_closed_opened_and_drafted_with_its_origin(house: House) -> None:
    report(house, reported(house))
    [entry] = list_work(house, STEWARD, WorkAsked("report"))
    with pytest.raises(Forbidden):
        close_work(house, DISPATCHER, entry.kind, entry.key, "no")
    with pytest.raises(BadInput):
        close_work(house, STEWARD, entry.kind, entry.key, " ")
    close_work(house, STEWARD, entry.kind, entry.key, "It was another vehicle.")
    assert list_work(house, STEWARD, WorkAsked("report")) == ()
    [closed] = list_work(house, STEWARD, WorkAsked("report", "closed"))
    assert (closed.reason, closed.by) == ("It was another vehicle.", "tamsin.orrell")
    with pytest.raises(Conflict, match="another vehicle"):
        close_work(house, STEWARD, entry.kind, entry.key, "again")
    open_work(house, STEWARD, entry.kind, entry.key, "Seen again.")
    update = draft_work(house, STEWARD, entry.kind, entry.key)
    drafted = work_entry(house, STEWARD, entry.kind, entry.key)
    assert (drafted.state, drafted.update) == ("drafted", update)


def test_old_and_often_opened_records_are_on_the_list(house: House) -> None:
    ages = record_ages(house)
    assert ages[CODE].facts == len(read_record(house, CODE).record.facts)
    assert ages[CODE].older_than("9999") + ages[CODE].unsourced == ages[CODE].facts
    assert ages[CODE].older_than("0001") == 0
    stale = list_work(house, STEWARD, WorkAsked("stale", years=0))
    assert {entry.code for entry in stale} <= set(ages)
    assert stale
    for _ in range(5):
        house.counts.note_opened(CODE)
    flush_counts(house)
    silent = list_work(house, STEWARD, WorkAsked("silent"))
    expected = ages[CODE].silent * 2 > ages[CODE].silent + ages[CODE].safety
    assert (CODE in {entry.code for entry in silent}) is expected


def test_guides_with_what_rests_on_them_and_their_files(house: House) -> None:
    rows = list_sources(house, SourcesAsked(sort="facts"))
    assert rows[0].facts >= rows[-1].facts
    assert sum(row.facts for row in rows) > 100
    plain = next(row for row in rows if not row.sha256)
    content = b"%PDF-1.7 invented"
    with pytest.raises(BadInput, match="states no hash"):
        keep_file(house, STEWARD, FileGiven(plain.key, "guide.pdf", content))
    with pytest.raises(Forbidden):
        keep_file(house, DISPATCHER, FileGiven(plain.key, "guide.pdf", content, True))
    digest = keep_file(house, STEWARD, FileGiven(plain.key, '../"guide.pdf', content, True))
    assert digest == hashlib.sha256(content).hexdigest()
    assert keep_file(house, STEWARD, FileGiven(plain.key, "again.pdf", content, True)) == digest
    found = source_file(house, plain.key)
    assert (found.content, found.media_type, found.hash) == (content, "application/pdf", digest)
    assert "/" not in found.name
    assert next(row.file for row in list_sources(house, SourcesAsked()) if row.key == plain.key) == digest
    stated = next((row for row in rows if row.sha256), None)
    if stated is not None:
        with pytest.raises(Conflict, match="not the file"):
            keep_file(house, STEWARD, FileGiven(stated.key, "guide.pdf", content, True))
    with pytest.raises(BadInput):
        keep_file(house, STEWARD, FileGiven(plain.key, "guide.pdf", b"", True))
    assert old_records(house, "9999-01-01")[0].old > 0


def test_the_catalogue_at_an_edition_and_at_a_time(house: House) -> None:
    number = doubt(house, STEWARD, CODE, "looks.body", "Not a van.")
    house.shelf._looked = -1e9
    house.shelf.current()
    part = catalogue(house, CatalogueAsked(edition=1))
    rows = part.rows
    assert (part.edition.number, len(rows), part.total) == (1, 2, 2)
    then = next(row for row in rows if row.code == CODE)
    now = next(row for row in catalogue(house, CatalogueAsked()).rows if row.code == CODE)
    assert "body not stated" in now.subtitle
    assert "body not stated" not in then.subtitle
    at = catalogue(house, CatalogueAsked(at=datetime(1970, 1, 1, 0, 0, 2, tzinfo=UTC))).edition
    assert at.number == 1
    assert catalogue(house, CatalogueAsked(at=datetime(2999, 1, 1, tzinfo=UTC))).edition.number == number
    with pytest.raises(BadInput, match="no offset"):
        catalogue(house, CatalogueAsked(at=datetime(2026, 1, 1)))  # noqa: DTZ001 - that is what is refused
    with pytest.raises(BadInput, match="both"):
        catalogue(house, CatalogueAsked(edition=1, at=datetime(2026, 1, 1, tzinfo=UTC)))
    with pytest.raises(NotFound):
        catalogue(house, CatalogueAsked(edition=9))
    assert catalogue(house, CatalogueAsked(words=now.title.lower(), sort="title")).rows


def test_verifying_beside_the_requests(house: House) -> None:
    with pytest.raises(Forbidden):
        start_verification(house, DISPATCHER)
    start_verification(house, STEWARD).join(60)
    [found] = verifications(house, STEWARD)
    assert (found.state, found.done, found.total) == ("done", found.total, found.total)
    assert (found.revisions, found.editions, found.faults, found.problem) == (2, 1, (), "")
    assert found.head == house.shelf.current().hash
