"""Triggers that keep rows as they were written, for tables that are evidence."""

from collections.abc import Sequence

from alembic import op


def refuse_changes(table: str, message: str, keys: Sequence[Sequence[str]]) -> None:
    """Refuse every change and removal of the table's rows, with `message` for who tries it by hand.

    keys: the column sets that name a row. All names are the migrations' own.
    """
    _refuse(table, message, keys, ("UPDATE", "DELETE"))


def refuse_removal(table: str, message: str, key: Sequence[str]) -> None:
    """Refuse that a row is removed or replaced; its other columns may change. key: the columns that name a row."""
    _refuse(table, message, [key], ("DELETE",))


def _refuse(table: str, message: str, keys: Sequence[Sequence[str]], acts: Sequence[str]) -> None:
    if op.get_bind().dialect.name == "postgresql":
        op.execute(
            f"CREATE TRIGGER {table}_{acts[0].lower()} BEFORE {' OR '.join(acts)} OR TRUNCATE ON {table} "
            f"FOR EACH STATEMENT EXECUTE FUNCTION chockbook_refuse('{message}')"
        )
        return
    # INSERT OR REPLACE deletes the row in its way without running delete triggers.
    same = [" AND ".join(f"{column} = NEW.{column}" for column in key) for key in keys]
    there = [f"EXISTS (SELECT 1 FROM {table} WHERE {condition})" for condition in same]  # noqa: S608 - own names
    for action, when in (*((act, "") for act in acts), ("INSERT", f"WHEN {' OR '.join(there)}")):
        op.execute(
            f"CREATE TRIGGER {table}_{action.lower()} BEFORE {action} ON {table} {when} "
            f"BEGIN SELECT RAISE(ABORT, '{message}'); END"
        )
