"""What becomes of a brief later: a newer edition, a doubt, openings, a correction, a slip."""

import threading
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from catalog.domain.record import shape_of
from catalog.domain.roles import Role
from catalog.errors import BadInput, Conflict, Unavailable
from catalog.services import brief_acts as acts
from catalog.services import brief_openings as openings
from catalog.services.acting import actor_of
from catalog.services.brief_newer import newer_of
from catalog.services.briefs import BriefAsked, brief_by_token, briefs_with, compose_brief, read_brief
from catalog.services.compiling import compile_latest
from catalog.services.doubting import doubt
from catalog.services.handing_over import SlipAsked, Temperature, Tick, slip_form, write_slip
from catalog.services.house import House
from catalog.store.engine import read, write
from catalog.store.publish import Publication, publish
from catalog.store.read import latest, record_at
from tests.integration.brief_samples import CODE, DISPATCHER, house_on, without_database

STEWARD = actor_of("tamsin.orrell", Role.STEWARD, "test")
PATH = "cutoff.methods[a].place"


@pytest.fixture(params=["sqlite", pytest.param("postgres", marks=pytest.mark.postgres)])
def house(request: pytest.FixtureRequest, demo_data: Path, tmp_path: Path) -> Iterator[House]:
    with house_on(request, demo_data, tmp_path / "data") as made:
        yield made


def publish_change(house: House, change: str) -> None:
    """The next edition, in which the record says one thing otherwise. change: what of it."""
    with read(house.engine) as conn:
        newest = latest(conn)
        assert newest is not None
        found = record_at(conn, CODE, newest.number)
    assert found is not None
    document = found.document
    if change == "wait":
        document["cutoff"]["methods"][0]["wait"]["value"] = 540
    elif change == "telltale":
        document["looks"].pop("telltale")
    elif change == "new way":
        extra = {**document["cutoff"]["methods"][0], "id": "zz"}
        document["cutoff"]["methods"].append(extra)
    with write(house.engine) as conn:
        note = Publication(author="Ada Quill", reason=f"A test: {change}.", records={CODE: document})
        if change == "withdrawn":
            note = Publication(author="Ada Quill", reason="Withdrawn.", withdrawn={CODE: "Wrong in every way."})
        publish(conn, note, newest.published_at_us + 1)
    compile_latest(house)


@pytest.mark.parametrize("change", ["wait", "telltale", "new way", "withdrawn"])
def test_a_newer_edition_is_told_beside_a_brief_and_never_in_it(house: House, change: str) -> None:
    view = compose_brief(house, DISPATCHER, BriefAsked(codes=(CODE,)))
    assert view.newer is None
    publish_change(house, change)
    found = brief_by_token(house, view.link.removeprefix("/b/"))
    assert found.composed == view.composed
    assert found.newer is not None
    assert found.newer.edition == 4
    match change:
        case "wait":
            [fact] = found.newer.facts
            assert (fact.code, shape_of(fact.path), fact.now) == (CODE, "cutoff.methods[].wait", "9 min")
            assert fact.was != fact.now
            assert fact.doubted is None
        case "telltale":
            assert not found.newer.concerns, "a brief of one named vehicle says nothing of its telltale"
        case "new way":
            assert found.newer.concerns
            assert all("[zz]" in fact.path or fact.path.startswith("order.") for fact in found.newer.facts)
        case _:
            assert [tuple(gone) for gone in found.newer.gone] == [(CODE, "Wrong in every way.")]


def test_a_correction_says_what_changed_since(house: House) -> None:
    view = compose_brief(house, DISPATCHER, BriefAsked(codes=(CODE,), incident="0417", letter="B"))
    with pytest.raises(Conflict, match="reads otherwise"):
        acts.follow_up(house, DISPATCHER, view.id, BriefAsked())
    publish_change(house, "wait")
    made = acts.follow_up(house, DISPATCHER, view.id, BriefAsked(key="C" * 20))
    assert (made.kind, made.corrects, made.incident, made.letter, made.number) == (
        "correction", view.id, "0417", "B", 2,
    )  # fmt: skip
    assert made.brief.radio[0].startswith("CORRECTION")
    assert made.brief.changes
    assert "9 min" in " ".join(change.now for change in made.brief.changes)
    assert acts.follow_up(house, DISPATCHER, view.id, BriefAsked(key="C" * 20)).id == made.id
    [follower] = read_brief(house, DISPATCHER, view.id).followed_by
    assert (follower.id, follower.changes) == (made.id, made.brief.changes)
    acts.note_read_back(house, DISPATCHER, made.id, "Engine 4", "nine minutes")
    assert read_brief(house, DISPATCHER, made.id).read_back[0].words == "nine minutes"


