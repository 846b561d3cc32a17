"""A doubt takes a published fact back at once, alone, and says so."""

import os
import signal
import threading
from collections.abc import Iterator

import pytest

from catalog.domain.documents import document_from_record
from catalog.domain.doubt import without
from catalog.domain.facts import State
from catalog.domain.record import Record
from catalog.domain.roles import Role
from catalog.errors import BadInput, ChockbookError, Conflict, Forbidden, NotFound, NotSignedIn
from catalog.services import compiling, doubting
from catalog.services.acting import Actor, actor_of
from catalog.services.compiling import compile_latest
from catalog.services.doubting import doubt
from catalog.services.house import House, open_house
from catalog.services.proposing import Proposed, ProposedRecord, propose
from catalog.services.records import read_record
from catalog.services.reviewing import Judgement, decide
from catalog.store import read as store
from catalog.store.doubts import all_doubts, ended_in, standing_doubts
from catalog.store.engine import read, write
from catalog.store.publish import Publication, go_back, publish
from tests.integration.conftest import Filled
from tests.integration.review_samples import two_of_the_demo

STEWARD = actor_of("tamsin.orrell", Role.STEWARD, "test")
OTHER = actor_of("ivo.brandt", Role.APPROVER, "test")
WHY = "A crew found the loop behind the other seat."


@pytest.fixture
def house(filled: Filled) -> Iterator[House]:
    made = open_house(filled(two_of_the_demo))
    yield made
    made.engine.dispose()


def stated(house: House, turn: int = 0) -> tuple[str, str]:
    """A record and a fact of a list item that it states."""
    found = [
        (code, path)
        for code in house.shelf.current().codes
        for path, fact in read_record(house, code).record.facts.items()
        if path.endswith(".place") and fact.state is State.STATED
    ]
    return found[turn]


def test_a_doubted_fact_is_not_stated_in_the_next_edition(house: House) -> None:
    code, path = stated(house)
    before = read_record(house, code)
    number = doubt(house, STEWARD, code, path, WHY)
    assert number == 2
    fresh = open_house(house.settings)
    after = read_record(fresh, code)
    assert after.edition.number == 2
    assert after.record.fact(path).state is State.NOT_STATED
    assert {**after.record.facts, path: before.record.fact(path)} == dict(before.record.facts)
    assert read_record(fresh, code, edition=1).record.fact(path) == before.record.fact(path)
    with read(house.engine) as conn:
        [kept] = all_doubts(conn)
        assert standing_doubts(conn, 1) == ()
        assert standing_doubts(conn, 2) == (kept,)
    assert (kept.code, kept.path, kept.revision) == (code, path, before.hash)
    assert (kept.author, kept.reason, kept.edition) == ("tamsin.orrell", WHY, 2)
    fresh.engine.dispose()


@pytest.mark.parametrize(
    ("actor", "error"),
    [
        (None, NotSignedIn),
        (actor_of("a.reader", Role.READER, "test"), Forbidden),
        (actor_of("a.dispatcher", Role.DISPATCHER, "test"), Forbidden),
        (actor_of("an.administrator", Role.ADMINISTRATOR, "test"), Forbidden),
    ],
)
def test_only_who_may_doubt_does(house: House, actor: Actor | None, error: type[ChockbookError]) -> None:
    with pytest.raises(error):
        doubt(house, actor, *stated(house), WHY)
    with read(house.engine) as conn:
        latest = store.latest(conn)
    assert latest is not None
    assert latest.number == 1


def test_what_cannot_be_doubted_is_refused_and_says_why(house: House) -> None:
    code, path = stated(house)
    with pytest.raises(BadInput, match="No reason"):
        doubt(house, STEWARD, code, path, "  ")
    with pytest.raises(BadInput, match="names no fact"):
        doubt(house, STEWARD, code, "identity.make", WHY)
    with pytest.raises(Conflict, match="not stated, so"):
        doubt(house, STEWARD, code, "ports[zz].place", WHY)
    with pytest.raises(NotFound):
        doubt(house, STEWARD, "QQQ-QQQ", path, WHY)
    doubt(house, STEWARD, code, path, WHY)
    with pytest.raises(Conflict, match=r"doubted already: by tamsin\.orrell in edition 2"):
        doubt(house, OTHER, code, path, WHY)


