"""Lists too long for one page: parted, narrowed, sorted, and no more is worked out than is shown."""

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any
from urllib.parse import urljoin

import pytest
from flask import Flask
from sqlalchemy import event

from catalog.app import create_app
from catalog.compiled.program import program
from catalog.domain.delta import RecordDelta, difference
from catalog.domain.record import Record
from catalog.domain.roles import Role
from catalog.errors import BadInput, NotFound
from catalog.services import candidates, editions, record_ages, review_matters, update_standings, work_entries
from catalog.services import catalogue as past
from catalog.services import sources as sources_service
from catalog.services.briefs import BriefAsked, compose_brief
from catalog.services.candidates import outline_of
from catalog.services.catalogue import CatalogueAsked, catalogue
from catalog.services.compiling import compile_latest
from catalog.services.counting import flush_counts
from catalog.services.crew_reports import Reported, report
from catalog.services.doubting import doubt
from catalog.services.editions import ChangesAsked, changes_part
from catalog.services.house import House, open_house
from catalog.services.proposing import Proposed, ProposedRecord, file_hash, propose
from catalog.services.record_ages import Ages
from catalog.services.record_ages import record_ages as ages_of
from catalog.services.records import history_part, record_history
from catalog.services.remembered import Remembered
from catalog.services.review_matters import Standing
from catalog.services.reviewing import Judgement, accept_rest, decide
from catalog.services.shown import ShownAsked, shown_part
from catalog.services.sources import FileGiven, SourcesAsked, keep_file, list_sources
from catalog.services.unread import often_unread
from catalog.services.update_findings import FindingsAsked, read_findings
from catalog.services.update_reading import RecordsAsked, cell_words, read_change, read_update
from catalog.services.update_standings import RecordLine
from catalog.services.updates import waiting
from catalog.services.watch_list import WatchAsked, WatchedAsked, watch, watched_part
from catalog.services.work_list import WorkAsked, close_work, list_work
from catalog.store.engine import read, write
from catalog.store.publish import Publication, publish
from catalog.store.unread import count
from catalog.store.updates import update_lines
from catalog.web import paging
from tests.integration.conftest import Filled
from tests.integration.review_samples import APPROVER, STEWARD, document, listed, source, three_records
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


