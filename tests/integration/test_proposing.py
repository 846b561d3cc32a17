"""What is brought in is stored whole, and the catalogue stays as it is."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest
from sqlalchemy.exc import DBAPIError

from catalog.errors import BadInput, Forbidden, NotSignedIn
from catalog.services.house import House, open_house
from catalog.services.proposing import ProposedRecord, propose
from catalog.services.update_findings import findings_of
from catalog.store.engine import read, write
from catalog.store.updates import changes_of, update, update_file, update_lines, update_sources
from catalog.store.verify import verify
from schemas.findings import Invalid
from tests.integration.conftest import Filled
from tests.integration.review_samples import (
    READER,
    STEWARD,
    brought,
    document,
    listed,
    proposed,
    source,
    three_records,
)
from tests.integration.store_samples import ALPHA, BRAVO

SHORTER = {"cutoff.methods.1.wait.value": 30}
BODY = {"looks.body.value": "saloon"}


@pytest.fixture
def house(filled: Filled) -> Iterator[House]:
    made = open_house(filled(three_records))
    yield made
    made.engine.dispose()


def test_everything_brought_is_there_again_and_nothing_is_published(house: House) -> None:
    before = listed(house)
    finding = {"sheet": "ports", "row": 4, "found": "-", "severity": "note"}
    given = replace(
        proposed(house, {BRAVO: BODY, ALPHA: SHORTER}),
        sources={"KEL-7/2": {**source(), "issue": 2}},
        findings=(finding,),
        file=b"\x00\xff workbook",
    )
    number = int(propose(house, STEWARD, given))
    with read(house.engine) as conn:
        told = update(conn, number)
        assert told is not None
        assert (told.name, told.author, told.origin, told.edition) == (given.name, STEWARD.name, "import", 1)
        assert update_file(conn, number) == b"\x00\xff workbook"
        assert update_sources(conn, number) == given.sources
        assert list(findings_of(conn, number)) == [{"record": "", **finding}]
        stored = list(changes_of(conn, number))
        assert [line.state for line in update_lines(conn)] == ["open"]
        assert verify(conn).faults == ()
    # The shorter wait comes before the body, whatever the order of the file.
    assert [(one.code, one.critical, one.less) for one in stored] == [(ALPHA, 1, 1), (BRAVO, 0, 0)]
    assert stored[0].document == document(ALPHA, SHORTER)
    assert stored[0].base == before.hash
    assert stored[0].cells == {"cutoff.methods[b].wait": "cutting off!14:E"}
    assert listed(house) == before


def test_the_same_file_against_the_same_revisions_is_known(house: House) -> None:
    first = brought(house, {ALPHA: SHORTER})
    assert brought(house, {ALPHA: SHORTER}) == first
    assert brought(house, {ALPHA: BODY}) != first


def test_who_may_not_or_is_nobody(house: House) -> None:
    with pytest.raises(NotSignedIn):
        propose(house, None, proposed(house, {ALPHA: BODY}))
    with pytest.raises(Forbidden, match="may not bring in guide updates"):
        propose(house, READER, proposed(house, {ALPHA: BODY}))


def test_what_does_not_pass_the_gate_is_not_stored(house: House) -> None:
    good = proposed(house, {ALPHA: BODY})
    bad: list[tuple[Any, str]] = [
        (replace(good, records=()), "Nothing in it differs"),
        (replace(good, records=good.records * 2), "twice"),
        (replace(good, origin="post"), "origin"),
        (replace(good, records=(replace(good.records[0], reason=" "),)), "without a reason"),
        (replace(good, records=(replace(good.records[0], base="ab" * 32),)), "not one of its own"),
        (replace(good, records=(ProposedRecord(BRAVO, good.records[0].base, document(BRAVO), "x"),)), "of its own"),
        (replace(good, records=(replace(good.records[0], base="0" * 64, document=None),)), "never listed"),
    ]
    for given, said in bad:
        with pytest.raises(BadInput, match=said):
            propose(house, STEWARD, given)
    with pytest.raises(Invalid):
        propose(house, STEWARD, proposed(house, {ALPHA: {"looks.body.value": "spaceship"}}))
    with read(house.engine) as conn:
        assert update_lines(conn) == ()


def test_nothing_of_it_can_be_changed(house: House) -> None:
    brought(house, {ALPHA: BODY})
    for statement in ("UPDATE updates SET name = 'x'", "DELETE FROM update_records"):
        with pytest.raises(DBAPIError, match="never changed or removed"), write(house.engine) as conn:
            conn.exec_driver_sql(statement)
