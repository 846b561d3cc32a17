"""Guide updates, what was decided of them, the checks before publishing, the watch list. None is ever changed."""

import sqlalchemy as sa
from alembic import op

from catalog.errors import BadInput
from migrations.guards import refuse_changes

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None

_FIXED = {
    "updates": ("A guide update is never changed or removed; bring in another.", [["number"], ["digest"]]),
    "update_records": ("What an update said is never changed or removed.", [["number", "code"]]),
    "update_decisions": ("A decision is never changed or removed; decide again.", [["number", "seq"]]),
    "gate_runs": ("Checks are never changed or removed; run them again.", [["number"], ["edition"]]),
    "watch_list": ("An entry of the watch list is never changed or removed; end it.", [["number"]]),
    "watch_list_ended": ("What ended a watch is never changed or removed.", [["number"]]),
}


def upgrade() -> None:
    _updates()
    _gates()
    for table, (message, keys) in _FIXED.items():
        refuse_changes(table, message, keys)


def downgrade() -> None:
    raise BadInput(
        "Guide updates cannot be taken away: they say who decided what crews were shown.",
        cure="To start over, use a new database.",
    )


def _key(length: int) -> sa.types.TypeEngine[str]:
    return sa.String(length).with_variant(sa.String(length, collation="C"), "postgresql")


def _updates() -> None:
    op.create_table(
        "updates",
        sa.Column("number", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("digest", _key(64), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("origin", _key(16), nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("time_us", sa.BigInteger(), nullable=False),
        sa.Column("edition", sa.Integer(), nullable=True),
        sa.Column("file_hash", _key(64), nullable=False),
        sa.Column("file", sa.LargeBinary(), nullable=False),
        sa.Column("sources", sa.LargeBinary(), nullable=False),
        sa.Column("findings", sa.LargeBinary(), nullable=False),
        sa.Column("records", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("number", name="pk_updates"),
        sa.UniqueConstraint("digest", name="uq_updates_digest"),
        sa.ForeignKeyConstraint(["edition"], ["editions.number"], name="fk_updates_edition"),
        sa.CheckConstraint("number >= 1", name=op.f("ck_updates_number")),
    )
    op.create_index("ix_updates_file_hash", "updates", ["file_hash"])
    op.create_table(
        "update_records",
        sa.Column("number", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("code", _key(64), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("action", _key(16), nullable=False),
        sa.Column("base", _key(64), nullable=False),
        sa.Column("document", sa.LargeBinary(), nullable=True),
        sa.Column("content_hash", _key(64), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("cells", sa.LargeBinary(), nullable=False),
        *(sa.Column(name, sa.Integer(), nullable=False) for name in ("changes", "critical", "less", "more")),
        sa.PrimaryKeyConstraint("number", "code", name="pk_update_records"),
        sa.ForeignKeyConstraint(["number"], ["updates.number"], name="fk_update_records_number"),
        sa.CheckConstraint("action IN ('added', 'changed', 'withdrawn')", name=op.f("ck_update_records_action")),
        sa.CheckConstraint("(document IS NULL) = (action = 'withdrawn')", name=op.f("ck_update_records_document")),
    )
    op.create_index("ix_update_records_code", "update_records", ["code"])
    op.create_table(
        "update_decisions",
        sa.Column("number", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("seq", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("kind", _key(16), nullable=False),
        sa.Column("code", _key(64), nullable=True),
        sa.Column("path", sa.Text(), nullable=True),
        sa.Column("of", _key(64), nullable=True),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("time_us", sa.BigInteger(), nullable=False),
        sa.Column("words", sa.Text(), nullable=False),
        sa.Column("content", sa.LargeBinary(), nullable=True),
        sa.PrimaryKeyConstraint("number", "seq", name="pk_update_decisions"),
        sa.ForeignKeyConstraint(["number"], ["updates.number"], name="fk_update_decisions_number"),
        sa.CheckConstraint(
            "kind IN ('accept', 'reject', 'comment', 'edit', 'rebase', 'set aside', 'reopen', 'publish')",
            name=op.f("ck_update_decisions_kind"),
        ),
        sa.CheckConstraint("seq >= 1", name=op.f("ck_update_decisions_seq")),
    )
    op.create_index("ix_update_decisions_code", "update_decisions", ["number", "code"])


def _gates() -> None:
    op.create_table(
        "gate_runs",
        sa.Column("number", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("before", _key(64), nullable=False),
        sa.Column("candidate", _key(64), nullable=False),
        sa.Column("edition", sa.Integer(), nullable=True),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("time_us", sa.BigInteger(), nullable=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sa.PrimaryKeyConstraint("number", name="pk_gate_runs"),
        sa.UniqueConstraint("edition", name="uq_gate_runs_edition"),
        sa.ForeignKeyConstraint(["edition"], ["editions.number"], name="fk_gate_runs_edition"),
        sa.CheckConstraint("number >= 1", name=op.f("ck_gate_runs_number")),
    )
    op.create_table(
        "watch_list",
        sa.Column("number", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("cues", sa.LargeBinary(), nullable=False),
        sa.Column("code", _key(64), nullable=False),
        sa.Column("rank", sa.Integer(), nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("time_us", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("number", name="pk_watch_list"),
        sa.ForeignKeyConstraint(["code"], ["records.code"], name="fk_watch_list_code"),
        sa.CheckConstraint("number >= 1", name=op.f("ck_watch_list_number")),
        sa.CheckConstraint("rank BETWEEN 1 AND 10", name=op.f("ck_watch_list_rank")),
    )
    op.create_table(
        "watch_list_ended",
        sa.Column("number", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("time_us", sa.BigInteger(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("number", name="pk_watch_list_ended"),
        sa.ForeignKeyConstraint(["number"], ["watch_list.number"], name="fk_watch_list_ended_number"),
    )
