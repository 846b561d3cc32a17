"""Reading: one edition, one moment, what changed between any two, and how the database finds it."""

import re
from collections.abc import Iterator
from typing import Any

import pytest
from sqlalchemy import Connection, Engine, Select, insert

from catalog.domain.chain import ZERO
from catalog.errors import IntegrityError, NotFound
from catalog.services.house import House
from catalog.store import read, tables
from catalog.store.changes import changes
from catalog.store.engine import open_engine, write
from catalog.store.engine import read as reading
from catalog.store.migrate import upgrade
from catalog.store.rows import Interval, document_of
from tests.integration.conftest import Filled
from tests.integration.store_samples import (
    ALPHA,
    BRAVO,
    CHARLIE,
    DAY,
    GUIDE,
    NEXT_ISSUE,
    back,
    guide,
    put,
    record,
)
from tests.postgres import Cluster


def five_editions(house: House) -> None:
    """1 lists two records; 2 changes one and adds one; 3 withdraws one; 4 goes back to 1; 5 to 2."""
    engine = house.engine
    put(engine, 1, records={ALPHA: record("a1"), BRAVO: record("b1")}, sources={GUIDE: guide()})
    put(
        engine,
        2,
        records={ALPHA: record("a2", NEXT_ISSUE), CHARLIE: record("c1")},
        sources={NEXT_ISSUE: guide(NEXT_ISSUE)},
    )
    put(engine, 3, withdrawn={BRAVO: "Cut point wrong"})
    back(engine, 4, to_edition=1)
    back(engine, 5, to_edition=2)


@pytest.fixture
def conn(filled: Filled) -> Iterator[Connection]:
    engine = open_engine(filled(five_editions).database_url)
    with reading(engine) as connection:
        yield connection
    engine.dispose()


def said(conn: Connection, code: str, number: int) -> str | None:
    found = read.record_at(conn, code, number)
    return found.document["notes"][0]["text"] if found else None


def test_each_edition_says_what_it_said(conn: Connection) -> None:
    assert [said(conn, ALPHA, n) for n in range(7)] == [None, "a1", "a2", "a2", "a1", "a2", "a2"]
    assert [said(conn, BRAVO, n) for n in range(6)] == [None, "b1", "b1", None, "b1", "b1"]
    assert [said(conn, CHARLIE, n) for n in range(6)] == [None, None, "c1", "c1", None, "c1"]
    assert said(conn, "nothing", 1) is None


def test_each_moment_says_what_the_catalogue_said(conn: Connection) -> None:
    def at(time_us: int) -> str | None:
        found = read.record_at_time(conn, ALPHA, time_us)
        return found.document["notes"][0]["text"] if found else None

    assert at(DAY - 1) is None
    assert at(DAY) == "a1"
    assert at(2 * DAY - 1) == "a1"
    assert at(2 * DAY) == "a2"
    assert at(4 * DAY + 5) == "a1"
    assert at(99 * DAY) == "a2"
    assert read.record_at_time(conn, BRAVO, 3 * DAY) is None


def test_editions_in_order_and_by_time(conn: Connection) -> None:
    listed = read.editions(conn)
    assert [edition.number for edition in listed] == [1, 2, 3, 4, 5]
    assert [edition.prev for edition in listed] == [ZERO, *(edition.hash for edition in listed[:-1])]
    assert read.latest(conn) == read.edition(conn, 5) == listed[-1]
    assert read.edition(conn, 6) is None
    assert read.edition_at(conn, DAY - 1) is None
    assert read.edition_at(conn, 3 * DAY) == listed[2]
    assert listed[2].author == "Ada Quill"
    assert listed[2].reason == "Day 3"


def test_an_empty_catalogue_has_nothing(engine: Engine) -> None:
    with reading(engine) as conn:
        assert read.editions(conn) == ()
        assert read.latest(conn) is None
        assert read.edition_at(conn, DAY) is None
        assert read.record_counts(conn) == {}
        assert changes(conn, 0, 0) == ()


def test_members_come_in_key_order_with_their_content(conn: Connection) -> None:
    listed = list(read.members(conn, 2, "record"))
    assert [member.key for member in listed] == [ALPHA, BRAVO, CHARLIE]
    assert [member.document for member in listed] == [record("a2", NEXT_ISSUE), record("b1"), record("c1")]
    found = read.record_at(conn, ALPHA, 2)
    assert found is not None
    assert listed[0].revision == found.hash
    assert [member.key for member in read.members(conn, 3, "source")] == [GUIDE, NEXT_ISSUE]
    assert list(read.members(conn, 0, "record")) == []


