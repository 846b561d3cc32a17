"""Publishing: checks, the watch list, several at once, killed at every step, and going back."""

from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path
from threading import Barrier

import pytest

from catalog.errors import BadInput, ChockbookError, Conflict, Forbidden, NotFound
from catalog.services import passed
from catalog.services.acting import Actor
from catalog.services.compiling import compile_latest, is_behind
from catalog.services.doubting import doubt
from catalog.services.gates import BLOCKS, CHAINS, LOOK, PASSED, SCHEMA, SIMULATED, SOURCES, WATCH
from catalog.services.house import House, open_house
from catalog.services.publishing import check_publication, gates_of_edition, go_back, known_check, publish_edition
from catalog.services.reviewing import Judgement, accept_rest, decide, reopen, set_aside
from catalog.services.trail import TrailAsked, read_trail
from catalog.services.update_reading import RecordsAsked, read_change, read_update
from catalog.services.updates import UpdatesAsked, list_updates, waiting
from catalog.services.watch_list import WatchAsked, unwatch, watch, watched
from catalog.store import read as store
from catalog.store.doubts import standing_doubts
from catalog.store.engine import read, write
from catalog.store.tables_updates import ACCEPT
from catalog.store.updates import StoredDecision, add_decision, decisions, next_seq, standing_of
from catalog.store.verify import verify
from schemas.findings import Finding, Invalid
from schemas.record import check_record
from tests.integration.conftest import Filled
from tests.integration.dying import killed
from tests.integration.killed_publisher import IN_DATABASE, POINTS, PUBLISHED, publish
from tests.integration.review_samples import (
    ADMINISTRATOR,
    APPROVER,
    OTHER_APPROVER,
    STEWARD,
    Changes,
    brought,
    document,
    listed,
    three_records,
)
from tests.integration.store_samples import ALPHA, BRAVO, CHARLIE

SHORTER = {"cutoff.methods.1.wait.value": 30}
SALOON = {"looks.body.value": "saloon"}
SAID = "ondru kella hatchback"


@pytest.fixture
def house(filled: Filled, few_descriptions: None) -> Iterator[House]:
    made = open_house(filled(three_records))
    yield made
    made.engine.dispose()


def accepted(house: House, changes: Changes) -> str:
    """The id of an update of which everything is accepted."""
    number = brought(house, changes)
    accept_rest(house, APPROVER, int(number), critical=True)
    return number


def newest(house: House) -> int:
    with read(house.engine) as conn:
        found = store.latest(conn)
    assert found is not None
    return found.number


def test_the_checks_are_made_shown_and_stored(house: House) -> None:
    number = accepted(house, {ALPHA: SHORTER})
    assert known_check(house, STEWARD, [int(number)]) is None
    checked = check_publication(house, STEWARD, [int(number)])
    outcomes = {gate.key: gate.outcome for gate in checked.gates.gates}
    # Nothing is watched yet, which a person should see.
    assert outcomes == {SCHEMA: PASSED, CHAINS: PASSED, SOURCES: PASSED, WATCH: LOOK, SIMULATED: PASSED}
    again = known_check(house, STEWARD, [int(number)])
    assert again is not None
    assert again.gates == checked.gates
    edition = publish_edition(house, APPROVER, [number], "A shorter wait.")
    assert edition == 2
    assert gates_of_edition(house, edition) == checked.gates
    assert gates_of_edition(house, 1) is None
    assert house.shelf.current().number == 2


def test_what_is_published_says_who_and_why(house: House) -> None:
    number = accepted(house, {ALPHA: SHORTER, BRAVO: None})
    publish_edition(house, APPROVER, [number], "A shorter wait; one not to be used.")
    found = listed(house)
    assert (found.author, found.reason, found.update) == (APPROVER.name, "Guide reissued.", number)
    assert found.document == document(ALPHA, SHORTER)
    with read(house.engine) as conn:
        assert store.withdrawal(conn, BRAVO, 2) == "Guide reissued."
        assert verify(conn).faults == ()
    acts = [entry.action for entry in read_trail(house, ADMINISTRATOR, TrailAsked()).entries]
    assert acts == ["publish", "approve", "import"]
    with pytest.raises(Conflict, match="closed"):
        publish_edition(house, APPROVER, [number], "Again.")


