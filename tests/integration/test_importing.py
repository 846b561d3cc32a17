"""Guide updates from files, held against a published catalogue and sent to review."""

import hashlib
import io
import json
from collections.abc import Iterator
from copy import deepcopy
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from catalog.config import Settings
from catalog.domain import codes
from catalog.domain.canonical import content_hash
from catalog.domain.roles import Role
from catalog.errors import Forbidden, NotSignedIn
from catalog.intake.book import write_workbook
from catalog.intake.finding import Severity
from catalog.intake.mapping import RecordRows
from catalog.intake.rows import rows_of, source_rows
from catalog.services.acting import actor_of
from catalog.services.exporting import Form, export_records
from catalog.services.house import House, open_house
from catalog.services.importing import BroughtFile, check_update, marked_file, propose_checked, propose_update
from catalog.services.importing_views import CheckedUpdate, Outcome
from catalog.store.engine import write
from catalog.store.publish import Publication, publish
from seed_demo import load
from tests.integration.conftest import Filled
from tests.unit.hostile_files import workbook

STEWARD = actor_of("tamsin.orrell", Role.STEWARD, "test")
ROOT = Path(__file__).parents[2]
MAKE = "Quellorne"
Document = dict[str, Any]


@cache
def of_one_maker() -> tuple[dict[str, Document], dict[str, Document]]:
    """Records by code, and the sources they cite."""
    records: dict[str, Document] = {}
    sources: dict[str, Document] = {}
    for edition in load().editions:
        records |= {code: dict(one) for code, one in edition.records.items() if one["identity"]["make"] == MAKE}
        sources |= {key: dict(one) for key, one in edition.sources.items() if key.startswith("QLN")}
    return records, sources


def published(house: House) -> None:
    """One maker's records, published but not compiled."""
    records, sources = of_one_maker()
    with write(house.engine) as conn:
        publish(conn, Publication("A. Steward", "All of one maker.", records, sources=sources), 1_000_000)


@pytest.fixture
def house(filled: Filled) -> Iterator[House]:
    made = open_house(filled(published))
    yield made
    made.engine.dispose()


@pytest.fixture
def empty(database_url: str, tmp_path: Path) -> Iterator[House]:
    made = open_house(Settings(data=tmp_path, database_url=database_url))
    yield made
    made.engine.dispose()


def exported(house: House) -> list[Document]:
    return list(export_records(house, STEWARD, Form.JSONL))


def lines(documents: list[Document], name: str = "update.jsonl") -> BroughtFile:
    return BroughtFile(name, "\n".join(json.dumps(one) for one in documents).encode())


def book(documents: list[Document]) -> BroughtFile:
    made = io.BytesIO()
    rows = (
        row
        for one in documents
        for row in (source_rows(one["document"]) if one["kind"] == "source" else rows_of(one["key"], one["document"]))
    )
    write_workbook(rows, made)
    return BroughtFile("update.xlsx", made.getvalue())


def sheets(**content: list[list[object]]) -> BroughtFile:
    return BroughtFile("update.xlsx", workbook({name.replace("_", " "): rows for name, rows in content.items()}))


def counts(checked: CheckedUpdate) -> dict[str, int]:
    return {name: number for name, number in checked.counts.items() if number}


def said(checked: CheckedUpdate, severity: Severity) -> list[tuple[str, str]]:
    return [(one.record, one.path) for one in checked.findings if one.severity is severity]


def of(house: House, code: str) -> Document:
    [found] = [one["document"] for one in exported(house) if one["key"] == code]
    assert isinstance(found, dict)
    return found


@pytest.mark.parametrize("form", [lines, book])
def test_an_export_brought_back_changes_nothing(house: House, form: Any) -> None:
    checked = check_update(house, form(exported(house)))
    assert counts(checked) == {"unchanged": 5}
    assert not checked.records
    assert not checked.findings
    assert checked.is_empty


