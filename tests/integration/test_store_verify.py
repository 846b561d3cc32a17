"""Changing a byte behind the product's back, and being told which."""

import hashlib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Connection, Engine

from catalog.domain.chain import ZERO
from catalog.errors import IntegrityError
from catalog.services.house import House
from catalog.store import read
from catalog.store.engine import open_engine, write
from catalog.store.engine import read as reading
from catalog.store.verify import StoreReport, verify
from tests.integration.conftest import Filled
from tests.integration.store_samples import ALPHA, BRAVO, CHARLIE, GUIDE, back, guide, put, record


def four_editions(house: House) -> None:
    engine = house.engine
    put(engine, 1, records={ALPHA: record("alpha one"), BRAVO: record("bravo one")}, sources={GUIDE: guide()})
    put(engine, 2, records={ALPHA: record("alpha two")}, reasons={ALPHA: "Marker of a reason"})
    put(engine, 3, records={ALPHA: record("alpha three"), CHARLIE: record("charlie one")}, withdrawn={BRAVO: "Doubt"})
    back(engine, 4, to_edition=2)


@pytest.fixture
def published(filled: Filled) -> Iterator[Engine]:
    engine = open_engine(filled(four_editions).database_url)
    yield engine
    engine.dispose()


def check(engine: Engine, expect: str | None = None) -> StoreReport:
    with reading(engine) as conn:
        return verify(conn, expect)


def named(report: StoreReport) -> set[tuple[str, str, int]]:
    return {(fault.kind, fault.key, fault.seq) for fault in report.faults}


@contextmanager
def unguarded(engine: Engine) -> Iterator[Connection]:
    """Somebody with all rights, who knows how to switch the triggers and foreign keys off."""
    with engine.connect() as conn:
        if conn.dialect.name == "sqlite":
            conn.exec_driver_sql("COMMIT")
            conn.exec_driver_sql("PRAGMA foreign_keys = OFF")
            conn.exec_driver_sql("BEGIN")
            triggers = conn.exec_driver_sql("SELECT name FROM sqlite_master WHERE type = 'trigger'").scalars().all()
            for trigger in triggers:
                conn.exec_driver_sql(f"DROP TRIGGER {trigger}")
        else:
            conn.exec_driver_sql("SET session_replication_role = replica")
        yield conn
        conn.commit()
        conn.invalidate()


def tamper(engine: Engine, statement: str) -> None:
    with unguarded(engine) as conn:
        assert conn.exec_driver_sql(statement).rowcount >= 1


OF_SECOND = f"code = '{ALPHA}' AND seq = 2"


def test_what_was_published_holds(published: Engine) -> None:
    report = check(published)
    assert report.faults == ()
    assert (report.revisions, report.sources, report.editions) == (5, 1, 4)
    with reading(published) as conn:
        latest = read.latest(conn)
    assert latest is not None
    assert report.head == latest.hash


def test_an_empty_store_holds(engine: Engine) -> None:
    assert check(engine) == StoreReport(0, 0, 0, 0, "", ())


def one_byte(database: str) -> str:
    """SQL for the content with its 20th byte raised by one."""
    if database == "sqlite":
        byte = "char(unicode(CAST(substr(content, 20, 1) AS TEXT)) + 1)"
        return f"CAST(substr(content, 1, 19) || {byte} || substr(content, 21) AS BLOB)"
    return "set_byte(content, 19, get_byte(content, 19) + 1)"


def test_one_byte_of_a_document_is_enough(published: Engine, database: str) -> None:
    tamper(published, f"UPDATE revisions SET content = {one_byte(database)} WHERE {OF_SECOND}")
    report = check(published)
    assert named(report) == {("record", ALPHA, 2)}
    assert [fault.problem for fault in report.faults] == ["The stored document is not the one that was published."]


@pytest.mark.parametrize(
    "change",
    [
        "author = 'Somebody else'",
        "reason = 'Other'",
        "reason = ''",
        "update_id = 'U1'",
        "time_us = time_us + 1",
        "format = 2",
        f"content_hash = '{ZERO}'",
        f"base = '{ZERO}'",
        f"prev = '{'1' * 64}'",
    ],
)
def test_one_column_of_an_entry_is_enough(published: Engine, change: str) -> None:
    tamper(published, f"UPDATE revisions SET {change} WHERE {OF_SECOND}")
    assert named(check(published)) == {("record", ALPHA, 2)}


def test_a_changed_document_with_its_hash_redone_is_named(published: Engine, database: str) -> None:
    """The content hash alone proves nothing: the chain covers it."""
    content = b'{"format":1}'
    literal = f"X'{content.hex()}'" if database == "sqlite" else f"'\\x{content.hex()}'::bytea"
    redone = hashlib.sha256(content).hexdigest()
    tamper(published, f"UPDATE revisions SET content = {literal}, content_hash = '{redone}' WHERE {OF_SECOND}")
    assert named(check(published)) == {("record", ALPHA, 2)}


