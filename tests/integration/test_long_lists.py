"""Lists too long for one page: parted, narrowed, sorted, and no more is worked out than is shown."""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from flask import Flask
from sqlalchemy import event

from catalog.app import create_app
from catalog.compiled.program import program
from catalog.domain.delta import RecordDelta, difference
from catalog.domain.record import Record
from catalog.domain.roles import Role
from catalog.services import catalogue as past
from catalog.services import editions, record_ages, review_matters
from catalog.services.briefs import BriefAsked, compose_brief
from catalog.services.catalogue import CatalogueAsked, catalogue
from catalog.services.compiling import compile_latest
from catalog.services.editions import ChangesAsked, changes_part
from catalog.services.house import House, open_house
from catalog.services.proposing import Proposed, ProposedRecord, file_hash, propose
from catalog.services.record_ages import record_ages as ages_of
from catalog.services.records import history_part, record_history
from catalog.services.remembered import Remembered
from catalog.services.reviewing import accept_rest
from catalog.services.shown import ShownAsked, shown_part
from catalog.services.update_findings import FindingsAsked, read_findings
from catalog.services.update_reading import RecordsAsked, cell_words, read_update
from catalog.services.watch_list import WatchAsked, WatchedAsked, watch, watched_part
from catalog.store.engine import read, write
from catalog.store.publish import Publication, publish
from catalog.store.updates import update_lines
from catalog.web import paging
from tests.integration.conftest import Filled
from tests.integration.review_samples import APPROVER, STEWARD, document, listed, three_records
from tests.integration.store_samples import ALPHA, BRAVO, CHARLIE, DAY
from tests.people import csrf, signed_in, somebody

CODES = sorted((ALPHA, BRAVO, CHARLIE))
SOME, OTHER = "a.steward", "an.approver"


# SQLite alone: nothing here is asked of one database otherwise than of the other.
@pytest.fixture
def database() -> str:
    return "sqlite"


@pytest.fixture
def house(filled: Filled) -> Iterator[House]:
    made = open_house(filled(three_records))
    yield made
    made.engine.dispose()


@pytest.fixture
def app(house: House, monkeypatch: pytest.MonkeyPatch) -> Iterator[Flask]:
    monkeypatch.setattr(paging, "PAGE", 1)
    made = create_app(house.settings)
    somebody(made.extensions["chockbook"], SOME, Role.STEWARD)
    somebody(made.extensions["chockbook"], OTHER, Role.APPROVER)
    yield made
    made.extensions["chockbook"].engine.dispose()


@contextmanager
def statements(house: House) -> Iterator[list[str]]:
    """What is asked of the database meanwhile."""
    made: list[str] = []

    def note(_conn: Any, _cursor: Any, statement: str, parameters: Any, _context: Any, many: bool) -> None:
        made.append(statement)

    event.listen(house.engine, "before_cursor_execute", note)
    try:
        yield made
    finally:
        event.remove(house.engine, "before_cursor_execute", note)


def finding(number: int, severity: str, record: str = "") -> dict[str, Any]:
    return {
        "file": "a.xlsx", "sheet": "ports", "row": number, "column": 2, "place": "", "record": record, "path": "",
        "found": f"thing {number}", "allowed": "another", "cure": "", "severity": severity,
    }  # fmt: skip


def brought(house: House, findings: tuple[dict[str, Any], ...] = ()) -> int:
    """An update of all three records that looks alone are changed in."""
    records = tuple(
        ProposedRecord(code, listed(house, code).hash, document(code, {"looks.body.value": "saloon"}), "Reissued.")
        for code in CODES
    )
    told = Proposed("a.xlsx", file_hash(b"a"), "import", records, findings=findings, file=b"a")
    return int(propose(house, STEWARD, told))


def republished(house: House, times: int) -> None:
    for year in range(times):
        changes = {code: document(code, {"identity.years.from": 1990 + year}) for code in CODES}
        with write(house.engine) as conn:
            publish(conn, Publication("ada.quill", f"Year {year}.", changes), DAY * (year + 2))
    compile_latest(house)