def test_a_fact_that_moved_on_is_not_doubted_for_what_it_said(house: House) -> None:
    """Who saw the old value doubts that; the new one may be the correction."""
    code, path = stated(house)
    seen = read_record(house, code)
    document = compiling.record_of(seen.document)
    moved = document.fact(path)
    other = next(fact for own, fact in document.facts.items() if own.endswith(".place") and fact != moved)
    changed = document_from_record(
        Record(document.identity, {**document.facts, path: other}, document.items, document.complete, document.notes)
    )
    with write(house.engine) as conn:
        publish(conn, Publication("B. Other", "Put right.", {code: changed}), 2_000_000)
    with pytest.raises(Conflict, match="you saw revision 1, now it is 2"):
        doubt(house, STEWARD, code, path, WHY, seen=seen.hash)
    unchanged = next(own for own in document.facts if own != path)
    assert doubt(house, STEWARD, code, unchanged, WHY, seen=seen.hash) == 3  # what was seen is what is said still


def test_two_doubts_at_once_both_stand(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(doubting, "_compile", lambda _: None)
    (code, one), (_, two) = stated(house, 0), stated(house, 1)
    other_code = stated(house, 1)[0]
    barrier = threading.Barrier(2)
    told: list[int] = []

    def run(which: str, path: str, person: Actor) -> None:
        barrier.wait()
        told.append(doubt(house, person, which, path, WHY))

    threads = [
        threading.Thread(target=run, args=(code, one, STEWARD)),
        threading.Thread(target=run, args=(other_code, two, OTHER)),
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(30)
    assert sorted(told) == [2, 3]
    with read(house.engine) as conn:
        assert {(each.code, each.path) for each in standing_doubts(conn, 3)} == {(code, one), (other_code, two)}
        latest = store.record_at(conn, code, 3)
        assert latest is not None
        assert compiling.record_of(latest.document).fact(one).state is State.NOT_STATED


def test_a_doubt_ends_when_the_fact_is_said_again_and_not_before(house: House) -> None:
    code, path = stated(house)
    before = read_record(house, code)
    doubt(house, STEWARD, code, path, WHY)
    with write(house.engine) as conn:
        other, elsewhere = stated(house, 5)
        assert (other, elsewhere) != (code, path)
        go_back(conn, 1, "B. Other", "Back.", 3_000_000)
    with read(house.engine) as conn:
        [kept] = all_doubts(conn)
        assert standing_doubts(conn, 2) == (kept,)
        assert standing_doubts(conn, 3) == ()
        assert ended_in(conn, kept) == 3
    # Not stated again later, by a guide, it is not the old doubt that stands.
    with write(house.engine) as conn:
        silent = document_from_record(without(before.record, path))
        publish(conn, Publication("B. Other", "The guide dropped it.", {code: silent}), 4_000_000)
    with read(house.engine) as conn:
        assert standing_doubts(conn, 4) == ()


@pytest.mark.parametrize("step", ["publish", "put_doubt", "_compile"])
def test_killed_at_any_step_there_is_the_old_edition_or_the_new_with_its_doubt(
    house: House, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    code, path = stated(house)
    house.engine.dispose()
    child = os.fork()
    if child == 0:  # pragma: no cover - dies
        fresh = open_house(house.settings)
        monkeypatch.setattr(doubting, step, lambda *_, **__: os.kill(os.getpid(), signal.SIGKILL))
        doubt(fresh, STEWARD, code, path, WHY)
        os._exit(0)
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status)
    after = open_house(house.settings)
    with read(after.engine) as conn:
        latest = store.latest(conn)
        assert latest is not None
        standing = standing_doubts(conn, latest.number)
        found = store.record_at(conn, code, latest.number)
        assert found is not None
        says = path in compiling.record_of(found.document).facts
    assert (latest.number, len(standing), says) == ((2, 1, False) if step == "_compile" else (1, 0, True))
    if step == "_compile":
        compile_latest(after)  # whoever follows
    assert (path in read_record(after, code).record.facts) is says
    after.engine.dispose()


def test_a_doubt_while_an_update_is_open_leaves_both_sides_to_look_at(house: House) -> None:
    """The update was made against what was doubted since: nothing of it goes in unseen, nothing of it is lost."""
    code, path = stated(house)
    seen = read_record(house, code)
    other = next(own for own in seen.record.facts if own != path)
    changed = document_from_record(without(seen.record, other))
    made = Proposed("guide.xlsx", "f" * 64, "import", (ProposedRecord(code, seen.hash, changed, "Dropped."),))
    update = propose(house, STEWARD, made)
    doubt(house, STEWARD, code, path, WHY)
    with pytest.raises(Conflict, match="moved on"):
        decide(house, OTHER, Judgement(int(update), code, "accept", None, "", ""))
    with read(house.engine) as conn:
        found = store.record_at(conn, code, 2)
    assert found is not None
    facts = compiling.record_of(found.document).facts
    assert path not in facts
    assert other in facts
