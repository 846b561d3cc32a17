"""Words that stay unread, counted. Nothing here is evidence: the counts may go again."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    key = sa.String(64).with_variant(sa.String(64, collation="C"), "postgresql")
    op.create_table(
        "unread_words",
        sa.Column("digest", key, nullable=False),
        sa.Column("descriptions", sa.Integer(), nullable=False),
        sa.Column("word", key, nullable=True),
        sa.PrimaryKeyConstraint("digest", name="pk_unread_words"),
        sa.CheckConstraint("descriptions >= 1", name=op.f("ck_unread_words_descriptions")),
        sa.CheckConstraint("word IS NULL OR descriptions >= 3", name=op.f("ck_unread_words_known")),
    )


def downgrade() -> None:
    op.drop_table("unread_words")