def test_a_correction_of_a_description_weighs_its_cues_again(house: House) -> None:
    view = compose_brief(house, DISPATCHER, BriefAsked(text="white pickup, port left rear, badge brantok"))
    made = acts.follow_up(house, DISPATCHER, view.id, BriefAsked(scene={"fire": "yes"}))
    assert {one.code for one in made.composed.vehicles} == {one.code for one in view.composed.vehicles}
    assert made.composed.cues == view.composed.cues
    other = acts.follow_up(house, DISPATCHER, view.id, BriefAsked(codes=("2MP-XP4",)))
    assert [one.code for one in other.composed.vehicles] == ["2MP-XP4"]


def test_a_doubted_fact_is_told_as_doubted(house: House) -> None:
    view = compose_brief(house, DISPATCHER, BriefAsked(codes=(CODE,)))
    with read(house.engine) as conn:
        path = next(shape for shape in ("motion.switch_off",) if list(briefs_with(conn, CODE, shape)))
    doubt(house, STEWARD, CODE, path, "A crew saw it otherwise.")
    with read(house.engine) as conn:
        newer = newer_of(conn, view.composed)
    assert newer is not None
    [fact] = [one for one in newer.facts if one.path == path]
    assert fact.doubted is not None
    assert fact.now.startswith("not stated")


def test_openings_are_marked_on_disk_and_written_once(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    view = compose_brief(house, DISPATCHER, BriefAsked(codes=(CODE,)))
    for _ in range(3):
        openings.mark_opened(house, view.id)
    assert not read_brief(house, DISPATCHER, view.id).openings
    assert openings.write_openings(house) in (1, 2)  # a minute may have passed
    told = read_brief(house, DISPATCHER, view.id).openings
    assert told
    assert openings.write_openings(house) == 0
    # Killed after writing and before tidying up: the marks are there again, and write nothing more.
    with monkeypatch.context() as patch:
        patch.setattr(openings, "now_us", lambda: 90 * 60_000_000)
        openings.mark_opened(house, view.id)
        patch.setattr(Path, "unlink", lambda self, missing_ok=False: None)
        assert openings.write_openings(house) == 1
    assert openings.write_openings(house) == 0
    assert len(read_brief(house, DISPATCHER, view.id).openings) == len(told) + 1
    assert not list((house.settings.data / "opened").iterdir())


def test_marks_wait_while_the_database_is_away(house: House, tmp_path: Path) -> None:
    view = compose_brief(house, DISPATCHER, BriefAsked(codes=(CODE,)))
    away = without_database(house, tmp_path / "away")
    openings.mark_opened(away, view.id)
    with pytest.raises(Unavailable):
        openings.write_openings(away)
    assert len(list((tmp_path / "away" / "opened").iterdir())) == 1
    stop = threading.Event()
    stop.set()
    thread = openings.keep_openings(away, stop)
    thread.join(10)
    assert not thread.is_alive()


def test_a_strange_file_among_the_marks_is_left_alone(house: House) -> None:
    folder = house.settings.data / "opened"
    folder.mkdir()
    (folder / "B-2222222222.1").touch()  # of no brief
    (folder / "notes.txt").touch()
    assert openings.write_openings(house) == 0
    assert [path.name for path in folder.iterdir()] == ["notes.txt"]


def test_a_slip_is_kept_and_linked_and_follows_its_brief(house: House) -> None:
    view = compose_brief(house, DISPATCHER, BriefAsked(codes=(CODE,), incident="0417"))
    key = slip_form(house, DISPATCHER, view.id)[4].key
    asked = SlipAsked(
        (Tick(key, "done", "02:55"),), {}, (Temperature("03:10", "41 °C at the sill, ring 07700 900123"),), "S" * 20
    )
    made = write_slip(house, DISPATCHER, view.id, asked)
    assert (made.kind, made.corrects, made.incident) == ("slip", view.id, "0417")
    said = [line for section in made.brief.full for line in section.lines]
    assert any(line.key == key and "02:55" in line.text for line in said)
    assert any("41 °C at the sill" in line.text for line in said)
    assert not any("07700" in line.text for line in said)
    assert any(line.text == "not said" for line in said)
    assert brief_by_token(house, made.link.removeprefix("/b/")).composed == made.composed
    assert write_slip(house, DISPATCHER, view.id, asked).id == made.id
    with pytest.raises(Conflict):
        write_slip(house, DISPATCHER, view.id, replace(asked, ticks=()))
    for wrong in (
        replace(asked, ticks=(Tick("dance", "done", ""),), key=""),
        replace(asked, ticks=(Tick(key, "perhaps", ""),), key=""),
        replace(asked, typed={"mood": "fine"}, key=""),
        replace(asked, temperatures=(Temperature("", ""),), key=""),
    ):
        with pytest.raises(BadInput):
            write_slip(house, DISPATCHER, view.id, wrong)
    with pytest.raises(BadInput, match="slip"):
        write_slip(house, DISPATCHER, made.id, replace(asked, key=""))
    with pytest.raises(BadInput, match="slip"):
        acts.follow_up(house, DISPATCHER, made.id, BriefAsked())