def test_a_changed_hash_is_named_by_chain_listing_and_entry(published: Engine) -> None:
    tamper(published, f"UPDATE revisions SET hash = '{'a' * 64}' WHERE {OF_SECOND}")
    assert {("record", ALPHA, 2), ("record", ALPHA, 3), ("record", ALPHA, 0)} <= named(check(published))


def test_a_missing_revision_is_noticed(published: Engine) -> None:
    tamper(published, f"DELETE FROM revisions WHERE {OF_SECOND}")
    problems = {fault.problem for fault in check(published).faults if fault.key == ALPHA}
    assert "Revision 2 should come here: revisions are missing or renumbered." in problems
    assert "Edition 2 lists a revision of it that is not stored." in problems


def test_a_missing_record_is_noticed(published: Engine) -> None:
    tamper(published, f"DELETE FROM records WHERE code = '{BRAVO}'")
    assert named(check(published)) == {("record", BRAVO, 1)}


def test_a_record_without_revisions_is_noticed(published: Engine) -> None:
    with write(published) as conn:
        conn.exec_driver_sql("INSERT INTO records (code, created_us) VALUES ('X', 1)")
    assert named(check(published)) == {("record", "X", 0)}


def test_a_revision_no_edition_listed_is_noticed(published: Engine) -> None:
    tamper(published, f"DELETE FROM listings WHERE key = '{CHARLIE}'")
    report = check(published)
    assert ("record", CHARLIE, 1) in named(report)
    assert ("edition", "3", 0) in named(report)


@pytest.mark.parametrize(
    ("statement", "fault"),
    [
        (f"UPDATE sources SET hash = '{ZERO}'", ("source", GUIDE, 0)),
        ("UPDATE vocabularies SET content = content || content WHERE key = 'body'", ("vocabulary", "body", 0)),
        ("UPDATE editions SET published_at_us = published_at_us + 1 WHERE number = 2", ("edition", "2", 0)),
        (f"UPDATE editions SET hash = '{ZERO}' WHERE number = 2", ("edition", "2", 0)),
        (f"UPDATE editions SET prev = '{'1' * 64}' WHERE number = 3", ("edition", "3", 0)),
        ("UPDATE editions SET published_at_us = 5 WHERE number = 3", ("edition", "3", 0)),
        ("DELETE FROM editions WHERE number = 2", ("edition", "3", 0)),
        (f"UPDATE listings SET to_edition = 2 WHERE key = '{BRAVO}' AND from_edition = 1", ("edition", "2", 0)),
        (f"UPDATE listings SET to_edition = 4 WHERE key = '{BRAVO}' AND from_edition = 1", ("edition", "3", 0)),
        (f"UPDATE listings SET revision = '{ZERO}' WHERE key = '{CHARLIE}'", ("record", CHARLIE, 0)),
        (f"DELETE FROM listings WHERE key = '{GUIDE}'", ("edition", "1", 0)),
        ("UPDATE editions SET author = 'Somebody else' WHERE number = 2", ("edition", "2", 0)),
        ("UPDATE editions SET reason = 'Nothing to see' WHERE number = 2", ("edition", "2", 0)),
        (
            f"UPDATE listings SET close_reason = 'Fine to use' WHERE key = '{BRAVO}' AND to_edition = 3",
            ("edition", "3", 0),
        ),
    ],
)
def test_anything_else_an_edition_rests_on(published: Engine, statement: str, fault: tuple[str, str, int]) -> None:
    tamper(published, statement)
    assert fault in named(check(published))


def test_overlapping_listings_are_noticed(published: Engine) -> None:
    tamper(published, f"UPDATE listings SET to_edition = 4 WHERE key = '{ALPHA}' AND from_edition = 1")
    problems = [fault.problem for fault in check(published).faults if (fault.kind, fault.key) == ("record", ALPHA)]
    assert problems == ["It is listed twice in edition 2.", "It is listed twice in edition 3."]


def hash_of(engine: Engine, number: int) -> str:
    with reading(engine) as conn:
        found = read.edition(conn, number)
    assert found is not None
    return found.hash


def test_an_edition_s_hash_kept_elsewhere_is_found(published: Engine) -> None:
    for number in (1, 4):
        assert check(published, hash_of(published, number)).faults == ()
    assert check(published, f" {hash_of(published, 2).upper()}\n").faults == ()


def test_a_hash_that_was_never_published_is_a_fault(published: Engine) -> None:
    (fault,) = check(published, "f" * 64).faults
    assert (fault.kind, fault.key) == ("edition", "f" * 64)
    assert "rewritten or cut short" in fault.problem


