"""Review: decisions field by field and whole, two persons, edits, and records that moved on meanwhile."""

from collections.abc import Iterator

import pytest

from catalog.domain.caution import Caution
from catalog.errors import BadInput, Conflict, Forbidden, NotFound
from catalog.services.house import House, open_house
from catalog.services.publishing import publish_edition
from catalog.services.review_matters import record_in, standings
from catalog.services.review_records import ReviewRecord
from catalog.services.reviewing import (
    Accepted,
    Edit,
    Judgement,
    accept_rest,
    decide,
    edit,
    rebase,
    reopen,
    set_aside,
)
from catalog.store.engine import read
from catalog.store.updates import standing_of, update
from schemas.findings import Invalid
from tests.integration.conftest import Filled
from tests.integration.review_samples import (
    APPROVER,
    OTHER_APPROVER,
    READER,
    STEWARD,
    brought,
    document,
    listed,
    three_records,
)
from tests.integration.store_samples import ALPHA, BRAVO, CHARLIE
from tests.sample import REMOVE, said

WAIT, BODY, DOORS = "cutoff.methods[b].wait", "looks.body", "looks.doors"
SHORTER = {"cutoff.methods.1.wait.value": 30}
SALOON = {"looks.body.value": "saloon"}


@pytest.fixture
def house(filled: Filled, few_descriptions: None) -> Iterator[House]:
    made = open_house(filled(three_records))
    yield made
    made.engine.dispose()


def shown(house: House, number: str, code: str = ALPHA) -> ReviewRecord:
    with read(house.engine) as conn:
        told = update(conn, int(number))
        assert told is not None
        return record_in(conn, told, code)


def accept(house: House, who: object, number: str, path: str | None = None, code: str = ALPHA) -> ReviewRecord:
    return decide(house, who, Judgement(int(number), code, "accept", path))  # type: ignore[arg-type]


def test_what_changes_is_shown_most_pressing_first(house: House) -> None:
    number = brought(house, {ALPHA: {**SALOON, **SHORTER, "energy.packs.0.voltage": REMOVE}})
    record = shown(house, number)
    told = [(one.change.path, one.change.weighed.caution, one.change.weighed.critical) for one in record.changes]
    assert told == [
        (WAIT, Caution.LESS, True),
        ("energy.packs[a].voltage", Caution.MORE, True),
        (BODY, Caution.NEUTRAL, False),
    ]
    assert record.changes[0].cell == "cutting off!14:E"
    assert (record.state, record.open, record.stale) == ("open", 3, False)


def test_whoever_brought_it_in_cannot_accept_what_is_critical(house: House) -> None:
    number = brought(house, {ALPHA: {**SHORTER, **SALOON}}, APPROVER)
    for path in (WAIT, None):
        with pytest.raises(Forbidden, match="cannot also accept it"):
            accept(house, APPROVER, number, path)
    with pytest.raises(Forbidden, match="may not accept safety-critical"):
        accept(house, STEWARD, number, WAIT)
    assert accept(house, APPROVER, number, BODY).state == "open"
    assert accept(house, OTHER_APPROVER, number, WAIT).state == "accepted"
    with pytest.raises(Forbidden, match="may not bring in"):
        accept(house, READER, number, BODY)


def test_whoever_edited_it_cannot_accept_it_either(house: House) -> None:
    number = brought(house, {ALPHA: SHORTER})
    edit(house, APPROVER, Edit(int(number), ALPHA, WAIT, said(45), "The guide says 45."))
    record = shown(house, number)
    assert record.changes[0].hands == {STEWARD.name, APPROVER.name}
    with pytest.raises(Forbidden):
        accept(house, APPROVER, number, WAIT)
    accept(house, OTHER_APPROVER, number, WAIT)
    publish_edition(house, APPROVER, [number], "A wait of the guide's new issue.")
    assert listed(house).document == document(ALPHA, {"cutoff.methods.1.wait.value": 45})


def test_an_edit_asks_for_a_new_decision(house: House) -> None:
    number = brought(house, {ALPHA: {**SHORTER, **SALOON}})
    accept(house, APPROVER, number)
    edit(house, STEWARD, Edit(int(number), ALPHA, WAIT, said(45)))
    states = {one.change.path: one.state for one in shown(house, number).changes}
    assert states == {WAIT: "open", BODY: "open"}  # the record was accepted as a whole, which it is no more
    with pytest.raises(Invalid):
        edit(house, STEWARD, Edit(int(number), ALPHA, WAIT, said(-4)))
    with pytest.raises(BadInput, match="nothing of"):
        edit(house, STEWARD, Edit(int(number), ALPHA, WAIT, said(45)))


def test_a_field_can_be_left_out_and_the_rest_published(house: House) -> None:
    number = brought(house, {ALPHA: {**SHORTER, **SALOON, "looks.doors.value": 4}})
    accept(house, APPROVER, number, BODY)
    decide(house, APPROVER, Judgement(int(number), ALPHA, "reject", DOORS, "The picture shows five."))
    decide(house, STEWARD, Judgement(int(number), ALPHA, "comment", WAIT, "Ask the maker."))
    publish_edition(house, APPROVER, [number], "The body.")
    assert listed(house).document == document(ALPHA, SALOON)
    record = shown(house, number)
    # What was not decided is open still, and stands on what is listed now.
    assert [(one.change.path, one.state) for one in record.changes] == [(WAIT, "open"), (DOORS, "rejected")]
    assert record.changes[0].comments[0].words == "Ask the maker."
    assert not record.stale
    accept(house, APPROVER, number, WAIT)
    publish_edition(house, APPROVER, [number], "The wait.")
    assert listed(house).document == document(ALPHA, {**SHORTER, **SALOON})
    with read(house.engine) as conn:
        assert standing_of(conn, int(number)) == ("published", 3)


