"""Bringing a database to the tables this version knows. The steps are in the package `migrations`."""

import sqlite3
from contextlib import closing
from importlib.resources import files

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from alembic.util import CommandError
from sqlalchemy import Connection, Engine

from catalog.errors import Unavailable
from catalog.store.engine import read, sqlite_file, write

# Names the lock that keeps two hosts from migrating one PostgreSQL database together.
_LOCK = 0x43484F434B


def upgrade(engine: Engine) -> None:
    """Create what is missing, the SQLite file and its folder included; nothing when up to date.

    All steps in one transaction. Raises Unavailable, also when the database is newer than this
    version.
    """
    file = sqlite_file(engine)
    if file is not None and not file.exists():
        file.parent.mkdir(parents=True, exist_ok=True)
        with closing(sqlite3.connect(file)) as made:
            made.execute("PRAGMA journal_mode = WAL").close()
    with write(engine) as connection:
        if connection.dialect.name == "postgresql":
            connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_LOCK})")
        if _standing(connection) == _newest():
            return
        config = _config()
        config.attributes["connection"] = connection
        try:
            command.upgrade(config, "head")
        except CommandError as error:
            raise Unavailable(
                f"The database cannot be brought up to date: {error}.",
                cure="It may have been made by a newer version; install that one.",
            ) from error


def pending(engine: Engine) -> bool:
    """Whether `upgrade` has something to do. Creates nothing. Raises Unavailable."""
    file = sqlite_file(engine)
    if file is not None and not file.exists():
        return True
    with read(engine) as connection:
        return _standing(connection) != _newest()


def _standing(connection: Connection) -> set[str]:
    return set(MigrationContext.configure(connection).get_current_heads())


def _newest() -> set[str]:
    return set(ScriptDirectory.from_config(_config()).get_heads())


def _config() -> Config:
    config = Config()
    # A percent sign in the folder's name would be read as an interpolation.
    config.set_main_option("script_location", str(files("migrations")).replace("%", "%%"))
    return config
