"""What changed, old beside new, safety-critical first."""

from catalog.domain.delta import difference
from catalog.domain.documents import record_from_document
from catalog.domain.record import Record
from catalog.services.editions import weight
from catalog.services.views import MemberChange
from catalog.web.changes import change_view, delta_rows, path_words
from tests.sample import REMOVE, said, sample


def record(**changes: object) -> Record:
    return record_from_document(sample({path.replace("__", "."): value for path, value in changes.items()}))


OLD = record()
NEW = record(cutoff__methods__1__wait=said(180), looks__doors=REMOVE, identity__years={"from": 2021, "to": 2025})


def test_rows_are_split_by_what_a_crew_acts_on() -> None:
    rows = delta_rows(difference(OLD, NEW))
    assert [(row.label, row.old.text, row.new.text) for row in rows.critical] == [("Wait after it", "60 s", "3 min")]
    assert [(row.label, row.new.text) for row in rows.other] == [("Doors", "not stated")]
    assert [(row.label, row.old, row.new) for row in rows.plain] == [("Years", "2021–2024", "2021–2025")]
    assert rows.count == 3


def test_a_place_in_the_record_reads_in_words() -> None:
    assert path_words("cutoff.methods[loop].place") == "cut high voltage off, way loop"
    assert path_words("ports[a].door.mechanism") == "charge port a, door"
    assert path_words("looks.body") == "looks"


def test_do_not_use_comes_first() -> None:
    delta = difference(OLD, NEW)
    changes = [
        MemberChange("record", "C", "Looks only", "changed", "", difference(OLD, record(looks__doors=REMOVE))),
        MemberChange("record", "A", "Safety", "changed", "", delta),
        MemberChange("record", "B", "Gone", "withdrawn", "converted vehicles differ"),
    ]
    ordered = sorted(changes, key=weight)
    assert [change.title for change in ordered] == ["Gone", "Safety", "Looks only"]
    assert change_view(ordered[0]).action == "do not use"
