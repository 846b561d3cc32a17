"""The first tables, and the triggers that keep what is published as it was published.

Going down from here would destroy every record of what crews were shown, so it is refused.
"""

import sqlalchemy as sa
from alembic import op

from catalog.errors import BadInput

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

# What a person reads who tries it by hand, and the columns that name a row. None of the tables
# lets a row be changed or removed.
_FIXED = {
    "records": ("A record code is never changed or removed; withdraw the record instead.", [["code"]]),
    "revisions": (
        "A revision is never changed or removed; publish a new revision, or withdraw the record.",
        [["hash"], ["code", "seq"], ["code", "prev"]],
    ),
    "sources": ("A published source is never changed or removed; publish the next issue.", [["key"]]),
    "vocabularies": ("A published vocabulary is never changed or removed; publish the new one.", [["hash"]]),
    "editions": (
        "An edition is never changed or removed; publish the next one, or go back to an earlier one.",
        [["number"], ["prev"], ["hash"], ["published_at_us"]],
    ),
}
_LISTINGS = "A listing is only ever closed, once; publish the next edition instead."
_LISTING_KEYS = [["kind", "key", "from_edition"]]
_SAME = ("kind", "key", "from_edition", "revision")


def upgrade() -> None:
    _make_tables()
    if op.get_bind().dialect.name == "postgresql":
        _guard_postgres()
    else:
        _guard_sqlite()


def downgrade() -> None:
    raise BadInput(
        "The first tables cannot be taken away: they hold what crews were shown.",
        cure="To start over, use a new database.",
    )


def _key(length: int) -> sa.types.TypeEngine[str]:
    return sa.String(length).with_variant(sa.String(length, collation="C"), "postgresql")


