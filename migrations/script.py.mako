"""${message}

Before this ships: it must lose nothing. Published rows are evidence of what a crew was shown, so
no step may rewrite, drop or merge revisions, sources, vocabularies, editions or listings; add
tables and columns beside them. A new table that holds evidence needs its triggers, on SQLite and
on PostgreSQL. On SQLite do not use batch mode on such a table: it copies the table and drops the
old one, triggers included. Run it on a copy, and chockbook verify on both sides.
"""

import sqlalchemy as sa
from alembic import op
${imports if imports else ""}
revision = ${repr(up_revision)}
down_revision = ${repr(down_revision)}
branch_labels = ${repr(branch_labels)}
depends_on = ${repr(depends_on)}


def upgrade() -> None:
    ${upgrades if upgrades else "pass"}


def downgrade() -> None:
    ${downgrades if downgrades else "pass"}
