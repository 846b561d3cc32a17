"""What described vehicles turned out to be, and the fits to it. Neither is ever changed or removed."""

import sqlalchemy as sa
from alembic import op

from catalog.errors import BadInput
from migrations.guards import refuse_changes

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

# What a person reads who tries it by hand, and the columns that name a row.
_FIXED = {
    "outcomes": ("A confirmed outcome is never changed or removed; note the right one beside it.", [["id"]]),
    "calibrations": ("A calibration is never changed or removed; fit again.", [["number"], ["hash"]]),
}


def upgrade() -> None:
    _make_tables()
    for table, (message, keys) in _FIXED.items():
        refuse_changes(table, message, keys)


def downgrade() -> None:
    raise BadInput(
        "Outcomes cannot be taken away: they say of what crews were shown whether it was right.",
        cure="To start over, use a new database.",
    )


def _make_tables() -> None:
    key = sa.String(64).with_variant(sa.String(64, collation="C"), "postgresql")
    kind = sa.String(16).with_variant(sa.String(16, collation="C"), "postgresql")
    op.create_table(
        "outcomes",
        sa.Column("id", key, nullable=False),
        sa.Column("day", sa.Integer(), nullable=False),
        sa.Column("edition", sa.Integer(), nullable=False),
        sa.Column("outcome", kind, nullable=False),
        sa.Column("code", key, nullable=True),
        sa.Column("proof", kind, nullable=False),
        sa.Column("cues", sa.LargeBinary(), nullable=False),
        sa.Column("reader", key, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_outcomes"),
        sa.ForeignKeyConstraint(["edition"], ["editions.number"], name="fk_outcomes_edition"),
        sa.ForeignKeyConstraint(["code"], ["records.code"], name="fk_outcomes_code"),
        sa.CheckConstraint("outcome IN ('confirmed', 'not_this', 'not_listed')", name=op.f("ck_outcomes_outcome")),
        sa.CheckConstraint("proof IN ('badge', 'vin', 'steward')", name=op.f("ck_outcomes_proof")),
        sa.CheckConstraint("(code IS NULL) = (outcome = 'not_listed')", name=op.f("ck_outcomes_code")),
    )
    op.create_table(
        "calibrations",
        sa.Column("number", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("hash", key, nullable=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sa.Column("time_us", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("number", name="pk_calibrations"),
        sa.UniqueConstraint("hash", name="uq_calibrations_hash"),
        sa.CheckConstraint("number >= 1", name=op.f("ck_calibrations_number")),
    )