def test_counts(conn: Connection) -> None:
    assert read.record_counts(conn) == {1: 2, 2: 3, 3: 2, 4: 2, 5: 3}
    assert [read.record_count(conn, number) for number in range(6)] == [0, 2, 3, 2, 2, 3]


def test_history_names_the_editions_of_each_revision(conn: Connection) -> None:
    old, new = read.history(conn, ALPHA)
    assert (old.revision.seq, new.revision.seq) == (1, 2)
    assert old.listed == (Interval(1, 2, None), Interval(4, 5, None))
    assert new.listed == (Interval(2, 4, None), Interval(5, None, None))
    (only,) = read.history(conn, BRAVO)
    assert only.listed == (Interval(1, 3, "Cut point wrong"), Interval(4, None, None))
    assert read.history(conn, "nothing") == ()


def test_why_a_record_is_not_listed_and_what_it_said(conn: Connection) -> None:
    assert [read.withdrawal(conn, BRAVO, n) for n in range(5)] == [None, None, None, "Cut point wrong", None]
    assert read.withdrawal(conn, CHARLIE, 4) == "The change was wrong."
    assert read.withdrawal(conn, "nothing", 4) is None
    assert read.withdrawals(conn, 3) == {BRAVO: "Cut point wrong"}
    assert read.withdrawals(conn, 4) == {CHARLIE: "The change was wrong."}
    assert read.withdrawals(conn, 5) == {}
    last = read.last_listed(conn, BRAVO, 3)
    assert last is not None
    assert last.document == record("b1")
    assert read.last_listed(conn, CHARLIE, 1) is None


def revision_of(conn: Connection, code: str, seq: int) -> str:
    return read.history(conn, code)[seq - 1].revision.hash


def test_changes_forwards(conn: Connection) -> None:
    a1, a2 = revision_of(conn, ALPHA, 1), revision_of(conn, ALPHA, 2)
    b1, c1 = revision_of(conn, BRAVO, 1), revision_of(conn, CHARLIE, 1)
    issue = read.stored_source(conn, NEXT_ISSUE)
    assert issue is not None
    added = ("source", NEXT_ISSUE, None, issue.revision, None)
    assert changes(conn, 1, 2) == tuple(
        sorted([("record", ALPHA, a1, a2, None), ("record", CHARLIE, None, c1, None), added])
    )
    assert changes(conn, 2, 3) == (("record", BRAVO, b1, None, "Cut point wrong"),)
    # Changed in between and back as they were: no difference.
    assert changes(conn, 1, 4) == changes(conn, 2, 5) == changes(conn, 3, 3) == ()


def test_changes_backwards_swap_the_sides_and_give_no_reason(conn: Connection) -> None:
    for a in range(6):
        for b in range(a):
            swapped = [(kind, key, new, old, None) for kind, key, old, new, _ in changes(conn, b, a)]
            assert list(changes(conn, a, b)) == swapped


def test_changes_from_before_the_first_edition_are_all_of_it(conn: Connection) -> None:
    records = [change for change in changes(conn, 0, 1) if change.kind == "record"]
    assert [(change.key, change.old) for change in records] == [(ALPHA, None), (BRAVO, None)]


def test_a_member_that_came_and_went_in_between_gives_the_last_reason(engine: Engine) -> None:
    put(engine, 1, records={ALPHA: record("a1"), BRAVO: record("b1")}, sources={GUIDE: guide()})
    put(engine, 2, withdrawn={ALPHA: "First doubt"}, records={CHARLIE: record("c1")})
    put(engine, 3, records={ALPHA: record("a2")})
    put(engine, 4, withdrawn={ALPHA: "Second doubt", CHARLIE: "Never real"})
    with reading(engine) as conn:
        assert changes(conn, 1, 4) == (("record", ALPHA, revision_of(conn, ALPHA, 1), None, "Second doubt"),)


@pytest.mark.parametrize(("a", "b"), [(1, 6), (6, 1), (-1, 2)])
def test_changes_of_an_edition_that_is_not_there(conn: Connection, a: int, b: int) -> None:
    with pytest.raises(NotFound, match="no edition"):
        changes(conn, a, b)


def test_a_source_is_found_whichever_edition_lists_it(conn: Connection) -> None:
    stored = read.stored_source(conn, NEXT_ISSUE)
    assert stored is not None
    assert stored.document == guide(NEXT_ISSUE)
    assert read.stored_source(conn, "ZZZ-9/9") is None


def test_one_revision_by_its_hash(conn: Connection) -> None:
    listed = read.record_at(conn, ALPHA, 2)
    assert listed is not None
    assert read.revision(conn, listed.hash) == listed
    assert read.revision(conn, ZERO) is None


