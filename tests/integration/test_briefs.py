"""Briefs as they are kept: fixed, unguessable, ended by time or recall, and without a word of the caller."""

import hashlib
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy.exc import IntegrityError as Refused

from catalog.config import Settings
from catalog.errors import BadInput, Conflict, Forbidden, NotFound, NotSignedIn
from catalog.services import brief_acts as acts
from catalog.services import briefs
from catalog.services.acting import Actor
from catalog.services.briefs import BriefAsked, brief_by_token, briefs_with, compose_brief, compose_unstored, read_brief
from catalog.services.clock import now_us
from catalog.services.house import House, open_house
from catalog.store.engine import read, write
from tests.integration.brief_samples import (
    ASKED,
    CALLER,
    CODE,
    DISPATCHER,
    READER,
    STEWARD,
    everything_stored,
    house_on,
    without_database,
)
from tests.integration.dying import before, killed


@pytest.fixture(scope="module", params=["sqlite", pytest.param("postgres", marks=pytest.mark.postgres)])
def house(request: pytest.FixtureRequest, demo_data: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[House]:
    """One for all: tests use incidents of their own."""
    with house_on(request, demo_data, tmp_path_factory.mktemp("briefs") / "data") as made:
        yield made


LONE = "2MP-XP4"  # briefed in one test only


def token_of(view: briefs.BriefView) -> str:
    return view.link.removeprefix("/b/")


def test_a_brief_is_kept_as_it_was_composed(house: House) -> None:
    view = compose_brief(house, DISPATCHER, replace(ASKED, key=""))
    assert (view.stored, view.mark, view.incident, view.letter) == (True, "", "0417", "A")
    assert view.composed.edition.number == 3
    again = read_brief(house, DISPATCHER, view.id)
    assert again.composed == view.composed
    assert (again.composed_by, again.link) == ("jonah.tellwright", "")
    assert CODE in {one.code for one in again.composed.vehicles}
    for one in again.composed.vehicles:
        assert one.revision == house.shelf.current().revision(one.code)[0]


def test_briefs_of_a_letter_are_numbered(house: House) -> None:
    asked = BriefAsked(codes=(CODE,), incident="0500")
    told = [compose_brief(house, DISPATCHER, replace(asked, letter=letter)) for letter in "ABA"]
    assert [(one.letter, one.number) for one in told] == [("A", 1), ("B", 1), ("A", 2)]
    found = briefs.read_incident(house, DISPATCHER, "0500")
    assert [(one.letter, one.number) for one in found.briefs] == [("A", 1), ("A", 2), ("B", 1)]
    assert found.opened_by == "jonah.tellwright"


def test_without_an_incident_one_is_opened(house: House) -> None:
    first, other = (compose_brief(house, DISPATCHER, BriefAsked(codes=(CODE,))) for _ in range(2))
    assert first.incident != other.incident
    assert first.incident.startswith("N-")


def test_who_may(house: House) -> None:
    with pytest.raises(NotSignedIn):
        compose_brief(house, None, ASKED)
    with pytest.raises(Forbidden):
        compose_brief(house, READER, ASKED)
    view = compose_brief(house, STEWARD, BriefAsked(codes=(CODE,)))
    acts_of: tuple[Callable[[Actor | None], object], ...] = (
        lambda actor: read_brief(house, actor, view.id),
        lambda actor: acts.mark_sent(house, actor, view.id, "radio"),
        lambda actor: acts.note_read_back(house, actor, view.id, "engine four"),
        lambda actor: acts.recall(house, actor, view.id, acts.Recall("wrong vehicle")),
        lambda actor: acts.follow_up(house, actor, view.id, BriefAsked()),
        lambda actor: briefs.new_link(house, actor, view.id),
    )
    for act in acts_of:
        with pytest.raises(NotSignedIn):
            act(None)
        with pytest.raises(Forbidden):
            act(READER)


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        (BriefAsked(letter="AB"), "letter"),
        (BriefAsked(letter=""), "letter"),
        (BriefAsked(letter="é"), "letter"),
        (BriefAsked(incident="Mr Lantwick"), "incident"),
        (BriefAsked(key="short"), "key"),
        (BriefAsked(scene={"fire": "perhaps"}), "fire"),
    ],
)
def test_what_cannot_be_is_refused(house: House, asked: BriefAsked, says: str) -> None:
    with pytest.raises(BadInput, match=says):
        compose_brief(house, DISPATCHER, asked)


