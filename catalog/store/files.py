"""Guides' files: written once, each content once."""

from dataclasses import asdict, dataclass

from sqlalchemy import Connection, select

from catalog.store.adding import inserting
from catalog.store.tables_doubts import files, source_files


@dataclass(frozen=True, slots=True)
class StoredFile:
    """A row of `source_files`."""

    key: str
    hash: str
    name: str
    stated: int
    author: str
    time_us: int


def add_file(conn: Connection, file: StoredFile, media_type: str, content: bytes) -> bool:
    """Store a file and whose it is; whether that is new."""
    there = select(files.c.hash).where(files.c.hash == file.hash)
    if conn.execute(there).first() is None:
        row = {"hash": file.hash, "media_type": media_type, "content": content}
        conn.execute(inserting(conn, files).on_conflict_do_nothing(index_elements=["hash"]), row)
    mine = select(source_files.c.key).where(source_files.c.key == file.key, source_files.c.hash == file.hash)
    if conn.execute(mine).first() is not None:
        return False
    adding = (
        inserting(conn, source_files)
        .on_conflict_do_nothing(index_elements=["key", "hash"])
        .returning(source_files.c.key)
    )
    return conn.execute(adding, asdict(file)).first() is not None


def files_of(conn: Connection, key: str) -> tuple[StoredFile, ...]:
    """The files of a source, the one stored last first."""
    wanted = select(source_files).where(source_files.c.key == key).order_by(source_files.c.time_us.desc())
    return tuple(StoredFile(**row._mapping) for row in conn.execute(wanted))


def files_listed(conn: Connection) -> dict[str, str]:
    """The hash of the file stored last, by source."""
    rows = conn.execute(select(source_files.c.key, source_files.c.hash).order_by(source_files.c.time_us))
    return {row.key: row.hash for row in rows}


def file_content(conn: Connection, digest: str) -> tuple[str, bytes]:
    """(media type, content) of a stored file."""
    row = conn.execute(select(files.c.media_type, files.c.content).where(files.c.hash == digest)).one()
    return row.media_type, bytes(row.content)