def _make_tables() -> None:
    digest, key, kind = _key(64), _key(64), _key(16)
    op.create_table(
        "records",
        sa.Column("code", key, nullable=False),
        sa.Column("created_us", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("code", name="pk_records"),
    )
    op.create_table(
        "revisions",
        sa.Column("hash", digest, nullable=False),
        sa.Column("code", key, nullable=False),
        sa.Column("seq", sa.Integer(), nullable=False),
        sa.Column("prev", digest, nullable=False),
        sa.Column("base", digest, nullable=False),
        sa.Column("format", sa.Integer(), nullable=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sa.Column("content_hash", digest, nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("time_us", sa.BigInteger(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("update_id", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("hash", name="pk_revisions"),
        sa.ForeignKeyConstraint(["code"], ["records.code"], name="fk_revisions_code"),
        sa.UniqueConstraint("code", "prev", name="uq_revisions_code_prev"),
        sa.UniqueConstraint("code", "seq", name="uq_revisions_code_seq"),
        sa.CheckConstraint("seq >= 1", name=op.f("ck_revisions_seq")),
    )
    op.create_table(
        "sources",
        sa.Column("key", key, nullable=False),
        sa.Column("hash", digest, nullable=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sa.PrimaryKeyConstraint("key", name="pk_sources"),
    )
    op.create_table(
        "vocabularies",
        sa.Column("hash", digest, nullable=False),
        sa.Column("key", key, nullable=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sa.PrimaryKeyConstraint("hash", name="pk_vocabularies"),
    )
    op.create_table(
        "editions",
        sa.Column("number", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("prev", digest, nullable=False),
        sa.Column("hash", digest, nullable=False),
        sa.Column("published_at_us", sa.BigInteger(), nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("number", name="pk_editions"),
        sa.UniqueConstraint("prev", name="uq_editions_prev"),
        sa.UniqueConstraint("hash", name="uq_editions_hash"),
        sa.UniqueConstraint("published_at_us", name="uq_editions_published_at_us"),
        sa.CheckConstraint("number >= 1", name=op.f("ck_editions_number")),
    )
    op.create_table(
        "listings",
        sa.Column("kind", kind, nullable=False),
        sa.Column("key", key, nullable=False),
        sa.Column("from_edition", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("revision", digest, nullable=False),
        sa.Column("to_edition", sa.Integer(), nullable=True),
        sa.Column("close_reason", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("kind", "key", "from_edition", name="pk_listings"),
        sa.ForeignKeyConstraint(["from_edition"], ["editions.number"], name="fk_listings_from_edition"),
        sa.ForeignKeyConstraint(["to_edition"], ["editions.number"], name="fk_listings_to_edition"),
        sa.CheckConstraint("kind IN ('record', 'source', 'vocabulary')", name=op.f("ck_listings_kind")),
        sa.CheckConstraint("to_edition > from_edition", name=op.f("ck_listings_interval")),
        sa.CheckConstraint("close_reason IS NULL OR to_edition IS NOT NULL", name=op.f("ck_listings_close_reason")),
    )
    op.create_index("ix_listings_from_edition", "listings", ["from_edition"])
    op.create_index("ix_listings_to_edition", "listings", ["to_edition"])
    still = sa.text("to_edition IS NULL")
    op.create_index(
        "ix_listings_open", "listings", ["kind", "key"], unique=True, sqlite_where=still, postgresql_where=still
    )
    lock = op.create_table(
        "publication_lock",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_publication_lock"),
        sa.CheckConstraint("id = 1", name=op.f("ck_publication_lock_one_row")),
    )
    op.bulk_insert(lock, [{"id": 1}])


def _guard_sqlite() -> None:
    for table, (message, keys) in _FIXED.items():
        _trigger_sqlite(table, "UPDATE", "", message)
        _trigger_sqlite(table, "DELETE", "", message)
        _no_replacing_sqlite(table, keys, message)
    same = " AND ".join(f"NEW.{column} = OLD.{column}" for column in _SAME)
    closing = f"OLD.to_edition IS NULL AND NEW.to_edition IS NOT NULL AND {same}"
    _trigger_sqlite("listings", "UPDATE", f"WHEN ({closing}) IS NOT 1", _LISTINGS)
    _trigger_sqlite("listings", "DELETE", "", _LISTINGS)
    _no_replacing_sqlite("listings", _LISTING_KEYS, _LISTINGS)


def _no_replacing_sqlite(table: str, keys: list[list[str]], message: str) -> None:
    # INSERT OR REPLACE deletes the row in its way without running delete triggers.
    there = []
    for key in keys:
        same = " AND ".join(f"{column} = NEW.{column}" for column in key)
        there.append(f"EXISTS (SELECT 1 FROM {table} WHERE {same})")  # noqa: S608 - all names are from this file
    _trigger_sqlite(table, "INSERT", f"WHEN {' OR '.join(there)}", message)


def _trigger_sqlite(table: str, action: str, when: str, message: str) -> None:
    op.execute(
        f"CREATE TRIGGER {table}_{action.lower()} BEFORE {action} ON {table} {when} "
        f"BEGIN SELECT RAISE(ABORT, '{message}'); END"
    )


def _guard_postgres() -> None:
    op.execute(
        "CREATE FUNCTION chockbook_refuse() RETURNS trigger LANGUAGE plpgsql AS "
        "$$ BEGIN RAISE EXCEPTION USING MESSAGE = TG_ARGV[0], ERRCODE = 'restrict_violation'; END $$"
    )
    same = " AND ".join(f"NEW.{column} = OLD.{column}" for column in _SAME)
    op.execute(
        "CREATE FUNCTION chockbook_close_once() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
        f"IF OLD.to_edition IS NULL AND NEW.to_edition IS NOT NULL AND {same} THEN RETURN NEW; END IF; "
        "RAISE EXCEPTION USING MESSAGE = TG_ARGV[0], ERRCODE = 'restrict_violation'; END $$"
    )
    for table, (message, _) in _FIXED.items():
        _trigger_postgres(table, "UPDATE OR DELETE OR TRUNCATE", "STATEMENT", f"chockbook_refuse('{message}')")
    _trigger_postgres("listings", "UPDATE", "ROW", f"chockbook_close_once('{_LISTINGS}')")
    _trigger_postgres("listings", "DELETE OR TRUNCATE", "STATEMENT", f"chockbook_refuse('{_LISTINGS}')")


def _trigger_postgres(table: str, actions: str, each: str, call: str) -> None:
    name = f"{table}_{actions.split()[0].lower()}"
    op.execute(f"CREATE TRIGGER {name} BEFORE {actions} ON {table} FOR EACH {each} EXECUTE FUNCTION {call}")