def test_rows_as_they_are_listed_are_not_read(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    update = book(exported(house))
    monkeypatch.setattr(RecordRows, "read", None)
    assert counts(check_update(house, update)) == {"unchanged": 5}


def test_a_cell_nobody_can_read_blocks_a_record_that_is_as_listed_otherwise(house: House) -> None:
    given = openpyxl.load_workbook(io.BytesIO(book(exported(house)).data))
    headings = [cell.value for cell in given["ports"][1]]
    code = given["ports"].cell(2, headings.index("code") + 1).value
    given["ports"].cell(2, headings.index("action") + 1).value = "=1+1"
    held = io.BytesIO()
    given.save(held)
    checked = check_update(house, BroughtFile("update.xlsx", held.getvalue()))
    assert counts(checked) == {"unchanged": 4, "left_out": 1}
    assert [record.code for record in checked.records] == [code]


@pytest.mark.parametrize("form", [lines, book])
def test_an_export_brought_into_an_empty_catalogue_is_the_same_documents(
    house: House, form: Any, tmp_path: Path
) -> None:
    documents = exported(house)
    other = open_house(Settings(data=tmp_path, database_url=f"sqlite:///{tmp_path / 'other.db'}"))
    from catalog.store.migrate import upgrade

    upgrade(other.engine)
    checked = check_update(other, form(documents))
    other.engine.dispose()
    assert counts(checked) == {"added": 5, "sources": len(documents) - 5}
    hashes = {one["key"]: content_hash(one["document"]) for one in documents}
    for one in checked.records:
        assert one.document is not None
        assert content_hash(dict(one.document)) == hashes[one.code]


def test_one_cell_changed_is_one_change(house: House) -> None:
    update = sheets(ports=[["code", "charge port id", "covered by", "source"], ["QPW-TF3", "a", "lamp", "QLN-118/2:8"]])
    checked = check_update(house, update)
    assert counts(checked) == {"changed": 1}
    [record] = checked.records
    assert record.document is not None
    assert record.changes == 1
    assert dict(record.cells) == {"ports[a].cover": "ports!2:3"}
    before, after = of(house, "QPW-TF3"), deepcopy(dict(record.document))
    assert after["ports"][0].pop("cover") == {"value": "lamp", "src": ["QLN-118/2:8"]}
    before["ports"][0].pop("cover")
    assert after == before


def test_part_of_a_document_changes_only_that(house: House) -> None:
    said_now = {"value": 3, "src": ["QLN-118/2:10"]}
    changes = {
        "cutoff": {"methods": [{"id": "loop", "cuts": said_now}, {"id": "hvplug", "remove": True}]},
        "motion": "NOT STATED",
    }
    checked = check_update(house, lines([{"key": "QPW-TF3", "changes": changes}]))
    [record] = checked.records
    assert record.document is not None, checked.findings
    after = dict(record.document)
    assert [one["id"] for one in after["cutoff"]["methods"]] == ["loop", "negative"]
    assert after["cutoff"]["methods"][0]["cuts"] == said_now
    assert "motion" not in after
    assert after["ports"] == of(house, "QPW-TF3")["ports"]


def test_the_demo_update_is_told_what_is_wrong_with_it(house: House) -> None:
    """A moved cut point, a wrong unit, an unknown connector, a typed dash, a stale source and a duplicate."""
    path = ROOT / "seed_demo/updates/quellorne-2026-10.xlsx"
    checked = check_update(house, BroughtFile(path.name, path.read_bytes()))
    assert counts(checked) == {"changed": 2, "left_out": 4, "sources": 1}
    assert sorted(said(checked, Severity.BLOCKS)) == [
        ("8ZC-HQF", "energy.packs[seat].voltage"),
        ("JNB-ZJC", "energy.low_voltage[main].voltage"),
        ("NQC-CPD", "ports[a].standard"),
        ("Quellorne Brantock", "identity"),
    ]
    [stale] = [one for one in checked.findings if one.severity is Severity.LOOK]
    assert (stale.record, stale.path) == ("QPW-TF3", "cutoff.methods[loop].opening")
    assert "QLN-118/1:10" in stale.found
    assert "issue 1 is older" in stale.allowed
    assert "QLN-118/2:10" in stale.allowed
    moved = next(one for one in checked.records if one.code == "KDF-F3R")
    assert "cutoff.methods[loop].place" in moved.cells
    marked = marked_file(BroughtFile(path.name, path.read_bytes()), checked.findings)
    again = check_update(house, BroughtFile("marked.xlsx", marked))
    assert counts(again) == counts(checked)


def test_the_corrected_demo_update_goes_to_review(house: House) -> None:
    path = ROOT / "seed_demo/updates/quellorne-2026-10-corrected.xlsx"
    file = BroughtFile(path.name, path.read_bytes())
    with pytest.raises(NotSignedIn):
        propose_update(house, None, file)
    with pytest.raises(Forbidden):
        propose_update(house, actor_of("r", Role.READER, "test"), file)
    first = propose_update(house, STEWARD, file)
    assert counts(first) == {"changed": 3, "sources": 1}
    assert first.update
    assert propose_update(house, STEWARD, file).update == first.update


def test_what_is_blocked_stays_out_and_the_rest_goes_on(house: House) -> None:
    path = ROOT / "seed_demo/updates/quellorne-2026-10.xlsx"
    sent = propose_update(house, STEWARD, BroughtFile(path.name, path.read_bytes()))
    assert sent.update
    assert {one.code for one in sent.proposable} == {"KDF-F3R", "QPW-TF3"}


def test_nothing_to_send_is_not_sent(house: House) -> None:
    sent = propose_update(house, STEWARD, lines(exported(house)))
    assert sent.update == ""
    assert sent.is_empty


def new_record(house: House, **identity: Any) -> Document:
    made = of(house, "QPW-TF3")
    made["identity"] = {**made["identity"], "vins": ["DN1ZZ9KE?N???????"], **identity}
    made["identity"].pop("replaced_by", None)
    return made


def test_a_new_record_gets_a_code_when_it_is_proposed_and_the_same_one_again(house: House) -> None:
    file = lines([new_record(house, model="Tollmarrow")])
    checked = check_update(house, file)
    assert counts(checked) == {"added": 1}
    [record] = checked.records
    assert record.code == ""
    one, two = (propose_checked(house, STEWARD, checked, file).records[0].code for _ in range(2))
    assert one == two == codes.parse(one)


def test_without_a_code_the_same_vehicle_is_found_and_said(house: House) -> None:
    same = of(house, "QPW-TF3")
    checked = check_update(house, lines([same]))
    assert counts(checked) == {"unchanged": 1}
    assert "taken as QPW-TF3" in checked.findings[0].allowed
    assert checked.findings[0].severity is Severity.NOTE


def test_what_is_only_like_a_listed_one_is_shown_and_not_joined(house: House) -> None:
    near = new_record(house, years={"from": 2020, "to": 2021}, vins=["DN1BT4KE?N???????"])
    checked = check_update(house, lines([near]))
    assert counts(checked) == {"added": 1}
    assert ("Quellorne Brantock", "identity.vins") in said(checked, Severity.LOOK)


def test_duplicates_in_a_file_are_left_out_and_near_ones_shown(house: House) -> None:
    one = new_record(house, model="Tollmarrow")
    near = new_record(house, model="Tollmarow")
    checked = check_update(house, lines([one, one, near]))
    assert counts(checked) == {"added": 2, "left_out": 1}
    assert said(checked, Severity.BLOCKS) == [("Quellorne Tollmarrow", "identity")]
    assert ("Quellorne Tollmarow", "identity") in said(checked, Severity.LOOK)
    twice = {"key": "QPW-TF3", "changes": {"motion": "NOT STATED"}}
    both = check_update(house, lines([twice, {"key": "QPW-TF3", "changes": {"access": "NOT STATED"}}]))
    assert counts(both) == {"left_out": 2}


def test_another_source_that_says_otherwise_is_told_and_can_be_kept_as_disputed(house: House) -> None:
    voltage = {"value": 400, "src": ["QLN-131/1:3"]}
    change = {"key": "QPW-TF3", "changes": {"energy": {"packs": [{"id": "floor", "voltage": voltage}]}}}
    file = lines([change])
    path = "energy.packs[floor].voltage"
    checked = check_update(house, file)
    assert said(checked, Severity.LOOK) == [("QPW-TF3", path)]
    assert "another source says" in checked.findings[0].allowed
    kept = check_update(house, replace(file, disputed=frozenset({f"QPW-TF3:{path}"})))
    [record] = kept.records
    assert record.document is not None
    sides = record.document["energy"]["packs"][0]["voltage"]["disputed"]
    before = of(house, "QPW-TF3")["energy"]["packs"][0]["voltage"]
    assert sides == [before, voltage]
    assert said(kept, Severity.NOTE) == [("QPW-TF3", path)]


def test_a_cited_page_that_is_not_there_blocks(house: House) -> None:
    fact = {"value": 3, "src": ["NOT-THERE/1:4"]}
    checked = check_update(
        house, lines([{"key": "QPW-TF3", "changes": {"cutoff": {"methods": [{"id": "loop", "cuts": fact}]}}}])
    )
    assert counts(checked) == {"left_out": 1}
    assert said(checked, Severity.BLOCKS) == [("QPW-TF3", "cutoff.methods[loop].cuts.src")]


def test_a_source_is_never_said_otherwise_than_published(house: House) -> None:
    source = next(one for one in exported(house) if one["key"] == "QLN-118/2")
    changed = {**source, "document": {**source["document"], "pages": 30}}
    checked = check_update(house, lines([changed]))
    assert counts(checked) == {}
    assert "never changes" in checked.findings[0].allowed


def test_do_not_use_needs_a_reason(house: House) -> None:
    asked = {"key": "QPW-TF3", "action": "do not use"}
    assert counts(check_update(house, lines([asked]))) == {"left_out": 1}
    told = check_update(house, lines([asked | {"reason": "The guide was recalled."}]))
    assert counts(told) == {"withdrawn": 1}
    assert propose_checked(house, STEWARD, told, lines([asked | {"reason": "The guide was recalled."}])).update


def test_a_formula_leaves_its_record_out(house: House) -> None:
    update = sheets(
        ports=[
            ["code", "charge port id", "covered by", "source"],
            ["QPW-TF3", "a", '=CONCAT("la","mp")', "QLN-118/2:8"],
            ["KDF-F3R", "a", "lamp", "QLN-118/2:8"],
        ]
    )
    checked = check_update(house, update)
    assert counts(checked) == {"changed": 1, "left_out": 1}
    assert next(one.code for one in checked.records if one.outcome is Outcome.LEFT_OUT) == "QPW-TF3"


def test_a_heading_twice_leaves_out_every_record_of_its_sheet(house: House) -> None:
    update = sheets(
        ports=[
            ["code", "charge port id", "covered by", "covered by", "source"],
            ["QPW-TF3", "a", "lamp", "flap", "QLN-118/2:8"],
        ]
    )
    assert counts(check_update(house, update)) == {"left_out": 1}


def test_a_broken_file_takes_nothing(house: House) -> None:
    checked = check_update(house, BroughtFile("update.xlsx", b"PK\x03\x04 and then nothing"))
    assert counts(checked) == {}
    assert [one.severity for one in checked.findings] == [Severity.BLOCKS]
    assert propose_update(house, STEWARD, BroughtFile("update.xlsx", b"PK\x03\x04 and then nothing")).update == ""
    assert counts(check_update(house, BroughtFile("a.csv", b"nothing,we,know\n1,2,3\n"))) == {}


def test_the_hash_is_the_files(house: House) -> None:
    file = lines(exported(house))
    assert check_update(house, file).file_hash == hashlib.sha256(file.data).hexdigest()


def test_an_empty_catalogue_takes_everything_as_new(empty: House) -> None:
    records, cited = of_one_maker()
    record = {"kind": "record", "key": "JNB-ZJC", "document": records["JNB-ZJC"]}
    assert counts(check_update(empty, lines([record]))) == {"left_out": 1}, "its sources are not there"
    sources = [{"kind": "source", "key": key, "document": source} for key, source in cited.items()]
    assert counts(check_update(empty, lines([*sources, record]))) == {"added": 1, "sources": len(cited)}
