"""Confirmed outcomes: kept as cues and outcome only, once, for good; and what is fitted to them."""

import json
import shutil
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from alembic import command
from click.testing import CliRunner
from sqlalchemy import Engine, inspect
from sqlalchemy.exc import IntegrityError as Refused

from catalog.app import create_app
from catalog.cli.main import chockbook
from catalog.config import Settings
from catalog.domain.canonical import canonical_bytes
from catalog.errors import BadInput, Conflict, NotFound, Unavailable
from catalog.resolve.calibration.fitting import fitted
from catalog.resolve.calibration.keys import key_of, reader_hash
from catalog.resolve.calibration.labels import simulated_labels
from catalog.resolve.cue import Cue
from catalog.resolve.rows import unpacked
from catalog.services import calibration_kept, fitting_outcomes, outcomes
from catalog.services.calibrating import bring_calibration, check_current
from catalog.services.compiling import compile_latest
from catalog.services.fitting_outcomes import calibration_view, fit_outcomes
from catalog.services.house import House, open_house
from catalog.services.outcomes import UNLIKE, Outcome, collected, fresh_id, labels_of, note_outcome
from catalog.services.reading import read_description
from catalog.services.resolving import Description, resolve_description
from catalog.store import migrate
from catalog.store.engine import open_engine, read, sqlite_file, write
from catalog.store.outcomes import StoredOutcome, add_calibration, add_outcome, newest_calibration, outcome_counts
from tests.integration.store_samples import ALPHA, GUIDE, back, guide, put, record

CODE = "QPW-TF3"
SAID = "white pickup, port left rear, badge brantok"
STORED = StoredOutcome("an-id-of-sixteen", 20_000, 1, "confirmed", ALPHA, "badge", b"[]", "ab" * 32)


@pytest.fixture
def house(demo_data: Path, tmp_path: Path) -> Iterator[House]:
    made = opened(Path(shutil.copytree(demo_data, tmp_path / "data")))
    yield made
    made.engine.dispose()


def opened(folder: Path, database: Path | None = None) -> House:
    return open_house(Settings(folder, f"sqlite:///{database or folder / 'chockbook.db'}"))


def stored(house: House) -> bytes:
    """Every byte of the database, its log and its free pages included."""
    house.engine.dispose()
    return b"".join(path.read_bytes() for path in sorted(house.settings.data.glob("chockbook.db*")))


def outcome(house: House, text: str = SAID, name: str = "confirmed", code: str = CODE) -> Outcome:
    found = read_description(house, text)
    return Outcome(fresh_id(), found.edition.number, name, code, "badge", tuple(view.cue for view in found.cues))


@pytest.fixture
def published(engine: Engine) -> Engine:
    put(engine, 1, records={ALPHA: record("a1")}, sources={GUIDE: guide()})
    return engine


def test_an_outcome_is_stored_once_and_another_under_its_id_is_refused(published: Engine) -> None:
    with write(published) as conn:
        assert add_outcome(conn, STORED)
        assert not add_outcome(conn, replace(STORED, day=20_001))
    with pytest.raises(Conflict, match="under this id"), write(published) as conn:
        add_outcome(conn, replace(STORED, outcome="not_this"))
    with write(published) as conn:
        add_outcome(conn, replace(STORED, id="another-id-of-some", outcome="not_listed", code=None))
    with read(published) as conn:
        assert outcome_counts(conn) == {("confirmed", "badge"): 1, ("not_listed", "badge"): 1}


def test_calibrations_are_numbered_and_the_last_counts(published: Engine) -> None:
    with read(published) as conn:
        assert newest_calibration(conn) is None
    with write(published) as conn:
        assert add_calibration(conn, b"{}", 1) == 1
        assert add_calibration(conn, b"[]", 2) == 2
    with pytest.raises(Conflict), write(published) as conn:
        add_calibration(conn, b"{}", 3)
    with read(published) as conn:
        assert newest_calibration(conn) == (2, b"[]")


