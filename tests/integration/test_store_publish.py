"""Publishing: what becomes a revision, what an edition's hash covers, what is refused."""

import hashlib
import json
import re
from typing import Any

import pytest
from sqlalchemy import Engine, func, select

from catalog.domain.chain import ZERO
from catalog.errors import BadInput, Conflict, IntegrityError, NotFound
from catalog.store import read, tables
from catalog.store.changes import changes
from catalog.store.engine import read as reading
from catalog.store.engine import write
from catalog.store.publish import Publication, publish
from catalog.store.rows import StoredEdition, StoredRevision
from catalog.store.vocabularies import vocabulary_documents
from tests.integration.store_samples import (
    ALPHA,
    BRAVO,
    CHARLIE,
    DAY,
    GUIDE,
    NEXT_ISSUE,
    OTHER_GUIDE,
    back,
    guide,
    put,
    record,
)


def first(engine: Engine) -> int:
    return put(engine, 1, records={ALPHA: record("one"), BRAVO: record("two")}, sources={GUIDE: guide()})


def revision(engine: Engine, code: str, number: int) -> StoredRevision:
    with reading(engine) as conn:
        found = read.record_at(conn, code, number)
    assert found is not None
    return found


def head(engine: Engine) -> StoredEdition:
    with reading(engine) as conn:
        found = read.latest(conn)
    assert found is not None
    return found


