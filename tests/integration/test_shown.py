"""Who was shown a fact, how it came to say what it says, and what is counted without anybody waiting for it."""

from collections.abc import Iterator

import pytest

from catalog.domain.roles import Role
from catalog.errors import BadInput, Forbidden, NotFound
from catalog.services.acting import actor_of
from catalog.services.briefs import BriefAsked, compose_brief
from catalog.services.counting import flush_counts
from catalog.services.doubting import doubt
from catalog.services.fact_history import fact_history
from catalog.services.house import House, open_house
from catalog.services.records import read_record
from catalog.services.shown import Telling, tell_holders, who_was_shown
from catalog.store.engine import read
from catalog.store.shown import consulted_times, notices_about
from tests.integration.conftest import Filled
from tests.integration.review_samples import two_of_the_demo

STEWARD = actor_of("tamsin.orrell", Role.STEWARD, "test")
DEVICE, OTHER = "d" * 24, "e" * 24
CODE, PATH = "QPW-TF3", "looks.body"


@pytest.fixture
def house(filled: Filled) -> Iterator[House]:
    made = open_house(filled(two_of_the_demo))
    yield made
    made.engine.dispose()


def port_place(house: House) -> str:
    facts = read_record(house, CODE).record.facts
    return next(path for path in facts if path.startswith("ports[") and path.endswith("].place"))


def test_devices_that_had_it_and_those_that_did_not(house: House) -> None:
    path = port_place(house)
    number = doubt(house, STEWARD, CODE, path, "Found elsewhere.")
    house.counts.note_fetch(DEVICE, 1)
    house.counts.note_fetch(OTHER, number)
    house.counts.note_fetch("short", 1)
    house.counts.note_fetch(DEVICE, 99)  # never published
    assert flush_counts(house) == 3
    house.counts.note_fetch(DEVICE, 1)  # again: the same row
    assert flush_counts(house) == 1
    assert flush_counts(house) == 0
    view = who_was_shown(house, STEWARD, CODE, path, 1)
    assert (view.device_count, [each.device for each in view.devices]) == (1, [DEVICE])
    assert view.spans == ((1, number),)
    assert view.said
    after = who_was_shown(house, STEWARD, CODE, path)
    assert (after.said, after.spans) == ("", ((number, None),))
    assert [each.device for each in after.devices] == [OTHER]


def test_briefs_that_rest_on_it_are_told(house: House) -> None:
    path = port_place(house)
    brief = compose_brief(house, STEWARD, BriefAsked(codes=(CODE,)))
    view = who_was_shown(house, STEWARD, CODE, path)
    assert [each.id for each in view.briefs] == [brief.id]
    assert tell_holders(house, STEWARD, Telling(CODE, path, "It is on the other side.", 1)) == 1
    [notice] = who_was_shown(house, STEWARD, CODE, path, 1).notices
    assert (notice.words, notice.author) == ("It is on the other side.", "tamsin.orrell")
    with read(house.engine) as conn:
        assert [each.path for each in notices_about(conn, [view.revision])] == [path]
    doubt(house, STEWARD, CODE, path, "Found elsewhere.")
    assert who_was_shown(house, STEWARD, CODE, path).briefs == ()  # nobody was shown that it is not stated


def test_only_who_may_and_only_what_is_there(house: House) -> None:
    with pytest.raises(Forbidden):
        who_was_shown(house, actor_of("a.reader", Role.READER, "test"), CODE, PATH)
    with pytest.raises(NotFound):
        who_was_shown(house, STEWARD, CODE, "identity.make")
    with pytest.raises(NotFound):
        who_was_shown(house, STEWARD, CODE, PATH, 7)
    with pytest.raises(BadInput):
        tell_holders(house, STEWARD, Telling(CODE, PATH, " ", 1))


def test_the_history_of_one_fact(house: House) -> None:
    path = port_place(house)
    elsewhere = next(own for own in read_record(house, CODE).record.facts if own != path)
    doubt(house, STEWARD, CODE, elsewhere, "Another thing.")  # a revision that does not touch it
    number = doubt(house, STEWARD, CODE, path, "Found elsewhere.")
    found = fact_history(house, CODE, path)
    assert [step.said == "" for step in found.steps] == [True, False]
    last, first = found.steps
    assert last.doubt is not None
    assert (last.doubt.reason, last.spans) == ("Found elsewhere.", ((number, None),))
    assert (first.seq, first.spans) == (1, ((1, number),))
    assert first.src
    assert first.doubt is None
    assert fact_history(house, CODE, "ports[zz].place").steps == ()


def test_opened_records_are_counted(house: House) -> None:
    for _ in range(3):
        house.counts.note_opened(CODE)
    house.counts.note_opened("QQQ-QQQ")  # no record
    flush_counts(house)
    house.counts.note_opened(CODE)
    flush_counts(house)
    with read(house.engine) as conn:
        assert consulted_times(conn) == {CODE: 4}


def test_counts_that_cannot_be_written_wait(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError("full")

    monkeypatch.setattr("catalog.services.counting.add_consulted", full)
    house.counts.note_opened(CODE)
    with pytest.raises(OSError, match="full"):
        flush_counts(house)
    assert house.counts.opened == {CODE: 1}
