"""Photos of crew reports: that there is one is evidence, what it shows may be taken away."""

import sqlalchemy as sa
from alembic import op

from catalog.errors import BadInput
from migrations.guards import refuse_changes

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None


def upgrade() -> None:
    key = sa.String(64).with_variant(sa.String(64, collation="C"), "postgresql")
    op.create_table(
        "report_photos",
        sa.Column("report", key, nullable=False),
        sa.Column("sent", key, nullable=False),
        sa.Column("hash", key, nullable=False),
        sa.Column("width", sa.Integer(), nullable=False),
        sa.Column("height", sa.Integer(), nullable=False),
        sa.Column("time_us", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("report", name="pk_report_photos"),
        sa.ForeignKeyConstraint(["report"], ["crew_reports.id"], name="fk_report_photos_report"),
    )
    op.create_index("ix_report_photos_time_us", "report_photos", ["time_us"])
    op.create_table(
        "photo_contents",
        sa.Column("report", key, nullable=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sa.PrimaryKeyConstraint("report", name="pk_photo_contents"),
        sa.ForeignKeyConstraint(["report"], ["report_photos.report"], name="fk_photo_contents_report"),
    )
    refuse_changes("report_photos", "That a photo came is never changed or removed.", [["report"]])


def downgrade() -> None:
    raise BadInput(
        "Photos of crew reports cannot be taken away by a step back: they say why a record was changed.",
        cure="To start over, use a new database.",
    )
