"""Two writers at once, and long random histories against a catalogue kept in plain dictionaries."""

import random
import threading
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from typing import Any

import pytest
from sqlalchemy import Engine

from catalog.errors import Conflict, Unavailable
from catalog.store import engine as opening
from catalog.store import read
from catalog.store.changes import changes
from catalog.store.engine import open_engine, write
from catalog.store.engine import read as reading
from catalog.store.publish import Publication, publish
from catalog.store.verify import verify
from tests.integration.store_samples import ALPHA, BRAVO, DAY, GUIDE, back, guide, put, record


def test_a_second_publication_waits_for_the_first(engine: Engine, database_url: str) -> None:
    put(engine, 1, records={ALPHA: record("a1")}, sources={GUIDE: guide()})
    first_is_in, order = threading.Event(), []

    def first() -> int:
        with write(engine) as conn:
            number = publish(conn, Publication("Ada", "First", {ALPHA: record("a2")}), 2 * DAY)
            first_is_in.set()
            # Long enough for the second to have read the last edition, if it did not wait.
            threading.Event().wait(0.5)
            order.append("first")
        return number

    def second() -> int:
        other = open_engine(database_url)
        first_is_in.wait(5)
        with write(other) as conn:
            number = publish(conn, Publication("Bea", "Second", {BRAVO: record("b1")}), 2 * DAY)
            order.append("second")
        other.dispose()
        return number

    with ThreadPoolExecutor(2) as pool:
        numbers = [job.result() for job in (pool.submit(first), pool.submit(second))]
    assert numbers == [2, 3]
    assert order == ["first", "second"]
    with reading(engine) as conn:
        assert [edition.author for edition in read.editions(conn)] == ["Ada Quill", "Ada", "Bea"]
        assert [member.key for member in read.members(conn, 3, "record")] == [ALPHA, BRAVO]
        assert verify(conn).faults == ()


def test_many_writers_give_successive_editions(engine: Engine) -> None:
    put(engine, 1, sources={GUIDE: guide()})
    together = threading.Barrier(4)

    def go(writer: int) -> list[int]:
        together.wait()
        return [put(engine, 2, records={f"W{writer}": record(f"{writer} {turn}")}) for turn in range(3)]

    with ThreadPoolExecutor(4) as pool:
        numbers = [number for done in pool.map(go, range(4)) for number in done]
    assert sorted(numbers) == list(range(2, 14))
    with reading(engine) as conn:
        assert verify(conn).faults == ()


def test_of_two_changes_to_one_revision_one_is_taken(engine: Engine) -> None:
    put(engine, 1, records={ALPHA: record("a1")}, sources={GUIDE: guide()})
    with reading(engine) as conn:
        base = read.history(conn, ALPHA)[0].revision.hash
    together = threading.Barrier(2)

    def go(words: str) -> str:
        together.wait()
        try:
            put(engine, 2, records={ALPHA: record(words)}, bases={ALPHA: base})
        except Conflict:
            return "conflict"
        return "taken"

    with ThreadPoolExecutor(2) as pool:
        assert sorted(pool.map(go, ["mine", "theirs"])) == ["conflict", "taken"]
    with reading(engine) as conn:
        assert len(read.history(conn, ALPHA)) == 2


def test_who_waits_too_long_is_told(database_url: str, engine: Engine, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(opening, "BUSY_SECONDS", 1)
    impatient = open_engine(database_url)

    def try_it() -> None:
        with write(impatient) as conn:
            publish(conn, Publication("Bea", "Second", sources={GUIDE: guide()}), DAY)

    with write(engine) as conn:
        publish(conn, Publication("Ada", "First", sources={GUIDE: guide()}), DAY)
        with pytest.raises(Unavailable, match="Somebody else is publishing"):
            try_it()
    impatient.dispose()


@dataclass
class Plain:
    """The catalogue as it should be: one dictionary an edition, nothing clever."""

    editions: list[dict[tuple[str, str], str]] = field(default_factory=lambda: [{}])
    times: list[int] = field(default_factory=lambda: [-1])

    def add(self, members: dict[tuple[str, str], str], time_us: int) -> None:
        self.editions.append(members)
        self.times.append(time_us)

    def at(self, time_us: int) -> int:
        return max(number for number, begun in enumerate(self.times) if begun <= time_us)

    def changes(self, a: int, b: int) -> list[tuple[str, str, str | None, str | None]]:
        old, new = self.editions[a], self.editions[b]
        keys = sorted(old.keys() | new.keys())
        return [(*key, old.get(key), new.get(key)) for key in keys if old.get(key) != new.get(key)]


def step(engine: Engine, plain: Plain, rng: random.Random, day: int) -> None:
    """Publish something at random, and say in plain words what should be listed then."""
    now = plain.editions[-1]
    if rng.random() < 0.2 and len(plain.editions) > 2:
        target = rng.randrange(1, len(plain.editions) - 1)
        if plain.editions[target] != now:
            back(engine, day, target)
            plain.add(dict(plain.editions[target]), times(engine))
            return
    codes = rng.sample("PQRSTUVW", 3)
    listed = [code for code in codes if ("record", code) in now]
    withdrawn = {code: f"Doubt on day {day}" for code in listed if rng.random() < 0.4}
    key = f"OVR-11/{rng.randint(1, 3)}"
    what: dict[str, Any] = {
        "records": {code: record(f"{code} on day {day}", key) for code in codes if code not in withdrawn},
        "withdrawn": withdrawn,
        "sources": {key: guide(key)},
        "vocabularies": {"body": {"key": "body", "terms": rng.randint(1, 2)}},
    }
    put(engine, rng.choice([day, day, 1]), **what)
    with reading(engine) as conn:
        number = len(plain.editions)
        after = {member: value for member, value in now.items() if member[1] not in withdrawn}
        for code, document in what["records"].items():
            found = read.record_at(conn, code, number)
            assert found is not None
            assert found.document == document
            after["record", code] = found.hash
        source = read.stored_source(conn, key)
        assert source is not None
        assert source.document == guide(key)
        after["source", key] = source.revision
        after["vocabulary", "body"] = next(read.members(conn, number, "vocabulary")).revision
    plain.add(after, times(engine))


def times(engine: Engine) -> int:
    with reading(engine) as conn:
        latest = read.latest(conn)
    assert latest is not None
    return latest.published_at_us


@pytest.mark.parametrize("number", range(2))
def test_a_long_history_says_what_plain_dictionaries_say(engine: Engine, number: int) -> None:
    rng, plain = random.Random(number), Plain()
    for day in range(2, 22):
        step(engine, plain, rng, day)
    with reading(engine) as conn:
        assert verify(conn).faults == ()
        for a, members in enumerate(plain.editions):
            listed = {
                (kind, member.key): member.revision
                for kind in ("record", "source", "vocabulary")
                for member in read.members(conn, a, kind)
            }
            assert listed == members
            for b in range(len(plain.editions)):
                assert [change[:4] for change in changes(conn, a, b)] == plain.changes(a, b)
        for time_us in [0, *plain.times, *(begun + 1 for begun in plain.times)]:
            for code in "PQRSTUVW":
                found = read.record_at_time(conn, code, time_us)
                expected = plain.editions[plain.at(time_us)].get(("record", code))
                assert (found.hash if found else None) == expected
