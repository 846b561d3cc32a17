"""Rows that may be there already."""

from typing import Any

from sqlalchemy import Connection, Table
from sqlalchemy.dialects import postgresql, sqlite


def inserting(conn: Connection, table: Table) -> Any:
    """An insert into the table that takes `on_conflict_do_nothing` and `on_conflict_do_update`, of either database."""
    return (postgresql.insert if conn.dialect.name == "postgresql" else sqlite.insert)(table)
