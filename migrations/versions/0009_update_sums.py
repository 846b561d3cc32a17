"""What lists of guide updates add up is found in an index, not beside the documents."""

from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_index("ix_update_records_summed", "update_records", ["number", "critical", "less"])


def downgrade() -> None:
    op.drop_index("ix_update_records_summed", "update_records")