def test_two_updates_are_published_together(house: House) -> None:
    one, two = accepted(house, {ALPHA: SHORTER}), accepted(house, {BRAVO: SALOON})
    assert publish_edition(house, APPROVER, [one, two], "Both.") == 2
    assert (listed(house).update, listed(house, BRAVO).update) == ("1,2", "1,2")
    same = [accepted(house, {CHARLIE: SALOON}), accepted(house, {CHARLIE: {"looks.doors.value": 3}})]
    with pytest.raises(Conflict, match="Two of these"):
        publish_edition(house, APPROVER, same, "Both.")


def test_who_may_publish_and_what_it_needs(house: House) -> None:
    number = accepted(house, {ALPHA: SALOON})
    with pytest.raises(Forbidden):
        publish_edition(house, STEWARD, [number], "A body.")
    for ids, note, said in (
        ([number], " ", "without a note"),
        ([], "x", "No guide update"),
        (["one"], "x", "no guide"),
    ):
        with pytest.raises(BadInput, match=said):
            publish_edition(house, APPROVER, ids, note)
    with pytest.raises(NotFound):
        publish_edition(house, APPROVER, ["99"], "x")
    with pytest.raises(BadInput, match="cannot be overridden"):
        publish_edition(house, APPROVER, [number], "x", {SCHEMA: "It is late."})


def test_the_second_person_is_asked_for_again_when_publishing(house: House) -> None:
    """Whatever way an acceptance came into the table."""
    number = int(brought(house, {ALPHA: SHORTER}, APPROVER))
    with read(house.engine) as conn:
        of = read_change(house, APPROVER, number, ALPHA).record.of
        assert list(decisions(conn, number)) == []
    with write(house.engine) as conn:
        forged = StoredDecision(number, next_seq(conn, number), ACCEPT, ALPHA, None, of, APPROVER.name, 1, "")
        add_decision(conn, forged)
    with pytest.raises(Forbidden, match="accepted it too"):
        publish_edition(house, OTHER_APPROVER, [number], "x")
    assert newest(house) == 1


def test_a_watched_description_that_is_lost_is_in_the_way(house: House) -> None:
    made = watch(house, STEWARD, WatchAsked(ALPHA, f"{SAID}, ring Mr White", rank=1, name="Kella, as most say it"))
    assert made.cues
    assert "white" not in " ".join(made.cues).lower()
    renamed = {"identity.make": "Perrow", "identity.model": "Zint", **SALOON}
    number = accepted(house, {ALPHA: renamed})
    with pytest.raises(Conflict, match="Watch list is in the way: 1 of 1"):
        publish_edition(house, APPROVER, [number], "Another name.")
    assert newest(house) == 1
    with pytest.raises(BadInput, match="without a reason"):
        publish_edition(house, APPROVER, [number], "Another name.", {WATCH: " "})
    publish_edition(house, APPROVER, [number], "Another name.", {WATCH: "It was never called that."})
    gates = gates_of_edition(house, 2)
    assert gates is not None
    assert gates.overrides == {WATCH: "It was never called that."}
    assert [gate.outcome for gate in gates.gates if gate.key == WATCH] == [BLOCKS]
    told = read_trail(house, ADMINISTRATOR, TrailAsked(action="publish")).entries[0]
    assert told.detail["overrides"] == {WATCH: "It was never called that."}
    unwatch(house, STEWARD, made.number, "It was never called that.")
    assert watched(house) == ()
    with pytest.raises(NotFound):
        unwatch(house, STEWARD, made.number, "Again.")


def test_a_watch_list_changed_since_asks_for_new_checks(house: House) -> None:
    number = accepted(house, {ALPHA: SALOON})
    check_publication(house, STEWARD, [int(number)])
    made = watch(house, STEWARD, WatchAsked(ALPHA, SAID))
    assert known_check(house, STEWARD, [int(number)]) is None
    assert made.name == ", ".join(made.cues)
    with pytest.raises(BadInput, match="Nothing in it"):
        watch(house, STEWARD, WatchAsked(ALPHA, "is anyone there"))
    with pytest.raises(BadInput, match="rank"):
        watch(house, STEWARD, WatchAsked(ALPHA, SAID, rank=11))