def sha256(document: object) -> str:
    """Canonical hash, written out once more rather than borrowed from the product."""
    text = json.dumps(document, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def test_a_first_publication_begins_chains_at_zero(engine: Engine) -> None:
    assert first(engine) == 1
    stored = revision(engine, ALPHA, 1)
    assert (stored.seq, stored.prev, stored.base) == (1, ZERO, ZERO)
    assert stored.document == record("one")
    assert stored.time_us == DAY
    assert head(engine).prev == ZERO


def test_a_revision_is_hashed_as_decided(engine: Engine) -> None:
    first(engine)
    put(engine, 2, records={ALPHA: record("new")}, reasons={ALPHA: "Issue 2"}, update="U7")
    stored = revision(engine, ALPHA, 2)
    assert stored.hash == sha256(
        {
            "code": ALPHA,
            "seq": 2,
            "prev": revision(engine, ALPHA, 1).hash,
            "base": revision(engine, ALPHA, 1).hash,
            "format": 1,
            "content_hash": sha256(record("new")),
            "author": "Ada Quill",
            "time": 2 * DAY,
            "reason": "Issue 2",
            "update": "U7",
        }
    )


def test_an_edition_is_hashed_over_what_it_says_and_its_sorted_members(engine: Engine) -> None:
    first(engine)
    members = [["record", code, revision(engine, code, 1).hash] for code in (ALPHA, BRAVO)]
    members.append(["source", GUIDE, sha256(guide())])
    members += [["vocabulary", key, sha256(words)] for key, words in sorted(vocabulary_documents().items())]
    says = {"number": 1, "prev": ZERO, "time": DAY, "author": "Ada Quill", "reason": "Day 1"}
    assert head(engine).hash == sha256({**says, "members": members, "closed": []})


def test_content_is_kept_as_the_canonical_bytes(engine: Engine) -> None:
    put(engine, 1, records={ALPHA: {"z": "ö 𝄞", "format": 1, "a": [True, 2]}})
    assert revision(engine, ALPHA, 1).content == '{"a":[true,2],"format":1,"z":"ö 𝄞"}'.encode()


def test_an_equal_document_is_not_a_new_revision(engine: Engine) -> None:
    first(engine)
    put(engine, 2, records={ALPHA: record("one"), BRAVO: record("changed")})
    assert revision(engine, ALPHA, 2).seq == 1
    assert revision(engine, BRAVO, 2).seq == 2


def test_a_reason_is_the_revision_s_own_or_the_publication_s(engine: Engine) -> None:
    put(
        engine,
        1,
        records={ALPHA: record("one"), BRAVO: record("two")},
        sources={GUIDE: guide()},
        reason="Spring round",
        reasons={BRAVO: "Port moved"},
    )
    assert revision(engine, ALPHA, 1).reason == "Spring round"
    assert revision(engine, BRAVO, 1).reason == "Port moved"


def test_time_rises_whatever_the_clock_does(engine: Engine) -> None:
    for turn, day in enumerate((9, 3, 9)):
        put(engine, day, records={ALPHA: record(f"turn {turn}")}, sources={GUIDE: guide()})
    with reading(engine) as conn:
        times = [edition.published_at_us for edition in read.editions(conn)]
        assert times == [9 * DAY, 9 * DAY + 1, 9 * DAY + 2]
        # "At time t" keeps the order of publication, not of the clock.
        found = read.edition_at(conn, 9 * DAY + 1)
    assert found is not None
    assert found.number == 2


def read_count(engine: Engine) -> int:
    with reading(engine) as conn:
        return conn.execute(select(func.count()).select_from(tables.revisions)).scalar_one()


def test_after_going_back_prev_is_the_chain_and_base_is_what_was_edited(engine: Engine) -> None:
    first(engine)
    put(engine, 2, records={ALPHA: record("wrong")})
    assert back(engine, 3, to_edition=1) == 3
    assert revision(engine, ALPHA, 3).seq == 1
    put(engine, 4, records={ALPHA: record("right")})
    stored = revision(engine, ALPHA, 4)
    assert stored.seq == 3
    assert stored.prev == revision(engine, ALPHA, 2).hash
    assert stored.base == revision(engine, ALPHA, 1).hash


def test_going_back_withdraws_what_was_not_there_and_brings_back_what_was(engine: Engine) -> None:
    first(engine)
    put(
        engine,
        2,
        records={CHARLIE: record("new", OTHER_GUIDE)},
        withdrawn={BRAVO: "Cut point wrong"},
        sources={OTHER_GUIDE: guide(OTHER_GUIDE)},
    )
    back(engine, 3, to_edition=1)
    with reading(engine) as conn:
        assert [member.key for member in read.members(conn, 3, "record")] == [ALPHA, BRAVO]
        assert [member.key for member in read.members(conn, 3, "source")] == [GUIDE]
        assert read.withdrawal(conn, CHARLIE, 3) == "The change was wrong."
        assert read.withdrawal(conn, BRAVO, 2) == "Cut point wrong"
        assert read.withdrawal(conn, BRAVO, 3) is None


def test_a_withdrawn_record_comes_back_as_a_new_revision_of_its_chain(engine: Engine) -> None:
    first(engine)
    put(engine, 2, withdrawn={ALPHA: "Doubtful"})
    # Even word for word: that it is listed again has an author and a reason.
    put(engine, 3, records={ALPHA: record("one")}, reasons={ALPHA: "Doubt settled"})
    stored = revision(engine, ALPHA, 3)
    assert (stored.seq, stored.reason) == (2, "Doubt settled")
    assert stored.prev == stored.base == revision(engine, ALPHA, 1).hash


def test_a_source_issue_published_again_unchanged_adds_nothing(engine: Engine) -> None:
    first(engine)
    put(engine, 2, records={ALPHA: record("new")}, sources={GUIDE: guide()})
    with reading(engine) as conn:
        assert [change.kind for change in changes(conn, 1, 2)] == ["record"]


def test_the_vocabularies_of_this_version_are_members(engine: Engine) -> None:
    first(engine)
    with reading(engine) as conn:
        listed = {member.key: member.document for member in read.members(conn, 1, "vocabulary")}
    assert listed == vocabulary_documents()
    assert {"body", "side", "landmark", "connector", "market", "source_kind"} <= listed.keys()


def test_a_changed_vocabulary_is_listed_anew_and_a_dropped_one_closed(engine: Engine) -> None:
    put(engine, 1, vocabularies={"body": {"key": "body"}, "old": {"key": "old"}})
    put(engine, 2, vocabularies={"body": {"key": "body", "label": "body"}})
    with reading(engine) as conn:
        before = {member.key: member.document for member in read.members(conn, 1, "vocabulary")}
        after = {member.key: member.document for member in read.members(conn, 2, "vocabulary")}
    assert before == {"body": {"key": "body"}, "old": {"key": "old"}}
    assert after == {"body": {"key": "body", "label": "body"}}


def test_a_change_against_the_listed_revision_is_taken(engine: Engine) -> None:
    first(engine)
    bases = {ALPHA: revision(engine, ALPHA, 1).hash, BRAVO: revision(engine, BRAVO, 1).hash}
    put(engine, 2, records={ALPHA: record("new"), CHARLIE: record("new")}, withdrawn={BRAVO: "Sold out"}, bases=bases)
    assert revision(engine, ALPHA, 2).base == bases[ALPHA]


@pytest.mark.parametrize("how", ["records", "withdrawn"])
def test_a_change_against_an_older_revision_is_a_conflict(engine: Engine, how: str) -> None:
    first(engine)
    stale = revision(engine, ALPHA, 1).hash
    put(engine, 2, records={ALPHA: record("theirs")})
    mine: dict[str, Any] = {"records": {ALPHA: record("mine")}} if how == "records" else {"withdrawn": {ALPHA: "Old"}}
    with pytest.raises(Conflict, match=f"{ALPHA} has moved on"):
        put(engine, 3, bases={ALPHA: stale}, **mine)
    assert head(engine).number == 2


def test_a_new_record_under_a_code_that_exists_is_a_conflict(engine: Engine) -> None:
    first(engine)
    with pytest.raises(Conflict):
        put(engine, 2, records={ALPHA: record("mine")}, bases={})


def test_a_source_issue_with_other_content_is_a_conflict(engine: Engine) -> None:
    first(engine)
    with pytest.raises(Conflict, match=GUIDE):
        put(engine, 2, sources={GUIDE: guide(title="Another title")})
    put(engine, 3, sources={NEXT_ISSUE: guide(NEXT_ISSUE, "Another title")})


def test_nothing_changed_is_nothing_to_publish(engine: Engine) -> None:
    first(engine)
    for what in ({}, {"records": {ALPHA: record("one")}}, {"sources": {GUIDE: guide()}}):
        with pytest.raises(BadInput, match="nothing to publish"):
            put(engine, 2, **what)
    with pytest.raises(BadInput, match="nothing to publish"):
        back(engine, 2, to_edition=1)
    with pytest.raises(NotFound, match="no edition 7"):
        back(engine, 2, to_edition=7)


@pytest.mark.parametrize(
    ("what", "says"),
    [
        ({"withdrawn": {CHARLIE: "Gone"}}, f"{CHARLIE} is not listed"),
        ({"withdrawn": {ALPHA: " "}}, f"reason for {ALPHA} is empty"),
        ({"withdrawn": {ALPHA: "Gone"}, "records": {ALPHA: record("x")}}, f"{ALPHA} is both"),
        ({"records": {CHARLIE: record("x")}, "author": ""}, "author is empty"),
        ({"records": {CHARLIE: record("x")}, "reason": ""}, "reason is empty"),
        ({"records": {CHARLIE: record("x")}, "reasons": {BRAVO: "y"}}, f"reason for {BRAVO}"),
        ({"records": {CHARLIE: record("x")}, "bases": {BRAVO: ZERO}}, f"base for {BRAVO}"),
        ({"records": {CHARLIE: {"format": 1, "a": {"b": 1.5}}}}, f"{CHARLIE} cannot be stored: a.b"),
        ({"records": {CHARLIE: {"a": 1}}}, f"{CHARLIE} does not say which format"),
        ({"records": {CHARLIE: record("x", OTHER_GUIDE)}}, f"source {OTHER_GUIDE} is not in the catalogue"),
        ({"records": {CHARLIE: record("x", "no such")}}, "not a source reference"),
        ({"sources": {GUIDE: guide(NEXT_ISSUE)}}, f"given as {GUIDE} calls itself {NEXT_ISSUE}"),
    ],
)
def test_what_cannot_be_published_is_refused_and_leaves_nothing(engine: Engine, what: Any, says: str) -> None:
    first(engine)
    with pytest.raises(BadInput, match=re.escape(says)):
        put(engine, 2, **what)
    assert head(engine).number == 1
    assert read_count(engine) == 2


def test_an_error_in_the_middle_leaves_nothing(engine: Engine) -> None:
    first(engine)

    def half() -> None:
        with write(engine) as conn:
            publish(conn, Publication("Ada Quill", "Day 2", {ALPHA: record("half")}), 2 * DAY)
            raise RuntimeError("power cut")

    with pytest.raises(RuntimeError, match="power cut"):
        half()
    assert head(engine).number == 1
    assert read_count(engine) == 2


def test_without_its_lock_nothing_is_published(engine: Engine) -> None:
    with write(engine) as conn:
        conn.execute(tables.publication_lock.delete())
    with pytest.raises(IntegrityError, match="lock"):
        first(engine)


def test_two_thousand_records_are_published_whole(engine: Engine) -> None:
    """More than one query's worth of bound values."""
    many = {f"K{number:04}": record(f"number {number}") for number in range(2000)}
    put(engine, 1, records=many, sources={GUIDE: guide()})
    changed = {code: record("changed") for code in list(many)[::2]}
    put(engine, 2, records=changed | {code: many[code] for code in list(many)[1::2]})
    with reading(engine) as conn:
        assert read.record_counts(conn) == {1: 2000, 2: 2000}
        said = {member.key: member.document["notes"][0]["text"] for member in read.members(conn, 2, "record")}
    assert said == {code: (changed.get(code) or many[code])["notes"][0]["text"] for code in many}
    assert read_count(engine) == 3000