def test_bytes_that_are_not_what_was_published_are_not_shown() -> None:
    with pytest.raises(IntegrityError, match="revision 2 of X"):
        document_of(b"{}", ZERO, "revision 2 of X")


def test_one_state_is_seen_throughout_a_reading(engine: Engine) -> None:
    put(engine, 1, records={ALPHA: record("a1")}, sources={GUIDE: guide()})
    with reading(engine) as conn:
        assert read.latest(conn) is not None
        put(engine, 2, records={ALPHA: record("a2")})
        assert len(read.editions(conn)) == 1
    with reading(engine) as conn:
        assert len(read.editions(conn)) == 2


# -- how the database finds it ---------------------------------------------------------------


def fill(engine: Engine, many: int) -> None:
    """Editions, records and listings by the thousand, so that a scan would be the wrong plan."""

    def digest(number: int) -> str:
        return f"{number:064}"

    with write(engine) as conn:
        numbers = range(1, many + 1)
        signed = {"author": "a", "reason": "r"}
        conn.execute(
            insert(tables.editions),
            [{"number": n, "prev": digest(n - 1), "hash": digest(n), "published_at_us": n, **signed} for n in numbers],
        )
        conn.execute(insert(tables.records), [{"code": f"K{n}", "created_us": n} for n in numbers])
        chain = {"seq": 1, "prev": ZERO, "base": ZERO, "format": 1, "update_id": "", **signed}
        content = {"content": b"{}", "content_hash": ZERO}
        conn.execute(
            insert(tables.revisions),
            [{"hash": digest(n), "code": f"K{n}", "time_us": n, **chain, **content} for n in numbers],
        )
        conn.execute(
            insert(tables.listings),
            [{"kind": "record", "key": f"K{n}", "from_edition": n, "revision": digest(n)} for n in numbers],
        )
    with write(engine) as conn:
        conn.exec_driver_sql("ANALYZE")


def plan(conn: Connection, statement: Select[Any]) -> str:
    text = str(statement.compile(conn, compile_kwargs={"literal_binds": True}))
    explain = "EXPLAIN QUERY PLAN" if conn.dialect.name == "sqlite" else "EXPLAIN"
    rows = conn.exec_driver_sql(f"{explain} {text}").all()
    return "\n".join(str(row[-1]) for row in rows)


@pytest.mark.parametrize(
    ("statement", "indexes"),
    [
        (read.at_edition("K700", 900), ("listings", "revisions")),
        (read.at_time("K700", 900), ("listings", "revisions", "editions")),
    ],
    ids=["at edition n", "at time t"],
)
def test_a_record_is_found_by_index_alone(engine: Engine, statement: Select[Any], indexes: tuple[str, ...]) -> None:
    fill(engine, 3000)
    with reading(engine) as conn:
        found = plan(conn, statement)
        assert conn.execute(statement).one().code == "K700"
    assert not scans(found), found
    for table in indexes:
        assert re.search(
            rf"SEARCH {table} USING (COVERING )?INDEX|Index (Only )?Scan (Backward )?using \S+ on {table}", found
        )


def scans(found: str) -> bool:
    """Whether a plan reads a table from end to end (SQLite: SCAN; PostgreSQL: Seq or Bitmap Heap Scan)."""
    return re.search(r"\bSCAN\b|Seq Scan|Bitmap", found) is not None


def test_a_plan_that_scans_would_be_noticed(engine: Engine) -> None:
    """The check above can fail: a question without an index does scan."""
    fill(engine, 3000)
    with reading(engine) as conn:
        found = plan(conn, tables.revisions.select().where(tables.revisions.c.reason == "nobody"))
    assert scans(found)


@pytest.mark.postgres
def test_key_order_is_by_code_point_whatever_the_database_sorts_by(postgres: Cluster) -> None:
    """A database that sorts as people do would put lower case beside upper case, and ignore hyphens."""
    name = postgres.create("template0", "LOCALE_PROVIDER icu ICU_LOCALE 'en'")
    engine = open_engine(postgres.url(name))
    try:
        upgrade(engine)
        codes = ["B-1", "a-1", "A-2", "A2", "A-10"]
        put(engine, 1, records={code: record(code) for code in codes}, sources={GUIDE: guide()})
        with reading(engine) as conn:
            listed = [member.key for member in read.members(conn, 1, "record")]
            usual = conn.exec_driver_sql("SELECT x FROM unnest(ARRAY['B-1','a-1']) x ORDER BY x").scalars().all()
        assert usual == ["a-1", "B-1"]
        assert listed == sorted(codes) == ["A-10", "A-2", "A2", "B-1", "a-1"]
    finally:
        engine.dispose()
        postgres.drop(name)