def test_the_same_request_under_the_same_key_is_the_same_brief(house: House) -> None:
    asked = BriefAsked(text="white pickup", key="A" * 20)
    first, again = compose_brief(house, DISPATCHER, asked), compose_brief(house, DISPATCHER, asked)
    assert (first.id, first.incident, first.again) == (again.id, again.incident, False)
    assert again.again
    # Its first link is known by its hash alone: there is another, and both work.
    assert token_of(first) != token_of(again)
    for view in (first, again):
        assert brief_by_token(house, token_of(view)).id == first.id
    for other in (replace(asked, text="white pick-up"), replace(asked, letter="B"), replace(asked, incident="0417")):
        with pytest.raises(Conflict, match="under this key"):
            compose_brief(house, DISPATCHER, other)
    # A key is its owner's.
    assert compose_brief(house, STEWARD, asked).id != first.id


def test_requests_sent_at_once_under_one_key_give_one_brief(house: House) -> None:
    def compose(_: int) -> briefs.BriefView:
        return compose_brief(house, DISPATCHER, BriefAsked(text="white pickup", key="R" * 20))

    with ThreadPoolExecutor(8) as pool:
        made = list(pool.map(compose, range(8)))
    assert len({view.id for view in made}) == 1
    assert [view.again for view in made].count(False) == 1
    with read(house.engine) as conn:
        rows = conn.exec_driver_sql(f"SELECT count(*) FROM briefs WHERE incident = '{made[0].incident}'").scalar()
    assert rows == 1


def test_different_requests_at_once_under_one_key_give_one_brief_and_conflicts(house: House) -> None:
    def compose(number: int) -> str:
        try:
            asked = BriefAsked(codes=(CODE,), incident=f"race-{number}", key="S" * 20)
            return compose_brief(house, DISPATCHER, asked).id
        except Conflict:
            return "conflict"

    with ThreadPoolExecutor(8) as pool:
        made = list(pool.map(compose, range(8)))
    assert made.count("conflict") == 7


def test_briefs_composed_at_once_in_one_incident_are_numbered_through(house: House) -> None:
    def compose(_: int) -> int:
        return compose_brief(house, DISPATCHER, BriefAsked(codes=(CODE,), incident="crowded")).number

    with ThreadPoolExecutor(8) as pool:
        assert sorted(pool.map(compose, range(8))) == [*range(1, 9)]


@pytest.mark.parametrize("table", ["incidents", "briefs", "brief_records", "brief_links", "brief_events"])
def test_nothing_of_a_brief_is_changed_or_removed(house: House, table: str) -> None:
    view = compose_brief(house, DISPATCHER, BriefAsked(codes=(CODE,)))
    acts.mark_sent(house, DISPATCHER, view.id, "radio")
    column = {"incidents": "opened_by", "briefs": "composed_by", "brief_links": "made_by"}.get(table, "brief")
    for change in (f"UPDATE {table} SET {column} = 'x'", f"DELETE FROM {table}"):
        with pytest.raises(Refused, match="never changed or removed"), write(house.engine) as conn:
            conn.exec_driver_sql(change)


