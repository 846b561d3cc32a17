"""Unread words in the database: hashes until three separate descriptions held them, and never a description."""

import shutil
import stat
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import Engine

from catalog.app import create_app
from catalog.config import Settings
from catalog.errors import Unavailable
from catalog.services.house import House, open_house
from catalog.services.keys import key_of
from catalog.services.reading import settle
from catalog.services.unread import flush, keep_counts, often_unread
from catalog.store import unread
from catalog.store.engine import read, write

TEXTS = ("white van zorble prang, port left rear", "blue zorble prang bus", "zorble pickup by the blorpery")


@pytest.fixture
def house(demo_data: Path, tmp_path: Path) -> Iterator[House]:
    folder = tmp_path / "data"
    shutil.copytree(demo_data, folder)
    made = open_house(Settings(folder, f"sqlite:///{folder / 'chockbook.db'}"))
    yield made
    made.engine.dispose()


def stored(house: House) -> bytes:
    """Every byte of the database, its log and its free pages included."""
    house.engine.dispose()
    return b"".join(path.read_bytes() for path in sorted(house.settings.data.glob("chockbook.db*")))


def test_words_are_hashed_and_counted_and_named_from_the_third_on(engine: Engine) -> None:
    with write(engine) as conn:
        unread.count(conn, {"aa": ("zorble", 1), "bb": ("prang", 2)})
    with write(engine) as conn:
        unread.count(conn, {"bb": ("prang", 1), "cc": ("blorp", 3)})
        unread.count(conn, {})
    with read(engine) as conn:
        assert unread.often(conn, 9) == [("blorp", 3), ("prang", 3)]
        rows = conn.exec_driver_sql("SELECT digest, descriptions, word FROM unread_words ORDER BY digest").fetchall()
    assert [tuple(row) for row in rows] == [("aa", 1, None), ("bb", 3, "prang"), ("cc", 3, "blorp")]


def test_counts_of_hosts_with_keys_of_their_own_are_added_up(engine: Engine) -> None:
    with write(engine) as conn:
        unread.count(conn, {"aa": ("zorble", 3), "bb": ("zorble", 4), "cc": ("prang", 9)})
    with read(engine) as conn:
        assert unread.often(conn, 9) == [("prang", 9), ("zorble", 7)]
        assert unread.often(conn, 1) == [("prang", 9)]


def test_two_writers_lose_no_count(engine: Engine) -> None:
    def add() -> None:
        for _ in range(5):
            with write(engine) as conn:
                unread.count(conn, {"aa": ("zorble", 1), "bb": ("prang", 1)})

    threads = [threading.Thread(target=add) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    with read(engine) as conn:
        assert unread.often(conn, 9) == [("prang", 10), ("zorble", 10)]


def test_nothing_of_a_description_and_no_rare_word_is_in_the_database_file(house: House) -> None:
    # The tables of the reader are in it too, with words that people use.
    before = stored(house).lower()
    for text in TEXTS:
        settle(house, text)
    assert flush(house) == 3
    found = [(entry.word, entry.descriptions) for entry in often_unread(house)[0]]
    assert found == [("zorble", 3)]
    everything = stored(house).lower()
    assert b"zorble" in everything
    for text in TEXTS:
        assert text.encode() not in everything
    for rare in (b"prang", b"blorpery"):
        assert everything.count(rare) == before.count(rare)
    settle(house, "prang on a lorry")
    flush(house)
    assert [entry.word for entry in often_unread(house)[0]] == ["prang", "zorble"]


def test_a_request_writes_nothing_and_only_a_finished_description_counts(house: House) -> None:
    app = create_app(house.settings)
    served: House = app.extensions["chockbook"]
    client = app.test_client()
    before = stored(house)
    for text in TEXTS:
        client.post("/desk/live", data={"said": text})
        client.post("/api/v1/resolve", json={"text": text})
        client.post("/api/v1/read", json={"text": text})
        assert not served.tally.waiting
    for operation, text in zip(("read", "resolve", "read"), TEXTS, strict=True):
        assert client.post(f"/api/v1/{operation}", json={"text": text, "settled": True}).status_code == 200
        assert client.post(f"/api/v1/{operation}", json={"text": text, "settled": True}).status_code == 200
    assert served.tally.waiting == {"zorble": 3, "prang": 2, "blorpery": 1}
    assert stored(house) == before
    assert not (house.settings.data / "unread.key").exists()
    for name in ("desk", "crew"):
        assert client.post(f"/{name}/settled", data={"said": "a zorble tram", "line": "x"}).status_code == 204
    elsewhere = {"Sec-Fetch-Site": "cross-site"}
    for path in ("/desk", "/desk/settled"):
        client.post(path, data={"said": "white van of zorble prang and more"}, headers=elsewhere)
    client.post("/desk", data={"said": "red van of zorble prang"})
    client.post("/desk", data={"said": "red van of zorble prang", "all": "1"})
    assert served.tally.waiting["zorble"] == 5
    assert client.post("/desk/settled", data={"said": "x" * 2001}).status_code == 400
    served.engine.dispose()


def test_the_steward_sees_them_on_the_page_and_in_the_terminal(house: House) -> None:
    client = create_app(house.settings).test_client()
    assert "No word has stayed unread" in client.get("/steward/unread").text
    for text in TEXTS:
        settle(house, text)
    flush(house)
    page = client.get("/steward/unread").text
    assert "zorble" in page
    assert "prang" not in page
    assert 'href="/steward/unread"' in client.get("/steward").text


def test_the_key_is_made_once_and_only_its_owner_reads_it(tmp_path: Path) -> None:
    keys: list[bytes] = []
    threads = [threading.Thread(target=lambda: keys.append(key_of(tmp_path / "new", "unread.key"))) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(keys) == 8
    assert len({*keys}) == 1
    assert len(keys[0]) == 32
    assert stat.S_IMODE((tmp_path / "new" / "unread.key").stat().st_mode) == 0o600
    assert [path.name for path in (tmp_path / "new").iterdir()] == ["unread.key"]


def test_while_the_database_is_away_the_counts_wait(house: House) -> None:
    house.engine.dispose()
    file = house.settings.data / "chockbook.db"
    file.rename(file.with_name("gone.db"))
    settle(house, TEXTS[0])
    with pytest.raises(Unavailable):
        flush(house)
    file.with_name("gone.db").rename(file)
    assert flush(house) == 2
    assert flush(house) == 0


def test_the_thread_writes_what_waits_when_it_ends(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("catalog.services.unread.EVERY", 3600.0)
    stop = threading.Event()
    thread = keep_counts(house, stop)
    for text in TEXTS:
        settle(house, text)
    stop.set()
    thread.join(10)
    assert not thread.is_alive()
    assert [entry.word for entry in often_unread(house)[0]] == ["zorble"]