def test_a_record_that_no_longer_passes_is_in_the_way(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of every record listed, not only of those that change: a newer program may be stricter than the last one."""

    def stricter(found: dict[str, object]) -> object:
        if found["identity"]["model"] == "Morrow":  # type: ignore[index]
            raise Invalid([Finding("looks.doors", "5", "at most four")])
        return check_record(found)

    monkeypatch.setattr(passed, "check_record", stricter)
    house = replace(house, passed=passed.Passed())  # a newer program is a new process
    number = accepted(house, {ALPHA: SALOON})
    with pytest.raises(Conflict, match="Schema and plausibility is in the way"):
        publish_edition(house, APPROVER, [number], "x", {WATCH: "why"})


def test_lists_say_what_waits_for_whom(house: House) -> None:
    first = int(brought(house, {ALPHA: SHORTER, BRAVO: SALOON}))
    second = int(brought(house, {CHARLIE: SHORTER}, APPROVER))
    mine = {one.summary.number: (one.undecided, one.two, one.mine) for one in waiting(house, APPROVER)[0]}
    assert mine == {first: (2, 1, True), second: (1, 1, False)}
    assert waiting(house, APPROVER)[0][0].summary.number == first
    accept_rest(house, OTHER_APPROVER, second, critical=True)
    publish_edition(house, APPROVER, [second], "A wait.")
    set_aside(house, STEWARD, first, "Not now.")
    states = {one.number: one.state for one in list_updates(house, STEWARD, UpdatesAsked()).updates}
    assert states == {first: "set aside", second: "published"}
    assert list_updates(house, STEWARD, UpdatesAsked(state="published")).total == 1
    reopen(house, STEWARD, first, "Now.")
    view = read_update(house, STEWARD, first, RecordsAsked(only="critical"))
    assert [line.code for line in view.lines] == [ALPHA]
    assert view.states == {"open": 2}
    assert [one.kind for one in view.remarks] == ["set aside", "reopen"]


def test_going_back_is_a_new_edition_by_one_approver(house: House) -> None:
    publish_edition(house, APPROVER, [accepted(house, {ALPHA: SHORTER})], "A shorter wait.")
    with pytest.raises(Forbidden):
        go_back(house, STEWARD, 1, "Wrong.")
    with pytest.raises(BadInput, match="without a note"):
        go_back(house, APPROVER, 1, " ")
    assert go_back(house, APPROVER, 1, "The guide was for another vehicle.") == 3
    assert listed(house).document == document(ALPHA)
    assert house.shelf.current().number == 3
    with read(house.engine) as conn:
        assert verify(conn).faults == ()


def test_going_back_restores_no_doubted_fact(house: House) -> None:
    """Restoring takes two persons, and going back takes one."""
    doubt(house, STEWARD, ALPHA, "cutoff.methods[b].wait", "A crew was shocked after it.")
    publish_edition(house, APPROVER, [accepted(house, {BRAVO: SALOON})], "A body.")
    assert go_back(house, APPROVER, 1, "Wrong body.") == 5
    assert "wait" not in listed(house).document["cutoff"]["methods"][1]
    assert listed(house, BRAVO).document == document(BRAVO)
    with read(house.engine) as conn:
        assert [(one.path, one.edition) for one in standing_doubts(conn, 5)] == [("cutoff.methods[b].wait", 5)]
        assert verify(conn).faults == ()


# Several at once.


def at_once(*jobs: Callable[[], object]) -> list[object]:
    """What each returned, or the error it raised, when all began together."""
    together = Barrier(len(jobs))

    def run(job: Callable[[], object]) -> object:
        together.wait()
        try:
            return job()
        except ChockbookError as error:
            return error

    with ThreadPoolExecutor(len(jobs)) as pool:
        return list(pool.map(run, jobs))


def test_many_decisions_at_once_are_all_kept_in_one_order(house: House) -> None:
    number = int(brought(house, {ALPHA: {**SHORTER, **SALOON}, BRAVO: SALOON}))

    def comment(who: Actor, words: str) -> Callable[[], object]:
        return lambda: decide(house, who, Judgement(number, ALPHA, "comment", None, words))

    jobs = [comment(who, f"{who.name} {turn}") for who in (STEWARD, APPROVER) for turn in range(4)]
    found = at_once(*jobs)
    assert not [one for one in found if isinstance(one, ChockbookError)]
    with read(house.engine) as conn:
        made = list(decisions(conn, number))
    assert [one.seq for one in made] == list(range(1, 9))
    assert {one.words for one in made} == {f"{who.name} {turn}" for who in (STEWARD, APPROVER) for turn in range(4)}


def test_of_two_who_publish_one_update_at_once_one_does(house: House) -> None:
    number = accepted(house, {ALPHA: SHORTER})
    check_publication(house, APPROVER, [int(number)])
    found = at_once(
        lambda: publish_edition(house, APPROVER, [number], "Mine."),
        lambda: publish_edition(house, OTHER_APPROVER, [number], "Theirs."),
    )
    assert sorted(type(one).__name__ for one in found) == ["Conflict", "int"]
    assert newest(house) == 2
    with read(house.engine) as conn:
        assert standing_of(conn, int(number)) == ("published", 2)
        assert verify(conn).faults == ()


def test_publishing_and_going_back_at_once_come_one_after_the_other(house: House) -> None:
    publish_edition(house, APPROVER, [accepted(house, {ALPHA: SHORTER})], "A shorter wait.")
    number = accepted(house, {ALPHA: SALOON})
    check_publication(house, APPROVER, [int(number)])
    found = at_once(
        lambda: publish_edition(house, APPROVER, [number], "A body."),
        lambda: go_back(house, OTHER_APPROVER, 1, "Wrong wait."),
    )
    assert isinstance(found[1], int)
    # Whoever is second finds another edition than the checks were made against.
    assert isinstance(found[0], int | Conflict)
    assert newest(house) == (4 if isinstance(found[0], int) else 3)
    with read(house.engine) as conn:
        assert verify(conn).faults == ()
        assert standing_of(conn, int(number))[0] == ("published" if isinstance(found[0], int) else "open")
    assert listed(house).document == document(ALPHA)


def test_a_decision_while_somebody_publishes_is_in_it_or_open_still(house: House) -> None:
    number = int(brought(house, {ALPHA: SHORTER, BRAVO: SALOON}))
    decide(house, APPROVER, Judgement(number, ALPHA, "accept"))
    check_publication(house, APPROVER, [number])
    found = at_once(
        lambda: publish_edition(house, APPROVER, [number], "A wait."),
        lambda: decide(house, APPROVER, Judgement(number, BRAVO, "accept")),
    )
    assert not isinstance(found[1], ChockbookError)
    view = read_update(house, STEWARD, number, RecordsAsked())
    states = {line.code: line.state for line in view.lines}
    if isinstance(found[0], int) and states[BRAVO] == "published":
        assert states[ALPHA] == view.summary.state == "published"  # decided before the publication began
        return
    if isinstance(found[0], int):
        assert states == {ALPHA: "published", BRAVO: "accepted"}
    else:
        assert states == {ALPHA: "accepted", BRAVO: "accepted"}
    assert view.summary.state == "open"
    publish_edition(house, APPROVER, [number], "The rest.")
    assert (listed(house).document, listed(house, BRAVO).document) == (
        document(ALPHA, SHORTER), document(BRAVO, SALOON),
    )  # fmt: skip


# Killed on the way.


@pytest.mark.parametrize(
    ("database", "point"),
    [
        *(("sqlite", point) for point in POINTS),
        *(pytest.param("postgres", point, marks=pytest.mark.postgres) for point in IN_DATABASE),
    ],
    indirect=["database"],
)
def test_killed_at_any_step_it_is_the_old_edition_or_the_new_one(point: str, house: House, tmp_path: Path) -> None:
    number = accepted(house, {ALPHA: SHORTER})
    house.engine.dispose()
    killed(publish, str(tmp_path / "data"), house.settings.database_url, number, point)
    found = open_house(house.settings)
    try:
        expected = 2 if point in PUBLISHED else 1
        assert newest(found) == expected
        with read(found.engine) as conn:
            assert verify(conn).faults == ()
            assert standing_of(conn, int(number)) == (("published", 2) if expected == 2 else ("open", None))
        assert (gates_of_edition(found, 2) is not None) is (expected == 2)
        acts = [entry.action for entry in read_trail(found, ADMINISTRATOR, TrailAsked()).entries]
        assert ("publish" in acts) is (expected == 2)
        # Readers have a whole edition throughout, and the one that was published once somebody compiles it.
        assert found.shelf.current().number in (1, expected)
        if is_behind(found):
            compile_latest(found)
        assert open_house(house.settings).shelf.current().number == expected
        # And nothing of it is in the way of going on.
        if expected == 1:
            assert publish_edition(found, APPROVER, [number], "Once more.") == 2
        assert listed(found).document == document(ALPHA, SHORTER)
    finally:
        found.engine.dispose()
