"""Doubts, crew reports, files of guides, the work list, and who fetched what."""

import sqlalchemy as sa
from alembic import op

from catalog.errors import BadInput
from migrations.guards import refuse_changes

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None

# What a person reads who tries it by hand, and the columns that name a row.
_FIXED = {
    "doubts": ("A doubt is never changed or removed; restore the fact by a new revision.", [["edition"]]),
    "crew_reports": ("A crew report is never changed or removed; close it on the work list.", [["id"]]),
    "notices": ("What holders of briefs were told is never changed or removed; tell them again.", [["id"]]),
    "work_decisions": ("A decision is never changed or removed; decide again.", [["id"]]),
    "files": ("A stored file is never changed or removed; store the right one beside it.", [["hash"]]),
    "source_files": ("A source file is never changed or removed; store the right one beside it.", [["key", "hash"]]),
}


def upgrade() -> None:
    _make_evidence()
    _make_counts()
    for table, (message, keys) in _FIXED.items():
        refuse_changes(table, message, keys)


def downgrade() -> None:
    raise BadInput(
        "Doubts and crew reports cannot be taken away: they say why crews were shown what they were.",
        cure="To start over, use a new database.",
    )


def _key(length: int) -> sa.types.TypeEngine[str]:
    return sa.String(length).with_variant(sa.String(length, collation="C"), "postgresql")


def _make_evidence() -> None:
    digest, key, kind = _key(64), _key(64), _key(16)
    op.create_table(
        "doubts",
        sa.Column("edition", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("code", key, nullable=False),
        sa.Column("path", sa.Text(), nullable=False),
        sa.Column("revision", digest, nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("time_us", sa.BigInteger(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("edition", name="pk_doubts"),
        sa.ForeignKeyConstraint(["edition"], ["editions.number"], name="fk_doubts_edition"),
        sa.ForeignKeyConstraint(["code"], ["records.code"], name="fk_doubts_code"),
        sa.ForeignKeyConstraint(["revision"], ["revisions.hash"], name="fk_doubts_revision"),
    )
    op.create_index("ix_doubts_code", "doubts", ["code"])
    op.create_table(
        "crew_reports",
        sa.Column("id", key, nullable=False),
        sa.Column("code", key, nullable=False),
        sa.Column("path", sa.Text(), nullable=False),
        sa.Column("revision", digest, nullable=False),
        sa.Column("words", sa.Text(), nullable=False),
        sa.Column("device", key, nullable=False),
        sa.Column("time_us", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_crew_reports"),
        sa.ForeignKeyConstraint(["code"], ["records.code"], name="fk_crew_reports_code"),
        sa.ForeignKeyConstraint(["revision"], ["revisions.hash"], name="fk_crew_reports_revision"),
    )
    op.create_table(
        "notices",
        sa.Column("id", key, nullable=False),
        sa.Column("code", key, nullable=False),
        sa.Column("path", sa.Text(), nullable=False),
        sa.Column("revision", digest, nullable=False),
        sa.Column("words", sa.Text(), nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("time_us", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_notices"),
        sa.ForeignKeyConstraint(["code"], ["records.code"], name="fk_notices_code"),
        sa.ForeignKeyConstraint(["revision"], ["revisions.hash"], name="fk_notices_revision"),
    )
    op.create_index("ix_notices_revision", "notices", ["revision"])
    op.create_table(
        "work_decisions",
        sa.Column("id", key, nullable=False),
        sa.Column("kind", kind, nullable=False),
        sa.Column("key", sa.Text(), nullable=False),
        sa.Column("action", kind, nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("time_us", sa.BigInteger(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("update_id", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_work_decisions"),
        sa.CheckConstraint("action IN ('closed', 'drafted', 'opened')", name=op.f("ck_work_decisions_action")),
    )
    op.create_index("ix_work_decisions_kind_key", "work_decisions", ["kind", "key"])
    op.create_table(
        "files",
        sa.Column("hash", digest, nullable=False),
        sa.Column("media_type", sa.Text(), nullable=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sa.PrimaryKeyConstraint("hash", name="pk_files"),
    )
    op.create_table(
        "source_files",
        sa.Column("key", key, nullable=False),
        sa.Column("hash", digest, nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("stated", sa.Integer(), nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("time_us", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("key", "hash", name="pk_source_files"),
        sa.ForeignKeyConstraint(["key"], ["sources.key"], name="fk_source_files_key"),
        sa.ForeignKeyConstraint(["hash"], ["files.hash"], name="fk_source_files_hash"),
        sa.CheckConstraint("stated IN (0, 1)", name=op.f("ck_source_files_stated")),
    )


def _make_counts() -> None:
    key = _key(64)
    op.create_table(
        "fetches",
        sa.Column("device", key, nullable=False),
        sa.Column("edition", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("first_day", sa.Integer(), nullable=False),
        sa.Column("last_day", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("device", "edition", name="pk_fetches"),
        sa.ForeignKeyConstraint(["edition"], ["editions.number"], name="fk_fetches_edition"),
        sa.CheckConstraint("last_day >= first_day", name=op.f("ck_fetches_days")),
    )
    op.create_table(
        "consulted",
        sa.Column("code", key, nullable=False),
        sa.Column("times", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("code", name="pk_consulted"),
        sa.ForeignKeyConstraint(["code"], ["records.code"], name="fk_consulted_code"),
        sa.CheckConstraint("times >= 1", name=op.f("ck_consulted_times")),
    )
    op.create_table(
        "verifications",
        sa.Column("id", key, nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("started_us", sa.BigInteger(), nullable=False),
        sa.Column("alive_us", sa.BigInteger(), nullable=False),
        sa.Column("done", sa.Integer(), nullable=False),
        sa.Column("total", sa.Integer(), nullable=False),
        sa.Column("ended_us", sa.BigInteger(), nullable=True),
        sa.Column("report", sa.LargeBinary(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_verifications"),
    )