@pytest.mark.parametrize(
    "change",
    [
        "UPDATE outcomes SET day = 1",
        "DELETE FROM outcomes",
        "UPDATE calibrations SET time_us = 1",
        "DELETE FROM calibrations",
    ],
)
def test_neither_is_changed_or_removed(published: Engine, change: str) -> None:
    with write(published) as conn:
        add_outcome(conn, STORED)
        add_calibration(conn, b"{}", 1)
    with pytest.raises(Refused, match="never changed or removed"), write(published) as conn:
        conn.exec_driver_sql(change)


@pytest.mark.parametrize("table", ["outcomes", "calibrations"])
def test_neither_is_replaced(published: Engine, database: str, table: str) -> None:
    with write(published) as conn:
        add_outcome(conn, STORED)
        add_calibration(conn, b"{}", 1)
    key = {"outcomes": "id", "calibrations": "number"}[table]
    verb, tail = ("INSERT OR REPLACE", "") if database == "sqlite" else ("INSERT", "")
    if database == "postgres":
        tail = f" ON CONFLICT ({key}) DO UPDATE SET {key} = EXCLUDED.{key}"
    with pytest.raises(Refused, match="never changed or removed"), write(published) as conn:
        conn.exec_driver_sql(f"{verb} INTO {table} SELECT * FROM {table}{tail}")


@pytest.mark.parametrize(
    "wrong", [{"outcome": "maybe"}, {"proof": "guess"}, {"code": None}, {"outcome": "not_listed"}, {"edition": 9}]
)
def test_the_database_refuses_what_cannot_be(published: Engine, wrong: dict[str, object]) -> None:
    with pytest.raises(Refused), write(published) as conn:
        add_outcome(conn, replace(STORED, **wrong))  # type: ignore[arg-type]


def test_a_catalogue_from_before_outcomes_is_brought_up_to_date(empty_database_url: str) -> None:
    older = open_engine(empty_database_url)
    if file := sqlite_file(older):
        file.touch()
    config = migrate._config()
    with write(older) as conn:
        config.attributes["connection"] = conn
        command.upgrade(config, "0002")
    put(older, 1, records={ALPHA: record("a1")}, sources={GUIDE: guide()})
    assert migrate.pending(older)
    migrate.upgrade(older)
    with write(older) as conn:
        assert add_outcome(conn, STORED)
    assert {"outcomes", "calibrations"} <= set(inspect(older).get_table_names())
    older.dispose()


def test_only_cues_that_tell_vehicles_apart_are_kept(house: House) -> None:
    vin = "XYA12345678901234"
    text = f"white pickup of Zorblander Quimpette, badge blorpzang, VIN {vin}, smoke, ring 07700 900123, hit by a bus"
    before = stored(house)
    noted = note_outcome(house, outcome(house, text))
    assert not noted.again
    assert "vin" in noted.left_out
    everything = stored(house)
    assert len(everything) >= len(before)
    for private in (vin, vin[:9], "zorblander", "quimpette", "blorpzang", "07700 900123", "07700900123", text[:20]):
        assert private.lower().encode() not in everything.lower().replace(before.lower(), b"")
    [label] = labels_of(house)
    assert label.code == CODE
    assert {cue.attribute for cue in label.cues} <= {"body", "colour", "name"}
    assert {cue.vehicle for cue in label.cues} == {"A"}


def test_a_name_like_no_listed_one_is_kept_as_a_stand_in(house: House) -> None:
    note_outcome(house, outcome(house, "pickup, badge brantok"))
    note_outcome(house, outcome(house, "pickup, badge blorpzang", "not_listed", ""))
    names = {label.code: [cue.values for cue in label.cues if cue.attribute == "name"] for label in labels_of(house)}
    assert names[CODE] == [("brantok",)]
    assert names[""] in ([(UNLIKE,)], [])
    spoken = Outcome(fresh_id(), 3, "not_listed", "", "badge", (Cue("name", ("blorpzang",), (), ""),))
    note_outcome(house, spoken)
    assert [(UNLIKE,)] in [[cue.values for cue in label.cues] for label in labels_of(house)]