def test_a_brief_is_not_replaced(house: House) -> None:
    view = compose_brief(house, DISPATCHER, BriefAsked(codes=(CODE,), incident="0600"))
    if house.engine.dialect.name == "sqlite":
        how, tail = "INSERT OR REPLACE INTO", ""
    else:
        how, tail = "INSERT INTO", " ON CONFLICT (id) DO UPDATE SET composed_by = 'x'"
    columns = "id, incident, letter, number, kind, edition, rules, composed_us, composed_by, via, content, content_hash"
    wanted = columns.replace("composed_by", "'x'", 1)
    with pytest.raises(Refused, match="never changed or removed"), write(house.engine) as conn:
        conn.exec_driver_sql(f"{how} briefs ({columns}) SELECT {wanted} FROM briefs WHERE id = '{view.id}'{tail}")


def test_a_link_is_unguessable_and_only_its_hash_is_kept(house: House) -> None:
    links = {token_of(compose_brief(house, DISPATCHER, BriefAsked(codes=(CODE,)))) for _ in range(20)}
    assert len(links) == 20
    for token in links:
        assert len(token) == 22  # 128 bits, six a letter
    stored = everything_stored(house.engine)
    assert not any(token in stored for token in links)
    assert all(hashlib.sha256(token.encode()).hexdigest() in stored for token in links)
    for wrong in ("", "A" * 22, "\ud800", "../../etc"):
        with pytest.raises(NotFound):
            brief_by_token(house, wrong)


