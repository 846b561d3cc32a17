"""Opening the database, and the two ways to use it: `read` and `write`.

Both give a connection inside one transaction that sees one state of the catalogue throughout.
Engines are opened after a server has forked, never before.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, QueuePool, create_engine, event, make_url
from sqlalchemy.engine import URL, Dialect
from sqlalchemy.exc import ArgumentError, DBAPIError, InterfaceError, OperationalError

from catalog.errors import BadInput, ChockbookError, IntegrityError, Unavailable

# How long a second writer waits for the first, on either database.
BUSY_SECONDS = 5

# PostgreSQL's states for data_corrupted and index_corrupted.
_DAMAGED = ("XX001", "XX002")

_MODE = "chockbook_mode"
_CURE = "Set CHOCKBOOK_DATABASE to sqlite:////path/to/file.db or postgresql://user@host/name."


def open_engine(url: str) -> Engine:
    """An engine for a SQLite file or a PostgreSQL database. Connects to nothing yet, creates nothing.

    url: as SQLAlchemy writes them; postgresql:// means the psycopg driver. Raises BadInput.
    """
    try:
        parsed = make_url(url)
    except (ArgumentError, ValueError) as error:
        raise BadInput("The database address cannot be read.", cure=_CURE) from error
    match parsed.drivername:
        case "sqlite" | "sqlite+pysqlite":
            return _open_sqlite(parsed)
        case "postgresql" | "postgresql+psycopg":
            return _open_postgres(parsed)
        case other:
            raise BadInput(f"{other} is not a database this product runs on.", cure=_CURE)


@contextmanager
def read(engine: Engine) -> Iterator[Connection]:
    """A connection that cannot write and sees one state throughout. Raises Unavailable."""
    options: dict[str, Any] = {_MODE: "read"}
    if engine.dialect.name == "postgresql":
        options |= {"isolation_level": "REPEATABLE READ", "postgresql_readonly": True}
    # Rolled back at the end, having changed nothing: a damaged file may refuse even a commit.
    with _plain_errors(engine), engine.execution_options(**options).connect() as connection:
        yield connection


@contextmanager
def write(engine: Engine) -> Iterator[Connection]:
    """A connection that may write: committed at the end, undone by any error. Raises Unavailable.

    A second writer waits BUSY_SECONDS for the first, then is refused.
    """
    options = {_MODE: "write"}
    if engine.dialect.name == "postgresql":
        # Not a snapshot: after waiting for the lock a writer must see what the first one wrote.
        options |= {"isolation_level": "READ COMMITTED"}
    with _plain_errors(engine), engine.execution_options(**options).begin() as connection:
        if engine.dialect.name == "postgresql":
            connection.exec_driver_sql(f"SET LOCAL lock_timeout = '{BUSY_SECONDS}s'")
        yield connection


def sqlite_file(engine: Engine) -> Path | None:
    """The database file; None where the database is not a file."""
    return Path(str(engine.url.database)) if engine.dialect.name == "sqlite" else None


def damage(connection: Connection) -> Iterator[str]:
    """What SQLite itself finds wrong with its file. PostgreSQL has no such question to ask."""
    if connection.dialect.name == "sqlite":
        for line in connection.exec_driver_sql("PRAGMA integrity_check").scalars():
            if line != "ok":
                yield line


def is_damage(error: DBAPIError) -> bool:
    """Whether the database says that its own files are broken."""
    said = str(error.orig)
    return getattr(error.orig, "sqlstate", None) in _DAMAGED or "malformed" in said or "not a database" in said


@contextmanager
def reading_damaged(connection: Connection) -> Iterator[None]:
    """Within it, text that is not UTF-8 any more is read as lone surrogates and raises nothing."""
    driver: Any = connection.connection.dbapi_connection
    if not isinstance(driver, sqlite3.Connection):
        yield
        return
    driver.text_factory = lambda raw: raw.decode("utf-8", "surrogateescape")
    try:
        yield
    finally:
        driver.text_factory = str


def _open_sqlite(url: URL) -> Engine:
    if not url.database or url.database == ":memory:" or url.database.startswith("file:"):
        raise BadInput("The embedded database needs a file of its own.", cure=_CURE)
    path = Path(url.database).absolute()

    def connect() -> sqlite3.Connection:
        # mode=rw: a missing file is an error here; only a migration creates one. isolation_level
        # None: transactions begin where _begin says, not where the driver guesses.
        return sqlite3.connect(
            f"{path.as_uri()}?mode=rw",
            uri=True,
            timeout=BUSY_SECONDS,
            isolation_level=None,
            check_same_thread=False,
        )

    engine = create_engine(url.set(database=str(path), query={}), creator=connect, poolclass=QueuePool)
    event.listen(engine, "connect", _prepare_sqlite)
    event.listen(engine, "begin", _begin_sqlite)
    return engine


def _open_postgres(url: URL) -> Engine:
    url = url.set(drivername="postgresql+psycopg")
    if "connect_timeout" not in url.query:
        url = url.update_query_dict({"connect_timeout": str(BUSY_SECONDS)})
    return create_engine(url, pool_pre_ping=True)


def _prepare_sqlite(connection: sqlite3.Connection, _record: object) -> None:
    for pragma in ("journal_mode = WAL", "foreign_keys = ON", f"busy_timeout = {BUSY_SECONDS * 1000}"):
        connection.execute(f"PRAGMA {pragma}").close()


def _begin_sqlite(connection: Connection) -> None:
    mode = connection.get_execution_options().get(_MODE)
    connection.exec_driver_sql(f"PRAGMA query_only = {'ON' if mode == 'read' else 'OFF'}")
    connection.exec_driver_sql("BEGIN IMMEDIATE" if mode == "write" else "BEGIN")


@contextmanager
def _plain_errors(engine: Engine) -> Iterator[None]:
    try:
        yield
    except DBAPIError as error:
        explained = _explained(engine.dialect, sqlite_file(engine), error)
        if explained is None:
            raise
        raise explained from error


def _explained(dialect: Dialect, file: Path | None, error: DBAPIError) -> ChockbookError | None:
    """What the edges may tell a person; None when the error is a mistake in this program."""
    state = getattr(error.orig, "sqlstate", None)
    said = str(error.orig)
    if file is not None and not file.exists():
        return Unavailable(f"There is no catalogue at {file}.", cure="Set one up: chockbook demo --no-serve")
    if state == "42P01" or "no such table" in said:
        return Unavailable("The database has not been set up.", cure="Set it up: chockbook demo --no-serve")
    if state == "55P03" or "database is locked" in said:
        return Unavailable("Somebody else is publishing.", cure="Try again in a moment.")
    if state == "25006":
        return Unavailable("This database is read-only.", cure="If it follows another one, write there.")
    if is_damage(error):
        return IntegrityError(f"The database is damaged: {said}.", cure="Restore it from a copy.")
    if not isinstance(error, (OperationalError, InterfaceError)):
        return None
    return Unavailable(f"The {dialect.name} database cannot be used now: {said}.", cure="Try again in a moment.")