def test_what_cannot_be_an_outcome_is_refused(house: House) -> None:
    good = outcome(house)
    for wrong, error in (
        (replace(good, id="short"), BadInput),
        (replace(good, outcome="perhaps"), BadInput),
        (replace(good, proof="hearsay"), BadInput),
        (replace(good, outcome="not_listed"), BadInput),
        (replace(good, code=""), BadInput),
        (replace(good, code="QPW-TF4"), BadInput),
        (replace(good, cues=()), BadInput),
        (replace(good, edition=99), NotFound),
        (replace(good, edition=1, code=missing_from_first(house)), NotFound),
    ):
        with pytest.raises(error):
            note_outcome(house, wrong)
    assert collected(house).settled == 0


def missing_from_first(house: House) -> str:
    from catalog.services.records import list_records

    first = {entry.code for entry in list_records(house, edition=1)}
    return next(entry.code for entry in list_records(house) if entry.code not in first)


def test_more_than_sixty_a_minute_are_not_taken(house: House) -> None:
    good = outcome(house)
    for _ in range(60):
        note_outcome(house, replace(good, id=fresh_id()))
    with pytest.raises(Unavailable, match="More than 60 outcomes"):
        note_outcome(house, replace(good, id=fresh_id()))


def test_the_api_takes_the_cues_of_its_own_answer(house: House) -> None:
    app = create_app(house.settings)
    client = app.test_client()
    answer = client.post("/api/v1/resolve", json={"text": SAID}).get_json()
    told = ("attribute", "values", "denied", "doubt", "vehicle")
    body = {
        "id": fresh_id(),
        "edition": answer["edition"]["number"],
        "outcome": "confirmed",
        "code": answer["candidates"][0]["code"],
        "proof": "vin",
        "cues": [{name: cue[name] for name in told} for cue in answer["cues"]],
    }
    first, again = (client.post("/api/v1/outcomes", json=body) for _ in range(2))
    assert (first.status_code, first.get_json()["again"], first.get_json()["kept"]) == (200, False, 4)
    assert (again.status_code, again.get_json()["again"]) == (200, True)
    other = client.post("/api/v1/outcomes", json={**body, "outcome": "not_this"})
    assert other.status_code == 409
    assert client.post("/api/v1/outcomes", json={**body, "id": fresh_id(), "code": "222-222"}).status_code in (400, 404)
    refused = client.post("/api/v1/outcomes", json={**body, "said": SAID})
    assert refused.status_code == 400  # text is not taken
    assert collected(house).confirmed == 1
    app.extensions["chockbook"].engine.dispose()