def test_a_consistent_rewriting_is_caught_by_the_hash_kept_elsewhere(published: Engine) -> None:
    """Cutting the last edition off leaves a store that hangs together."""
    kept = hash_of(published, 4)
    with unguarded(published) as conn:
        conn.exec_driver_sql("DELETE FROM listings WHERE from_edition = 4")
        conn.exec_driver_sql("UPDATE listings SET to_edition = NULL, close_reason = NULL WHERE to_edition = 4")
        conn.exec_driver_sql("DELETE FROM editions WHERE number = 4")
    assert check(published).faults == ()
    assert named(check(published, kept)) == {("edition", kept, 0)}


# -- below SQL: the bytes of a SQLite file ------------------------------------------------------


@pytest.fixture
def sqlite_file(tmp_path: Path, sqlite_template: Path) -> Path:
    path = tmp_path / "catalogue.db"
    path.write_bytes(sqlite_template.read_bytes())
    engine = open_engine(f"sqlite:///{path}")
    put(engine, 1, records={ALPHA: record("alpha one"), BRAVO: record("bravo one")}, sources={GUIDE: guide()})
    put(engine, 2, records={ALPHA: record("alpha two")}, reasons={ALPHA: "Marker of a reason"})
    engine.dispose()
    return path


def flip(path: Path, where: bytes, to: bytes) -> None:
    stored = path.read_bytes()
    assert stored.count(where) == 1
    path.write_bytes(stored.replace(where, to))


@pytest.mark.parametrize(
    ("where", "to"),
    [
        (b"alpha two", b"alpha twp"),
        (b"Marker of a reason", b"Narker of a reason"),
        # No longer UTF-8: must be named, not end in a decoding error.
        (b"Marker of a reason", b"\xff\xferker of a reason"),
        (b"alpha two", b"alpha \xff\xff\xff"),
    ],
)
def test_a_byte_of_the_file_is_enough(sqlite_file: Path, where: bytes, to: bytes) -> None:
    flip(sqlite_file, where, to)
    engine = open_engine(f"sqlite:///{sqlite_file}")
    assert named(check(engine)) == {("record", ALPHA, 2)}
    engine.dispose()


def test_text_where_bytes_belong_is_named(sqlite_file: Path) -> None:
    """SQLite lets a hand with a plain UPDATE store text in the column."""
    engine = open_engine(f"sqlite:///{sqlite_file}")
    tamper(engine, f"UPDATE revisions SET content = replace(content, 'two', 'six') WHERE {OF_SECOND}")
    assert named(check(engine)) == {("record", ALPHA, 2)}
    engine.dispose()


def test_a_nonsense_value_is_named(sqlite_file: Path) -> None:
    engine = open_engine(f"sqlite:///{sqlite_file}")
    tamper(engine, f"UPDATE revisions SET time_us = 'noon', format = 1.5 WHERE {OF_SECOND}")
    tamper(engine, "UPDATE editions SET published_at_us = 'noon' WHERE number = 2")
    assert {("record", ALPHA, 2), ("edition", "2", 0)} <= named(check(engine))
    engine.dispose()


def overwrite_page(path: Path, number: int) -> None:
    stored = bytearray(path.read_bytes())
    stored[number * 4096 : (number + 1) * 4096] = b"\xa5" * 4096
    path.write_bytes(stored)


def test_a_damaged_page_is_reported_with_what_can_still_be_read(sqlite_file: Path) -> None:
    overwrite_page(sqlite_file, sqlite_file.read_bytes().index(b"alpha two") // 4096)
    engine = open_engine(f"sqlite:///{sqlite_file}")
    report = check(engine)
    engine.dispose()
    assert "file" in {fault.kind for fault in report.faults}
    assert report.editions == 2


def test_a_file_damaged_where_its_tables_are_described_is_refused(sqlite_file: Path) -> None:
    overwrite_page(sqlite_file, sqlite_file.read_bytes().index(b"CREATE TABLE revisions") // 4096)
    engine = open_engine(f"sqlite:///{sqlite_file}")
    with pytest.raises(IntegrityError, match="Restore it from a copy"):
        check(engine)
    engine.dispose()


def test_every_single_damaged_byte_in_a_record_s_row_is_found(sqlite_file: Path) -> None:
    """Any one of the bytes of the row that holds the second revision's document, header apart."""
    original = sqlite_file.read_bytes()
    begin = original.index(b'{"format":1,"identity"', original.index(b"alpha two") - 400)
    end = original.index(b"Marker of a reason") + len(b"Marker of a reason")
    missed: list[Any] = []
    for position in range(begin, end, 7):
        changed = bytearray(original)
        changed[position] ^= 0x01
        sqlite_file.write_bytes(changed)
        engine = open_engine(f"sqlite:///{sqlite_file}")
        if not named(check(engine)):
            missed.append((position, original[position - 5 : position + 5]))
        engine.dispose()
    assert missed == []
