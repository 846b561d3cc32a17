"""The trail of who did what: one unbroken chain on both databases, whoever writes at once or by hand."""

import json
import threading
from collections.abc import Iterator
from datetime import UTC, datetime
from itertools import pairwise
from pathlib import Path

import pytest
from sqlalchemy import update

from catalog.config import Settings
from catalog.domain.canonical import content_hash
from catalog.domain.roles import Role
from catalog.errors import BadInput, NotSignedIn
from catalog.services import trail
from catalog.services.acting import Actor, actor_of
from catalog.services.clock import us_of
from catalog.services.house import House, open_house
from catalog.services.trail import TrailAsked, check_trail, export_trail, note, read_trail
from catalog.services.verifying import verify_catalogue
from catalog.store import tables_people as t
from catalog.store.engine import write

STEWARD = actor_of("tam.orrell", Role.STEWARD, "page")
ADMIN = actor_of("a.dorn", Role.ADMINISTRATOR, "terminal")


@pytest.fixture
def house(database_url: str, tmp_path: Path) -> Iterator[House]:
    made = open_house(Settings(tmp_path / "data", database_url))
    yield made
    made.engine.dispose()


def noted(house: House, count: int, actor: Actor = STEWARD) -> None:
    for number in range(count):
        with write(house.engine) as conn:
            note(conn, actor, "doubt", f"QPW-TF{number}", {"path": "cutoff.methods[a]", "safety": True, "rows": [1, 2]})


def test_each_entry_covers_the_one_before_it(house: House) -> None:
    noted(house, 3)
    documents = list(export_trail(house, ADMIN, TrailAsked()))
    assert [one["action"] for one in documents] == ["doubt", "doubt", "doubt", "export"]
    assert documents[0]["prev"] == "0" * 64
    for before, after in pairwise(documents):
        assert after["prev"] == before["hash"]
    # Recomputed from what is handed out alone, as somebody with the file would.
    for one in documents:
        entry = {key: value for key, value in one.items() if key != "hash"}
        entry["time"] = us_of(datetime.fromisoformat(entry["time"]))
        assert content_hash(entry) == one["hash"]
    assert check_trail(house) == ()
    assert check_trail(house, documents[1]["hash"]) == ()


def test_an_act_that_fails_leaves_no_entry(house: House) -> None:
    def act() -> None:
        with write(house.engine) as conn:
            note(conn, STEWARD, "publish", "edition 4")
            raise RuntimeError("power cut")

    with pytest.raises(RuntimeError):
        act()
    assert read_trail(house, ADMIN, TrailAsked()).total == 0


def test_what_is_noted_at_once_makes_one_chain(house: House) -> None:
    threads = [threading.Thread(target=noted, args=(house, 10)) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert read_trail(house, ADMIN, TrailAsked()).total == 40
    assert check_trail(house) == ()


def test_time_in_the_trail_never_goes_back(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    noted(house, 1)
    monkeypatch.setattr(trail, "now_us", lambda: 1_000)
    noted(house, 1)
    newer, older = read_trail(house, ADMIN, TrailAsked()).entries
    assert newer.time == older.time
    assert check_trail(house) == ()


def test_nobody_changes_it_by_hand(house: House) -> None:
    noted(house, 2)
    sqlite = house.engine.dialect.name == "sqlite"
    for statement in (
        "UPDATE trail SET actor = 'somebody.else'",
        "DELETE FROM trail WHERE seq = 2",
        "INSERT OR REPLACE INTO trail SELECT * FROM trail" if sqlite else "TRUNCATE trail",
    ):
        with pytest.raises(Exception, match="never changed or removed"), write(house.engine) as conn:
            conn.exec_driver_sql(statement)


@pytest.mark.parametrize(
    ("changed", "problem"),
    [
        ({"actor": "somebody.else"}, "does not cover"),
        ({"detail": b'{"path":"other"}'}, "does not cover"),
        ({"detail": b"not json"}, "does not cover"),
        ({"time_us": 5}, "older than"),
        ({"prev": "ab" * 32}, "does not follow"),
        (None, "entries are missing"),
    ],
)
def test_a_change_behind_the_guards_is_found(house: House, changed: dict[str, object] | None, problem: str) -> None:
    noted(house, 3)
    head = read_trail(house, ADMIN, TrailAsked()).head
    with write(house.engine) as conn:
        if house.engine.dialect.name == "sqlite":
            for action in ("update", "delete"):
                conn.exec_driver_sql(f"DROP TRIGGER trail_{action}")
        else:
            conn.exec_driver_sql("DROP TRIGGER trail_update ON trail")
        row = t.trail.c.seq == 2
        conn.execute(update(t.trail).where(row).values(changed) if changed else t.trail.delete().where(row))
    assert problem in " ".join(fault.problem for fault in check_trail(house))
    found = verify_catalogue(house).faults  # and in the check of everything
    assert any(fault.kind == "trail" and problem in fault.problem for fault in found)
    assert check_trail(house, head)  # the newest hash is there, the chain to it is not


def test_a_trail_cut_short_holds_in_itself_and_not_against_a_hash_kept_elsewhere(house: House) -> None:
    noted(house, 3)
    head = read_trail(house, ADMIN, TrailAsked()).head
    with write(house.engine) as conn:
        sqlite = house.engine.dialect.name == "sqlite"
        conn.exec_driver_sql("DROP TRIGGER trail_delete" if sqlite else "DROP TRIGGER trail_update ON trail")
        conn.execute(t.trail.delete().where(t.trail.c.seq == 3))
    assert check_trail(house) == ()
    assert [fault.problem for fault in check_trail(house, head)] == [
        "No entry has this hash: the trail has been rewritten or cut short."
    ]


def test_it_is_filtered_and_paged(house: House) -> None:
    noted(house, 60)
    noted(house, 2, actor_of("ned.brill", Role.APPROVER, "token"))
    part = read_trail(house, ADMIN, TrailAsked(), 2)
    assert (part.total, len(part.entries)) == (62, 12)
    assert part.actions == ("doubt",)
    assert read_trail(house, ADMIN, TrailAsked(actor="ned.brill")).total == 2
    assert read_trail(house, ADMIN, TrailAsked(action="publish")).total == 0
    today = f"{datetime.now(UTC):%Y-%m-%d}"
    assert read_trail(house, ADMIN, TrailAsked(day=today)).total == 62
    assert read_trail(house, ADMIN, TrailAsked(day="2001-01-01")).total == 0
    for day in ("2026-13-40", "today"):
        with pytest.raises(BadInput):
            read_trail(house, ADMIN, TrailAsked(day=day))


def test_taking_it_out_needs_a_name_and_is_noted(house: House) -> None:
    with pytest.raises(NotSignedIn):
        export_trail(house, None, TrailAsked())
    assert read_trail(house, ADMIN, TrailAsked()).total == 0
    [only] = export_trail(house, ADMIN, TrailAsked())
    assert (only["actor"], only["action"], only["subject"]) == ("a.dorn", "export", "trail")


def test_any_text_can_be_noted_and_read_back(house: House) -> None:
    said = 'e\u0301 \u202e \U0001f692 "quoted" \udcff'
    with write(house.engine) as conn:
        note(conn, STEWARD, "doubt", said, {"why": said, "all": (said, {"deep": said})})
    [entry] = read_trail(house, ADMIN, TrailAsked()).entries
    assert entry.subject == '\u00e9 \u202e \U0001f692 "quoted" ?'
    assert entry.detail["all"][1]["deep"] == entry.subject
    assert check_trail(house) == ()
    assert json.dumps(trail.document(entry))