def test_the_terminal_notes_an_outcome_and_says_what_is_missing(
    house: House, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("CHOCKBOOK_DATA", str(house.settings.data))
    run = CliRunner()
    noted = run.invoke(chockbook, ["outcome", SAID, "--is", CODE, "--proof", "badge"], obj=None)
    assert noted.exit_code == 0, noted.output
    assert "Noted: it is QPW-TF3, by its badge." in " ".join(noted.output.split())
    shown = run.invoke(chockbook, ["calibration"])
    assert "99 of 100 settled outcomes are missing" in shown.output
    told = json.loads(run.invoke(chockbook, ["calibration", "--json"]).output)
    assert (told["state"], told["outcomes"]["missing"], told["check"]["edition"]) == ("simulated", 99, 3)
    both = run.invoke(chockbook, ["outcome", SAID, "--is", CODE, "--not-listed", "--proof", "badge"])
    assert isinstance(both.exception, BadInput)
    few = run.invoke(chockbook, ["calibration", "fit"])
    assert isinstance(few.exception, BadInput)


def filled(house: House, count: int) -> None:
    """Outcomes of simulated calls, put into the database at once."""
    compiled = house.shelf.current()
    labels = simulated_labels(lambda code: unpacked(compiled.row_bytes(code)), compiled.tables, 0.12, count)
    with write(house.engine) as conn:
        for label in labels:
            cues = canonical_bytes([outcomes.packed_cue(cue) for cue in label.cues])
            name = "confirmed" if label.code else "not_listed"
            row = StoredOutcome(fresh_id(), 20_000, 3, name, label.code or None, "badge", cues, reader_hash())
            add_outcome(conn, row)


def test_a_hundred_outcomes_are_fitted_to_and_used_at_once_by_everyone(
    house: House, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    filled(house, 99)
    with pytest.raises(BadInput, match="a fit needs 100"):
        fit_outcomes(house)
    filled(house, 40)
    reader = opened(house.settings.data)
    assert resolve_description(reader, Description(SAID)).calibration.startswith("simulated: T = 0.97")
    made = fit_outcomes(house)
    fit = made.calibration
    assert (fit.state, fit.n >= 130, 0.6 <= fit.temperature <= 3) == ("field", True, True)
    assert sum(rate.shown for rate in fit.words) > 400
    told = f"field: T = {fit.temperature}, fitted to {fit.n} confirmed calls on {fit.made_on}"
    assert resolve_description(house, Description(SAID)).calibration == told
    reader.calibrations.forget()  # a second later
    assert resolve_description(reader, Description(SAID)).calibration == told
    # The next edition is checked again, with simulated descriptions and with the outcomes.
    back(house.engine, 30_000, 2)
    compile_latest(house)
    reader.shelf._looked = house.shelf._looked = -1.0
    assert check_current(house)
    known = house.calibrations.known(house.shelf.current())
    assert {(one.state, one.edition, one.carried) for one in known.checks} == {
        ("simulated", 4, True),
        ("field", 4, True),
    }
    # A host with a data folder of its own has it from the database.
    shutil.copytree(house.settings.data / "compiled", tmp_path / "other/compiled")
    shutil.rmtree(tmp_path / "other/compiled/calibration")
    host = opened(tmp_path / "other", house.settings.data / "chockbook.db")
    bring_calibration(host)
    check_current(host)
    assert resolve_description(host, Description(SAID)).calibration == told
    states = {one.state for one in host.calibrations.known(host.shelf.current()).checks}
    assert states == {"simulated", "field"}
    # Another reader: what outcomes were fitted to does not hold, and the answer says so.
    later = replace(key_of(""), reader="another")
    monkeypatch.setattr(calibration_kept, "key_of", lambda labels: later)
    other = opened(house.settings.data)
    said = resolve_description(other, Description(SAID)).calibration
    assert said.startswith("expert: T = 1.35, ")
    assert f"the field fit of {fit.made_on} is of another reading of descriptions" in said
    for each in (reader, host, other):
        each.engine.dispose()


def test_a_fit_that_is_worse_than_what_counts_is_refused(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    filled(house, 120)
    real = fitted
    monkeypatch.setattr(
        fitting_outcomes,
        "fitted",
        lambda labels, field: (lambda found: replace(found, held_out=found.held_out + 1.0))(real(labels, field)),
    )
    with pytest.raises(Conflict, match="worse than what counts now"):
        fit_outcomes(house)
    assert calibration_view(house).known.standing.state == "simulated"


def test_a_damaged_file_counts_as_none(house: House) -> None:
    compiled = house.shelf.current()
    assert house.calibrations.known(compiled).check is not None
    house.calibrations.checks_of(compiled).write_text("{}")
    (house.calibrations.folder / "field.json").write_text('{"fit": 3}')
    house.calibrations.forget()
    assert house.calibrations.known(compiled).check is None
    assert check_current(house)
    assert house.calibrations.known(compiled).standing.state == "simulated"
    assert not check_current(house)
