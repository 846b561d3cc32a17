"""The steps bring an empty database to exactly the tables that the store describes."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import quote

import pytest
from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext
from sqlalchemy import Engine, inspect

from catalog.errors import BadInput, Unavailable
from catalog.store import migrate, read
from catalog.store.engine import open_engine, sqlite_file, write
from catalog.store.engine import read as reading
from catalog.store.migrate import pending, upgrade
from catalog.store.schema import metadata
from tests.integration.store_samples import ALPHA, GUIDE, guide, put, record


@pytest.fixture
def empty(empty_database_url: str) -> Iterator[Engine]:
    engine = open_engine(empty_database_url)
    yield engine
    engine.dispose()


# Counts and progress: these rows are updated.
NO_EVIDENCE = {
    "publication_lock",
    "unread_words",
    "tokens",
    "sign_in_attempts",
    "fetches",
    "consulted",
    "photo_contents",
    "verifications",
}


def test_an_empty_database_is_brought_up_to_date(empty: Engine) -> None:
    assert pending(empty)
    upgrade(empty)
    assert not pending(empty)
    put(empty, 1, records={ALPHA: record("a1")}, sources={GUIDE: guide()})
    upgrade(empty)
    with reading(empty) as conn:
        assert len(read.editions(conn)) == 1


def test_the_steps_end_at_the_tables_described(engine: Engine) -> None:
    """No drift: what the steps made is what catalog.store.tables says."""
    with reading(engine) as conn:
        options = {"compare_type": True, "compare_server_default": True}
        assert compare_metadata(MigrationContext.configure(conn, opts=options), metadata) == []


def test_drift_would_be_noticed(engine: Engine) -> None:
    with write(engine) as conn:
        conn.exec_driver_sql("ALTER TABLE sources ADD COLUMN colour TEXT")
        conn.exec_driver_sql("DROP INDEX ix_listings_to_edition")
    with reading(engine) as conn:
        found = {entry[0] for entry in compare_metadata(MigrationContext.configure(conn), metadata)}
    assert found == {"remove_column", "add_index"}


def conditions(index: Any) -> list[str]:
    return [str(value) for name, value in sorted(index.get("dialect_options", {}).items()) if name.endswith("_where")]


def described(engine: Engine) -> dict[str, Any]:
    """Tables as the database itself describes them, with checks, partial indexes and collations."""
    inspector = inspect(engine)
    found: dict[str, Any] = {}
    for table in inspector.get_table_names():
        found[table] = {
            "columns": {
                c["name"]: (str(c["type"]), c["nullable"], getattr(c["type"], "collation", None))
                for c in inspector.get_columns(table)
            },
            "primary": inspector.get_pk_constraint(table)["constrained_columns"],
            "foreign": sorted(
                (str(key["name"]), key["constrained_columns"], key["referred_table"], key["referred_columns"])
                for key in inspector.get_foreign_keys(table)
            ),
            "unique": sorted(
                (str(key["name"]), key["column_names"]) for key in inspector.get_unique_constraints(table)
            ),
            "checks": sorted((str(key["name"]), key["sqltext"]) for key in inspector.get_check_constraints(table)),
            "indexes": sorted(
                (str(key["name"]), key["column_names"], key["unique"], conditions(key))
                for key in inspector.get_indexes(table)
            ),
        }
    return found


def test_steps_and_description_make_the_same_tables(engine: Engine, empty: Engine) -> None:
    """What Alembic does not compare: checks, partial indexes, collations, constraint names."""
    if path := sqlite_file(empty):
        path.touch()
    with write(empty) as conn:
        metadata.create_all(conn)
    by_steps = described(engine)
    assert by_steps.pop("alembic_version")
    by_description = described(empty)
    assert by_steps == by_description
    assert by_steps["listings"]["checks"]
    if engine.dialect.name == "postgresql":
        assert by_steps["listings"]["columns"]["key"][2] == "C"


def test_every_table_that_holds_evidence_has_its_triggers(engine: Engine) -> None:
    question = {
        "sqlite": "SELECT DISTINCT tbl_name FROM sqlite_master WHERE type = 'trigger'",
        "postgresql": "SELECT DISTINCT tgrelid::regclass::text FROM pg_trigger WHERE NOT tgisinternal",
    }[engine.dialect.name]
    with reading(engine) as conn:
        guarded = set(conn.exec_driver_sql(question).scalars())
    assert guarded == set(metadata.tables) - NO_EVIDENCE


def test_there_is_no_way_down(engine: Engine) -> None:
    config = migrate._config()

    def down() -> None:
        with write(engine) as conn:
            config.attributes["connection"] = conn
            command.downgrade(config, "base")

    with pytest.raises(BadInput, match="cannot be taken away"):
        down()
    assert not pending(engine)


def test_asking_creates_nothing(tmp_path: Path) -> None:
    engine = open_engine(f"sqlite:///{tmp_path / 'catalogue.db'}")
    assert pending(engine)
    assert list(tmp_path.iterdir()) == []
    engine.dispose()


def test_a_folder_with_any_name_will_do(tmp_path: Path) -> None:
    path = tmp_path / "a b%20é#?" / "cat%alogue.db"
    engine = open_engine(f"sqlite:///{quote(str(path))}")
    upgrade(engine)
    assert not pending(engine)
    assert path.stat().st_size > 0
    assert sqlite_file(engine) == path
    engine.dispose()


def test_a_database_of_a_newer_version_is_left_alone(engine: Engine) -> None:
    with write(engine) as conn:
        conn.exec_driver_sql("UPDATE alembic_version SET version_num = '9999'")
    with pytest.raises(Unavailable, match="newer version"):
        upgrade(engine)
    assert pending(engine)


def test_a_step_that_fails_leaves_the_database_as_it_was(empty: Engine, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object) -> None:
        raise RuntimeError("power cut")

    monkeypatch.setattr("alembic.operations.Operations.bulk_insert", fail)
    with pytest.raises(RuntimeError, match="power cut"):
        upgrade(empty)
    assert inspect(empty).get_table_names() == []
    monkeypatch.undo()
    upgrade(empty)
    assert not pending(empty)