def test_of_a_long_difference_only_what_is_shown_is_compared(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    republished(house, 1)
    compared: list[object] = []
    real = difference

    def noted(old: Record | None, new: Record | None) -> RecordDelta:
        compared.append(new)
        return real(old, new)

    monkeypatch.setattr(editions, "difference", noted)
    few = changes_part(house, 1, 2, ChangesAsked(limit=1))
    assert (few.weighed, len(compared), len(few.changes), few.total, few.counts["record"]) == (True, 3, 1, 3, 3)
    monkeypatch.setattr(editions, "MOST_WEIGHED", 2)
    compared.clear()
    with statements(house) as asked:
        many = changes_part(house, 1, 2, ChangesAsked(offset=1, limit=1))
    assert (many.weighed, len(compared), [one.key for one in many.changes]) == (False, 1, CODES[1:2])
    with statements(house) as of_more:
        assert len(changes_part(house, 1, 2, ChangesAsked(limit=3)).changes) == 3
    assert len(of_more) == len(asked)  # however many are shown
    found = changes_part(house, 1, 2, ChangesAsked("record", CODES[0].lower()))
    assert [one.key for one in found.changes] == CODES[:1]
    assert changes_part(house, 0, 1, ChangesAsked("source")).changes[0].kind == "source"


def test_of_a_long_history_only_what_is_shown_is_compared(house: House) -> None:
    republished(house, 3)
    every = record_history(house, ALPHA)
    assert [one.seq for one in every] == [4, 3, 2, 1]
    for offset in range(4):
        assert history_part(house, ALPHA, offset, 2) == (every[offset : offset + 2], 4)
    assert history_part(house, ALPHA, 9, 2) == ((), 4)


def test_of_a_past_edition_only_what_is_shown_is_read(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    republished(house, 1)
    seen: list[bytes] = []
    real = past._named

    def named(content: bytes) -> tuple[str, str]:
        seen.append(content)
        return real(content)

    monkeypatch.setattr(past, "_named", named)
    part = catalogue(house, CatalogueAsked(edition=1, offset=1, limit=1))
    assert ([row.code for row in part.rows], part.total, len(seen)) == (CODES[1:2], 3, 1)
    monkeypatch.setattr(past, "_whole", Remembered(past.MOST_KEPT))
    titled = catalogue(house, CatalogueAsked(edition=1, sort="title", limit=2))
    assert (len(titled.rows), titled.total, len(seen)) == (2, 3, 4)
    assert catalogue(house, CatalogueAsked(edition=1, words="kella")).total == 1
    assert len(seen) == 4  # kept: an edition never changes
    assert [row.subtitle for row in titled.rows] != [
        row.subtitle for row in catalogue(house, CatalogueAsked()).rows[:2]
    ]


def test_the_watch_list_is_parted_narrowed_and_sorted(house: House) -> None:
    for code in (ALPHA, BRAVO, BRAVO):
        watch(house, STEWARD, WatchAsked(code, "ondru hatchback"))
    part, total = watched_part(house, WatchedAsked(sort="newest", offset=1, limit=1))
    assert ([one.number for one in part], total) == ([2], 3)
    part, total = watched_part(house, WatchedAsked("kella"))
    assert ([one.code for one in part], total) == ([ALPHA], 1)


def test_ages_are_left_for_the_next_process(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(record_ages, "WORTH_KEEPING", 2)
    made = ages_of(house)
    assert made.keys() == set(CODES)
    record_ages._ages.cache_clear()
    record_ages._known.clear()
    monkeypatch.setattr(record_ages, "_of", lambda *_: pytest.fail("reckoned again"))
    assert ages_of(house) == made


def test_ages_of_another_program_or_a_damaged_file_are_reckoned_anew(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(record_ages, "WORTH_KEEPING", 2)
    made = ages_of(house)
    kept = house.settings.data / record_ages.FILE
    for content in ("{", kept.read_text("utf-8").replace(program(), "0" * 64)):
        kept.write_text(content, "utf-8")
        record_ages._ages.cache_clear()
        record_ages._known.clear()
        assert record_ages._read(kept) == {}
        assert ages_of(house) == made


def test_briefs_that_are_not_shown_cost_no_statement(house: House) -> None:
    path = "ports[a].place"
    for _ in range(3):
        compose_brief(house, STEWARD, BriefAsked(codes=(ALPHA,)))
    with statements(house) as of_one:
        first = shown_part(house, STEWARD, ShownAsked(ALPHA, path, limit=1))
    compose_brief(house, STEWARD, BriefAsked(codes=(ALPHA,)))
    with statements(house) as of_more:
        again = shown_part(house, STEWARD, ShownAsked(ALPHA, path, offset=1, limit=1))
    assert (first.brief_count, again.brief_count) == (3, 4)
    assert [one.id for one in again.briefs] == [one.id for one in first.briefs]
    assert len(of_one) == len(of_more)


def test_accepting_the_rest_is_one_statement_however_many(house: House) -> None:
    number = brought(house)
    with statements(house) as asked:
        assert accept_rest(house, APPROVER, number, critical=True).accepted == 3
    assert sum("INSERT INTO update_decisions" in one for one in asked) == 1


def test_the_list_opens_where_the_record_stands(house: House) -> None:
    number = brought(house)
    view = read_update(house, STEWARD, number, RecordsAsked(sort="code", limit=1, beside=CODES[1]))
    assert (view.offset, [one.code for one in view.lines], view.undecided) == (1, CODES[1:2], (CODES[1], CODES[2]))
    last = read_update(house, STEWARD, number, RecordsAsked(sort="code", limit=1, beside=CODES[2]))
    assert last.undecided == (CODES[2], CODES[0])
    away = read_update(house, STEWARD, number, RecordsAsked(words="no such", limit=1, beside=CODES[2]))
    assert (away.offset, away.total, len(away.undecided)) == (0, 0, 2)


def test_findings_are_parted_and_narrowed(house: House) -> None:
    found = (finding(1, "blocks"), *(finding(n, "note", CODES[0] if n == 5 else "") for n in range(2, 9)))
    number = brought(house, found)
    part = read_findings(house, STEWARD, number, FindingsAsked("note", offset=6, limit=3))
    assert ([one["found"] for one in part.findings], part.total, dict(part.counts)) == (
        ["thing 8"],
        7,
        {"blocks": 1, "note": 7},
    )
    part = read_findings(house, STEWARD, number, FindingsAsked(words="b5"))
    assert ([one["cell"] for one in part.findings], set(part.changed)) == (["B5"], {CODES[0]})


def form_of(page: str, do: str) -> str:
    """Where the form with a button is posted."""
    found = re.search(rf'<form[^>]*method="post" action="([^"]*)"(?:(?!</form>).)*value="{do}"', page, re.DOTALL)
    assert found is not None, do
    return found[1].replace("&amp;", "&")


def test_what_was_chosen_holds_after_a_decision(app: Flask) -> None:
    number = brought(app.extensions["chockbook"])
    client = signed_in(app, SOME)
    asked = f"/steward/updates/{number}?state=open&sort=code&page=2"
    page = client.get(asked).text
    assert "<b>Ondru" in page
    where = form_of(page, "accept")
    token = csrf(client, asked)
    whole = re.search(r'name="of" value="(\w+)">\s*<div class="buttons">', page)
    assert whole is not None
    answer = client.post(where, data={"csrf_token": token, "do": "accept", "of": whole[1]})
    assert answer.status_code == 303
    assert answer.headers["Location"].startswith(f"/steward/updates/{number}?state=open&sort=code&page=2&record=")
    after = client.get(answer.headers["Location"]).text
    assert "2 records; safety-critical" in after
    onward = re.search(r'href="([^"]*)">Next record', after)
    assert onward is not None
    assert "state=open" in onward[1]
    assert "sort=code" in onward[1]
    assert "page=" not in onward[1]  # the list opens where that record stands
    refused = client.post(where, data={"csrf_token": token, "do": "comment"})
    assert (refused.status_code, f'href="/steward/updates/{number}?' in refused.text) == (400, True)


@pytest.mark.parametrize(
    "path", ["/editions", "/editions/1/changes?to=2", f"/records/{ALPHA}/history", "/records?edition=1"]
)
def test_a_filter_goes_from_page_to_page(app: Flask, path: str) -> None:
    republished(app.extensions["chockbook"], 2)
    client = signed_in(app, SOME)
    first = client.get(f"{path}{'&' if '?' in path else '?'}words=").text
    nav = re.search(r'<nav class="foot pages".*?</nav>', first, re.DOTALL)
    assert nav is not None
    assert "page=2" in nav[0]
    assert '<input type="hidden" name="words" value="">' in nav[0]
    behind = client.get(f"{path}{'&' if '?' in path else '?'}page=90")
    assert behind.status_code == 200
    assert re.search(r'<a href="[^"]*page=[23]">previous</a>', behind.text)


def test_of_many_findings_those_of_the_record_stand_beside_it(app: Flask) -> None:
    house: House = app.extensions["chockbook"]
    found = tuple(finding(n, "note", CODES[1] if n == 7 else "") for n in range(1, 30))
    number = brought(house, found)
    client = signed_in(app, SOME)
    page = client.get(f"/steward/updates/{number}?record={CODES[1]}").text
    assert ("thing 7<" in page, "thing 8<" in page, "All 29 findings" in page) == (True, False, True)
    every = client.get(f"/steward/updates/{number}/findings?words=thing+7")
    assert f'href="/steward/updates/{number}?record={CODES[1]}"' in every.text
    assert client.get(f"/steward/updates/{number}/findings?severity=bad").status_code == 400


def test_the_stewards_page_shows_the_last_changes_and_editions_alone(app: Flask) -> None:
    from catalog.web.pages import editions as pages

    house: House = app.extensions["chockbook"]
    republished(house, pages.LAST + 2)
    page = signed_in(app, SOME).get("/steward").text
    assert page.count("/changes?to=") <= pages.LAST + 3
    assert f"All {pages.LAST + 3} editions" in page


def test_what_updates_add_up_is_read_from_an_index(house: House) -> None:
    number = brought(house)
    with read(house.engine) as conn, statements(house) as asked:
        update_lines(conn, number)
    summed = next(one for one in asked if "sum(" in one)
    with read(house.engine) as conn:
        plan = conn.exec_driver_sql(f"EXPLAIN QUERY PLAN {summed}", (number,)).all()
    assert any("COVERING INDEX ix_update_records_summed" in str(step) for step in plan)


def test_nothing_is_worked_out_of_records_nobody_decided_of(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    number = brought(house)
    monkeypatch.setattr(review_matters, "whole_of", lambda *_: pytest.fail("named"))
    assert read_update(house, STEWARD, number, RecordsAsked()).states == {"open": 3}


def test_a_line_of_a_file_of_documents_is_no_cell() -> None:
    assert [cell_words(one) for one in ("a.jsonl!9:0", "ports!2:4")] == ["a.jsonl, line 9", "ports, cell D2"]
