"""Incidents, briefs, their links and what became of them. None of it is ever changed or removed."""

import sqlalchemy as sa
from alembic import op

from catalog.errors import BadInput
from migrations.guards import refuse_changes

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None

# What a person reads who tries it by hand, and the columns that name a row.
_FIXED = {
    "incidents": ("An incident is never changed or removed.", [["id"]]),
    "briefs": (
        "A brief is never changed or removed; recall it, or correct it with another.",
        [["id"], ["incident", "letter", "number"], ["key_hash"]],
    ),
    "brief_records": ("What a brief was about is never changed or removed.", [["brief", "code"]]),
    "brief_links": ("A link is never changed or removed; it expires, or its brief is recalled.", [["token_hash"]]),
    "brief_events": ("What became of a brief is never changed or removed.", [["id"]]),
}


def upgrade() -> None:
    _make_tables()
    for table, (message, keys) in _FIXED.items():
        refuse_changes(table, message, keys)


def downgrade() -> None:
    raise BadInput(
        "Briefs cannot be taken away: they say what crews were told.",
        cure="To start over, use a new database.",
    )


def _make_tables() -> None:
    key = sa.String(64).with_variant(sa.String(64, collation="C"), "postgresql")
    kind = sa.String(16).with_variant(sa.String(16, collation="C"), "postgresql")
    op.create_table(
        "incidents",
        sa.Column("id", key, nullable=False),
        sa.Column("opened_us", sa.BigInteger(), nullable=False),
        sa.Column("opened_by", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_incidents"),
    )
    op.create_table(
        "briefs",
        sa.Column("id", key, nullable=False),
        sa.Column("incident", key, nullable=False),
        sa.Column("letter", kind, nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("kind", kind, nullable=False),
        sa.Column("corrects", key, nullable=True),
        sa.Column("edition", sa.Integer(), nullable=False),
        sa.Column("rules", key, nullable=False),
        sa.Column("composed_us", sa.BigInteger(), nullable=False),
        sa.Column("composed_by", sa.Text(), nullable=False),
        sa.Column("via", kind, nullable=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sa.Column("content_hash", key, nullable=False),
        sa.Column("key_hash", key, nullable=True),
        sa.Column("body_mac", key, nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_briefs"),
        sa.ForeignKeyConstraint(["incident"], ["incidents.id"], name="fk_briefs_incident"),
        sa.ForeignKeyConstraint(["corrects"], ["briefs.id"], name="fk_briefs_corrects"),
        sa.ForeignKeyConstraint(["edition"], ["editions.number"], name="fk_briefs_edition"),
        sa.UniqueConstraint("key_hash", name="uq_briefs_key_hash"),
        sa.UniqueConstraint("incident", "letter", "number", name="uq_briefs_incident_letter_number"),
        sa.CheckConstraint("kind IN ('brief', 'correction', 'slip')", name=op.f("ck_briefs_kind")),
        sa.CheckConstraint("kind = 'brief' OR corrects IS NOT NULL", name=op.f("ck_briefs_corrects")),
        sa.CheckConstraint("number >= 1", name=op.f("ck_briefs_number")),
        sa.CheckConstraint("letter BETWEEN 'A' AND 'Z' AND length(letter) = 1", name=op.f("ck_briefs_letter")),
        sa.CheckConstraint("(key_hash IS NULL) = (body_mac IS NULL)", name=op.f("ck_briefs_key")),
    )
    op.create_index("ix_briefs_composed_us", "briefs", ["composed_us"])
    op.create_index("ix_briefs_corrects", "briefs", ["corrects"])
    op.create_table(
        "brief_records",
        sa.Column("brief", key, nullable=False),
        sa.Column("code", key, nullable=False),
        sa.Column("revision", key, nullable=False),
        sa.PrimaryKeyConstraint("brief", "code", name="pk_brief_records"),
        sa.ForeignKeyConstraint(["brief"], ["briefs.id"], name="fk_brief_records_brief"),
        sa.ForeignKeyConstraint(["code"], ["records.code"], name="fk_brief_records_code"),
        sa.ForeignKeyConstraint(["revision"], ["revisions.hash"], name="fk_brief_records_revision"),
    )
    op.create_index("ix_brief_records_code", "brief_records", ["code"])
    op.create_table(
        "brief_links",
        sa.Column("token_hash", key, nullable=False),
        sa.Column("brief", key, nullable=False),
        sa.Column("made_us", sa.BigInteger(), nullable=False),
        sa.Column("made_by", sa.Text(), nullable=False),
        sa.Column("expires_us", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("token_hash", name="pk_brief_links"),
        sa.ForeignKeyConstraint(["brief"], ["briefs.id"], name="fk_brief_links_brief"),
        sa.CheckConstraint("expires_us > made_us", name=op.f("ck_brief_links_expires_us")),
    )
    op.create_index("ix_brief_links_brief", "brief_links", ["brief"])
    op.create_table(
        "brief_events",
        sa.Column("id", key, nullable=False),
        sa.Column("brief", key, nullable=False),
        sa.Column("kind", kind, nullable=False),
        sa.Column("time_us", sa.BigInteger(), nullable=False),
        sa.Column("said_by", sa.Text(), nullable=True),
        sa.Column("detail", sa.LargeBinary(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_brief_events"),
        sa.ForeignKeyConstraint(["brief"], ["briefs.id"], name="fk_brief_events_brief"),
        sa.CheckConstraint("kind IN ('sent', 'read_back', 'recalled', 'opened')", name=op.f("ck_brief_events_kind")),
        sa.CheckConstraint("(said_by IS NULL) = (kind = 'opened')", name=op.f("ck_brief_events_said_by")),
    )
    op.create_index("ix_brief_events_brief", "brief_events", ["brief"])
    once = sa.text("kind = 'recalled'")
    op.create_index(
        "ix_brief_events_recalled", "brief_events", ["brief"], unique=True, sqlite_where=once, postgresql_where=once
    )
