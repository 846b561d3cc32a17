"""All tables, for the migrations: what the database must look like after the last one."""

from catalog.store import tables, tables_briefs, tables_doubts, tables_people, tables_updates
from catalog.store.columns import metadata

__all__ = ["metadata", "tables", "tables_briefs", "tables_doubts", "tables_people", "tables_updates"]