def test_a_decision_changed_counts_as_changed(house: House) -> None:
    number = brought(house, {ALPHA: SALOON})
    accept(house, APPROVER, number)
    decide(house, STEWARD, Judgement(int(number), ALPHA, "reject", BODY, "No."))
    assert shown(house, number).state == "rejected"
    with pytest.raises(BadInput, match="Nothing of it is accepted"):
        publish_edition(house, APPROVER, [number], "Nothing.")
    assert accept(house, APPROVER, number).state == "accepted"


def test_do_not_use_needs_a_second_person_too(house: House) -> None:
    number = brought(house, {BRAVO: None}, APPROVER)
    with pytest.raises(Forbidden):
        accept(house, APPROVER, number, code=BRAVO)
    accept(house, OTHER_APPROVER, number, code=BRAVO)
    publish_edition(house, APPROVER, [number], "Not to be used.")
    assert listed(house, BRAVO) is None
    with read(house.engine) as conn:
        assert standing_of(conn, int(number))[0] == "published"


def test_a_record_that_moved_on_is_a_conflict_and_nothing_is_lost(house: House) -> None:
    theirs = brought(house, {ALPHA: {**SHORTER, "looks.doors.value": 3}})
    mine = brought(house, {ALPHA: {"cutoff.methods.1.wait.value": 90, **SALOON}})
    accept(house, APPROVER, mine)
    accept(house, APPROVER, theirs)
    publish_edition(house, APPROVER, [theirs], "Theirs first.")
    with pytest.raises(Conflict, match="moved on"):
        publish_edition(house, APPROVER, [mine], "Mine.")
    with pytest.raises(Conflict, match="moved on"):
        accept(house, APPROVER, mine)
    before = shown(house, mine)
    assert before.stale
    # All three are there: what it was made against, what is listed by now, and what this update says.
    wait = next(one for one in before.changes if one.change.path == WAIT)
    assert [getattr(side, "value", None) for side in (wait.before, wait.change.old, wait.change.new)] == [60, 30, 90]
    after = rebase(house, STEWARD, int(mine), ALPHA)
    assert not after.stale
    assert [(one.change.path, one.state) for one in after.changes] == [(WAIT, "open"), (BODY, "open")]
    accept(house, APPROVER, mine)
    publish_edition(house, APPROVER, [mine], "Mine.")
    merged = {"cutoff.methods.1.wait.value": 90, "looks.doors.value": 3, **SALOON}
    assert listed(house).document == document(ALPHA, merged)
    with pytest.raises(Conflict):
        rebase(house, STEWARD, int(mine), ALPHA)


def test_changes_cannot_bring_back_a_record_set_to_do_not_use(house: House) -> None:
    mine, gone = brought(house, {BRAVO: SALOON}), brought(house, {BRAVO: None})
    accept(house, APPROVER, mine, code=BRAVO)
    accept(house, APPROVER, gone, code=BRAVO)
    publish_edition(house, APPROVER, [gone], "Not to be used.")
    with pytest.raises(Conflict, match="moved on"):
        publish_edition(house, APPROVER, [mine], "A change.")
    with pytest.raises(Conflict, match="do not use"):
        rebase(house, STEWARD, int(mine), BRAVO)
    assert listed(house, BRAVO) is None


def test_only_what_was_looked_at_is_decided(house: House) -> None:
    number = brought(house, {ALPHA: SHORTER})
    seen = shown(house, number).changes[0].of
    edit(house, STEWARD, Edit(int(number), ALPHA, WAIT, said(45)))
    with pytest.raises(Conflict, match="another since"):
        decide(house, APPROVER, Judgement(int(number), ALPHA, "accept", WAIT, of=seen))


def test_all_the_rest_at_once(house: House) -> None:
    number = brought(house, {ALPHA: SHORTER, BRAVO: SALOON, CHARLIE: SALOON})
    decide(house, STEWARD, Judgement(int(number), CHARLIE, "reject", BODY, "Not this one."))
    assert accept_rest(house, STEWARD, int(number), critical=True) == Accepted(1, 1, 0)
    assert accept_rest(house, APPROVER, int(number), critical=False) == Accepted(0, 0, 0)
    assert accept_rest(house, APPROVER, int(number), critical=True) == Accepted(1, 0, 0)
    with read(house.engine) as conn:
        told = update(conn, int(number))
        assert told is not None
        states = {one.line.code: one.state for one in standings(conn, told)}
    assert states == {ALPHA: "accepted", BRAVO: "accepted", CHARLIE: "rejected"}


def test_an_update_set_aside_is_closed_until_opened(house: House) -> None:
    number = brought(house, {ALPHA: SALOON})
    set_aside(house, STEWARD, int(number), "The maker took it back.")
    with pytest.raises(Conflict, match="set aside"):
        accept(house, APPROVER, number)
    reopen(house, STEWARD, int(number), "It came again.")
    assert accept(house, APPROVER, number).state == "accepted"
    with pytest.raises(Conflict):
        reopen(house, STEWARD, int(number), "Once more.")


def test_what_is_not_there(house: House) -> None:
    number = int(brought(house, {ALPHA: SALOON}))
    for judgement in (
        Judgement(99, ALPHA, "accept"),
        Judgement(number, BRAVO, "accept"),
        Judgement(number, ALPHA, "accept", WAIT),
    ):
        with pytest.raises(NotFound):
            decide(house, APPROVER, judgement)
    with pytest.raises(BadInput, match="no decision"):
        decide(house, APPROVER, Judgement(number, ALPHA, "perhaps"))
    with pytest.raises(BadInput, match="Nothing is said"):
        decide(house, APPROVER, Judgement(number, ALPHA, "comment"))