def test_nobody_waits_long_for_ages_that_are_being_reckoned(app: Flask, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(record_ages, "LONGEST_WAIT", 0.0)
    client = signed_in(app, SOME)
    with record_ages._lock:
        answer = client.get("/steward/sources/old")
    assert (answer.status_code, "reckoned anew" in answer.text) == (503, True)
    assert client.get("/steward/sources/old").status_code == 200


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


@pytest.mark.parametrize(
    "path",
    [
        "/editions?words=year", "/editions/1/changes?to=2", f"/records/{ALPHA}/history", "/records?edition=1",
        "/records", "/steward", "/steward/updates", "/steward/updates/1?sort=code", "/steward/updates/1/findings",
        "/steward/sources", "/steward/sources/old?years=0", "/steward/work?years=0", "/steward/watch",
        "/steward/sayings?words=a", "/steward/unread", f"/records/{ALPHA}/doubt", "/steward/trail",
    ],
)  # fmt: skip
def test_a_page_behind_the_end_leads_to_the_last_one(app: Flask, path: str) -> None:
    house: House = app.extensions["chockbook"]
    republished(house, 2)
    brought(house, tuple(finding(n, "note") for n in range(3)))
    watch(house, STEWARD, WatchAsked(ALPHA, "ondru hatchback"))
    watch(house, STEWARD, WatchAsked(BRAVO, "ondru hatchback"))
    with write(house.engine) as conn:
        count(conn, {"1" * 64: ("prang", 3), "2" * 64: ("zorble", 4)})
    client = signed_in(app, OTHER)
    begun = f"{path}{'&' if '?' in path else '?'}page="
    answer = client.get(f"{begun}900")
    assert answer.status_code == 303
    last = answer.headers["Location"]
    shown = client.get(urljoin(path, last))
    assert shown.status_code == 200
    number = int(last.rpartition("page=")[2])
    assert f'value="{number}" inputmode="numeric"' in shown.text or number == 1  # of one page there is no way on
    assert ">next</a>" not in shown.text


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


def test_doubts_are_counted_and_narrowed(app: Flask) -> None:
    house: House = app.extensions["chockbook"]
    for path, reason in (("ports[a].place", "On the other side."), ("looks.body", "It was a van.")):
        doubt(house, STEWARD, ALPHA, path, reason)
    client = signed_in(app, SOME)
    every = client.get("/steward/doubts").text
    assert ("2 doubts, page 1 of 2" in every, "It was a van." in every) == (True, True)  # the newest first
    found = client.get("/steward/doubts?words=OTHER+port").text
    assert ("1 doubt<" in found, "On the other side." in found, "It was a van." in found) == (True, True, False)
    assert "None with these words." in client.get("/steward/doubts?words=nothing").text


def test_the_stewards_page_says_how_many_updates_wait(app: Flask) -> None:
    house: House = app.extensions["chockbook"]
    revision = listed(house, ALPHA).hash
    for number in range(12):
        less = {"cutoff.methods.1.wait.value": 30} if number == 0 else {}
        changed = document(ALPHA, {"identity.years.from": 1990 + number, **less})
        told = ProposedRecord(ALPHA, revision, changed, "Reissued.")
        propose(house, STEWARD, Proposed(f"{number}.xlsx", file_hash(b"%d" % number), "import", (told,)))
    found, total = waiting(house, APPROVER)
    assert (len(found), total) == (10, 12)
    assert (found[0].summary.name, found[0].summary.less) == (
        "0.xlsx",
        1,
    )  # the oldest, and the one that takes caution away
    page = signed_in(app, SOME).get("/steward").text
    assert "10 of 12 open guide updates" in page


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


def test_a_decision_works_out_its_record_alone(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    number = brought(house)
    read_update(house, STEWARD, number, RecordsAsked())
    worked: list[str] = []
    real = update_standings._line

    def noted(one: Standing) -> RecordLine:
        worked.append(one.line.code)
        return real(one)

    monkeypatch.setattr(update_standings, "_line", noted)
    with statements(house) as asked:
        assert read_update(house, STEWARD, number, RecordsAsked()).states == {"open": 3}
    assert not [one for one in asked if "update_records.place" in one]
    of = read_change(house, STEWARD, number, CODES[1]).record.of
    decide(house, APPROVER, Judgement(number, CODES[1], "reject", None, "", of))
    view = read_update(house, STEWARD, number, RecordsAsked())
    assert (worked, view.states) == ([CODES[1]], {"open": 2, "rejected": 1})
    assert [one.code for one in view.lines if one.state == "rejected"] == [CODES[1]]
    assert read_update(house, STEWARD, number, RecordsAsked("open", words="ondru")).total == 2
    republished(house, 1)
    moved = read_update(house, STEWARD, number, RecordsAsked(only="moved"))
    assert (moved.total, len(worked)) == (3, 4)  # another edition: all of them


def test_many_decisions_at_once_are_worked_out_together(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    number = brought(house)
    monkeypatch.setattr(update_standings, "MOST_ALONE", 2)
    read_update(house, STEWARD, number, RecordsAsked())
    accept_rest(house, APPROVER, number, critical=True)
    assert read_update(house, STEWARD, number, RecordsAsked()).states == {"accepted": 3}


def test_what_an_update_cites_is_read_once(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    document_read: list[int] = []
    real = candidates._cited

    def noted(document: candidates.Document) -> set[str]:
        document_read.append(1)
        return real(document)

    monkeypatch.setattr(candidates, "_cited", noted)
    sources = {f"ZQ-{n}/1": {**source(), "number": f"ZQ-{n}"} for n in range(2)}
    record = document(ALPHA, {"looks.body.value": "saloon", "looks.body.src": ["ZQ-0/1:2"]})
    proposed = (
        ProposedRecord(ALPHA, listed(house, ALPHA).hash, record, "Reissued."),
        ProposedRecord(BRAVO, listed(house, BRAVO).hash, document(BRAVO, {"looks.body.value": "saloon"}), "Reissued."),
    )
    number = int(propose(house, STEWARD, Proposed("a.xlsx", file_hash(b"b"), "import", proposed, sources=sources)))
    with read(house.engine) as conn:
        assert outline_of(conn, [number]).records == 0  # the guide that no record cites could be published
        assert len(document_read) == 1  # of two records the one that holds the name of a guide
        found = candidates.candidate_of(conn, [number])
    assert (set(found.sources), len(document_read)) == ({"ZQ-1/1"}, 1)


def test_an_outline_names_what_the_candidate_is_without_reading_it(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    cites = document(ALPHA, {"looks.body.value": "saloon", "looks.body.src": ["ZQ-0/1:2"]})
    other = document(BRAVO, {"looks.body.value": "saloon", "looks.body.src": ["ZQ-1/1:2"]})
    records = (
        ProposedRecord(ALPHA, listed(house, ALPHA).hash, cites, "Reissued."),
        ProposedRecord(BRAVO, listed(house, BRAVO).hash, other, "Reissued."),
        ProposedRecord(CHARLIE, listed(house, CHARLIE).hash, None, "Wrong cut point."),
    )
    sources = {f"ZQ-{n}/1": {**source(), "number": f"ZQ-{n}"} for n in range(3)}
    number = int(propose(house, STEWARD, Proposed("a.xlsx", file_hash(b"c"), "import", records, sources=sources)))
    for code in (ALPHA, CHARLIE):
        of = read_change(house, APPROVER, number, code).record.of
        decide(house, APPROVER, Judgement(number, code, "accept", None, "", of))
    with read(house.engine) as conn:
        whole = candidates.candidate_of(conn, [number])
        monkeypatch.setattr(candidates, "changes_of", lambda *_: pytest.fail("read"))
        assert outline_of(conn, [number]) == whole.outline
    assert set(whole.sources) == {"ZQ-0/1", "ZQ-2/1"}  # cited by what is accepted, and by no record at all
    assert (set(whole.records), set(whole.withdrawn)) == ({ALPHA}, {CHARLIE})


def test_that_nothing_is_accepted_is_found_once(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    number = brought(house)
    with read(house.engine) as conn:
        with pytest.raises(BadInput):
            outline_of(conn, [number])
        monkeypatch.setattr(candidates, "_gather", lambda *_, **__: pytest.fail("gathered again"))
        with pytest.raises(BadInput):
            outline_of(conn, [number])


def test_a_difference_and_its_order_are_found_once(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    republished(house, 1)
    first = changes_part(house, 1, 2, ChangesAsked(limit=2))
    monkeypatch.setattr(editions, "changes", lambda *_: pytest.fail("compared again"))
    monkeypatch.setattr(editions, "difference", lambda *_: pytest.fail("compared again"))
    assert changes_part(house, 1, 2, ChangesAsked(limit=2)) == first
    monkeypatch.undo()
    with pytest.raises(NotFound, match="no edition 9"):
        changes_part(house, 1, 9, ChangesAsked())
    with pytest.raises(NotFound, match="no edition 9"):
        changes_part(house, 9, 0, ChangesAsked())
    assert changes_part(house, 1, 0, ChangesAsked()).counts["record"] == 3


def test_guides_are_read_once_an_edition(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    rows = list_sources(house, SourcesAsked())
    monkeypatch.setattr(sources_service, "source_from_document", lambda *_: pytest.fail("read again"))
    keep_file(house, STEWARD, FileGiven(rows[0].key, "guide.pdf", b"%PDF-1.7 invented", stated_anew=True))
    again = list_sources(house, SourcesAsked())
    assert [row.key for row in again] == [row.key for row in rows]
    assert (rows[0].file, bool(again[0].file)) == ("", True)


def noting(made: list[str], name: str, real: Callable[..., Any]) -> Callable[..., Any]:
    def noted(*given: Any) -> Any:
        made.append(name)
        return real(*given)

    return noted


def test_entries_of_the_work_list_are_made_once(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    house.counts.note_opened(ALPHA)
    flush_counts(house)
    first = list_work(house, STEWARD, WorkAsked(years=0))
    assert {one.kind for one in first} >= {"stale"}
    made: list[str] = []
    for name in ("_reports", "_cue_sets", "_stale", "_silent"):
        monkeypatch.setattr(work_entries, name, noting(made, name, getattr(work_entries, name)))
    assert list_work(house, STEWARD, WorkAsked(years=0)) == first
    assert made == []
    report(house, Reported("r" * 24, ALPHA, "", listed(house, ALPHA).hash, "The badge reads otherwise.", "d" * 24))
    later = list_work(house, STEWARD, WorkAsked(years=0))
    assert ([one.kind for one in later if one not in first], made) == (["report"], ["_reports"])
    house.counts.note_opened(BRAVO)
    flush_counts(house)
    list_work(house, STEWARD, WorkAsked(years=0))
    assert made == ["_reports", "_silent"]
    stale = next(one for one in later if one.kind == "stale")
    close_work(house, STEWARD, stale.kind, stale.key, "Seen.")
    assert stale.key not in {one.key for one in list_work(house, STEWARD, WorkAsked("stale", years=0))}


def test_no_list_of_the_work_ends_without_saying_so(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    with write(house.engine) as conn:
        count(conn, {f"{n:064}": (f"word{n}", 3 + n % 5) for n in range(301)})
    assert len(list_work(house, STEWARD, WorkAsked("unread"))) == 301
    found, total = often_unread(house, 50, 250)
    assert (len(found), total) == (50, 301)
    found, total = often_unread(house, 50, part="D30")
    assert ([one.word for one in found], total) == (["word30", "word300"], 2)
    assert often_unread(house, 50, part="%") == ((), 0)
    silent = Ages("Vehicle", 3, 0, {}, {}, 1, 5)
    codes = {f"code-{n}": 1 + n for n in range(300)}

    class Listed:
        def revision(self, code: str) -> tuple[str, int]:
            return "0" * 64, 1

    entries = list(work_entries._silent(Listed(), dict.fromkeys(codes, silent), codes))  # type: ignore[arg-type]
    assert len(entries) == 300


def test_the_api_hands_out_histories_and_differences_in_parts(app: Flask, monkeypatch: pytest.MonkeyPatch) -> None:
    house: House = app.extensions["chockbook"]
    republished(house, 3)
    client = app.test_client()
    compared: list[str] = []
    monkeypatch.setattr(editions, "difference", noting(compared, "difference", difference))

    def parts(path: str, rows: str) -> list[Any]:
        begun = f"/api/v1{path}{'&' if '?' in path else '?'}"
        whole = client.get(f"{begun}limit=200").get_json()
        assert whole["total"] == len(whole[rows]) > 2
        taken = [
            row
            for offset in range(0, whole["total"] + 2, 2)
            for row in client.get(f"{begun}offset={offset}&limit=2").get_json()[rows]
        ]
        assert taken == whole[rows]
        assert client.get(f"{begun}limit=0").status_code == 400
        assert client.get(f"{begun}offset=900000").get_json()[rows] == []
        return taken

    assert [one["number"] for one in parts("/editions", "editions")] == [4, 3, 2, 1]
    assert [one["seq"] for one in parts(f"/records/{ALPHA}/history", "revisions")] == [4, 3, 2, 1]
    changed = parts("/editions/1/changes?to=4", "changes")
    assert [one["key"] for one in changed if one["kind"] == "record"] == CODES
    compared.clear()
    client.get("/api/v1/editions/1/changes?to=4&limit=1")
    assert compared == ["difference"]
    lines = client.get("/api/v1/editions/1/changes/file?to=4").get_json()["lines"]
    assert (
        sorted(one["key"] for one in lines if one.get("kind") == "record") == CODES
    )  # what other sites follow is whole
    for day, body in enumerate(("saloon", "pickup", "van"), 9):
        with write(house.engine) as conn:
            changed_body = {ALPHA: document(ALPHA, {"looks.body.value": body})}
            publish(conn, Publication("ada.quill", body, changed_body), DAY * day)
    steps = parts(f"/records/{ALPHA}/fact?path=looks.body", "steps")
    assert [one["reason"] for one in steps][:3] == ["van", "pickup", "saloon"]