def test_a_link_ends(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    view = compose_brief(house, DISPATCHER, BriefAsked(codes=(CODE,)))
    assert view.expires_at is not None
    assert (view.expires_at - view.composed_at).total_seconds() == 72 * 3600
    now = now_us()
    monkeypatch.setattr(briefs, "now_us", lambda: now + 72 * 3_600_000_000 - 60_000_000)
    assert brief_by_token(house, token_of(view)).id == view.id
    monkeypatch.setattr(briefs, "now_us", lambda: now + 72 * 3_600_000_000 + 1)
    with pytest.raises(NotFound, match="ended"):
        brief_by_token(house, token_of(view))
    later = briefs.new_link(house, DISPATCHER, view.id)
    assert brief_by_token(house, token_of(later)).composed == view.composed


def test_a_recalled_brief_says_so_for_good(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    view = compose_brief(house, DISPATCHER, BriefAsked(codes=(CODE,)))
    acts.recall(house, STEWARD, view.id, acts.Recall("Wrong vehicle.", "Use brief B."))
    with pytest.raises(Conflict, match="recalled already"):
        acts.recall(house, STEWARD, view.id, acts.Recall("Again."))
    now = now_us()
    for later in (0, 80 * 3_600_000_000):  # also once the link has ended
        monkeypatch.setattr(briefs, "now_us", lambda later=later: now + later)
        found = brief_by_token(house, token_of(view))
        assert found.recalled is not None
        assert (found.recalled.why, found.recalled.instead, found.recalled.by) == (
            "Wrong vehicle.", "Use brief B.", "tamsin.orrell",
        )  # fmt: skip
        assert found.composed == view.composed


def test_two_recalls_at_once_are_one(house: House) -> None:
    view = compose_brief(house, DISPATCHER, BriefAsked(codes=(CODE,)))

    def recall(number: int) -> bool:
        try:
            acts.recall(house, STEWARD, view.id, acts.Recall(f"Reason {number}."))
        except Conflict:
            return False
        return True

    with ThreadPoolExecutor(6) as pool:
        assert list(pool.map(recall, range(6))).count(True) == 1


def test_what_was_sent_and_read_back_is_noted(house: House) -> None:
    view = compose_brief(house, DISPATCHER, BriefAsked(codes=(CODE,)))
    acts.mark_sent(house, DISPATCHER, view.id, "radio", "Engine 4")
    found = acts.note_read_back(house, STEWARD, view.id, "Engine 4", "port left front, leave it alone")
    [sent], [told] = found.sent, found.read_back
    assert (sent.form, sent.to, sent.by) == ("radio", "Engine 4", "jonah.tellwright")
    assert (told.who, told.words, told.by) == ("Engine 4", "port left front, leave it alone", "tamsin.orrell")
    with pytest.raises(BadInput, match="form"):
        acts.mark_sent(house, DISPATCHER, view.id, "smoke signals")
    with pytest.raises(BadInput, match="who"):
        acts.note_read_back(house, DISPATCHER, view.id, "  ")
    with pytest.raises(NotFound):
        acts.mark_sent(house, DISPATCHER, "B-2222222222", "radio")


def test_no_word_of_the_caller_is_stored(house: House, caplog: pytest.LogCaptureFixture) -> None:
    """In no row of any table, and in no log; but what was understood is there."""
    asked = replace(ASKED, incident="0417-P", key="P" * 20)
    with caplog.at_level("DEBUG"):
        view = compose_brief(house, DISPATCHER, asked)
        compose_brief(house, DISPATCHER, asked)
        acts.follow_up(house, DISPATCHER, view.id, BriefAsked(text=f"{CALLER} blue van", scene={"fire": "no"}))
    stored = everything_stored(house.engine).lower() + caplog.text.lower()
    for word in ("wilhelmina", "quistgaard", "07700 900123", "07700900123", "zebracorn", "velvetine"):
        assert word not in stored
    assert "p" * 20 not in stored
    kept = read_brief(house, DISPATCHER, view.id).composed
    assert {cue["attribute"] for cue in kept.cues} >= {"body", "port_place", "name"}


def test_a_name_that_is_like_no_listed_one_is_not_kept(house: House) -> None:
    view = compose_brief(house, DISPATCHER, BriefAsked(text="white pickup, badge says vexarella"))
    assert "vexarella" not in everything_stored(house.engine)
    assert view.composed.cues


def test_with_the_database_away_it_is_composed_unstored_and_marked(house: House, tmp_path: Path) -> None:
    stored = compose_brief(house, DISPATCHER, BriefAsked(text="white pickup, badge brantok"))
    away = without_database(house, tmp_path / "away")
    view = compose_brief(away, DISPATCHER, BriefAsked(text="white pickup, badge brantok"))
    assert view.composed == stored.composed
    assert (view.stored, view.id, view.link) == (False, "", "")
    assert view.mark.startswith("UNSTORED")
    nobody = compose_unstored(house, BriefAsked(text="white pickup, badge brantok"))
    assert nobody.composed == stored.composed
    assert nobody.mark.startswith("UNSTORED")


def test_which_briefs_were_about_a_fact(house: House) -> None:
    view = compose_brief(house, DISPATCHER, BriefAsked(codes=(LONE,)))
    with read(house.engine) as conn:
        found = [one.id for one in briefs_with(conn, LONE, "ports[a].place")]
        assert found == [view.id]
        assert [one.id for one in briefs_with(conn, LONE)] == [view.id]
        assert not list(briefs_with(conn, LONE, "looks.telltale"))
        assert view.id not in {one.id for one in briefs_with(conn, CODE, "ports[a].place")}


def _compose_and_die(data: str, url: str) -> None:
    before(briefs, "make_link")  # after the brief was written, before its transaction ends
    house = open_house(Settings(Path(data), url))
    compose_brief(house, DISPATCHER, BriefAsked(codes=(CODE,), incident="zq-unlucky-7", key="K" * 20))


def test_killed_while_storing_nothing_is_half_there_and_sending_again_works(house: House) -> None:
    killed(_compose_and_die, str(house.settings.data), house.settings.database_url)
    assert "zq-unlucky-7" not in everything_stored(house.engine)
    asked = BriefAsked(codes=(CODE,), incident="zq-unlucky-7", key="K" * 20)
    view = compose_brief(house, DISPATCHER, asked)
    assert (view.stored, view.again, view.number) == (True, False, 1)
    assert compose_brief(house, DISPATCHER, asked).id == view.id
