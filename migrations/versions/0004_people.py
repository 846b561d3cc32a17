"""Accounts, tokens, the trail of who did what."""

import sqlalchemy as sa
from alembic import op

from catalog.errors import BadInput
from migrations.guards import refuse_changes, refuse_removal

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None

_TRAIL = "The trail of who did what is never changed or removed."
_ACCOUNTS = "An account is never removed: what it did is kept under its name. Disable it."


def upgrade() -> None:
    key = sa.String(64).with_variant(sa.String(64, collation="C"), "postgresql")
    kind = sa.String(16).with_variant(sa.String(16, collation="C"), "postgresql")
    _make_accounts(key, kind)
    _make_tokens(key, kind)
    _make_attempts(key)
    _make_trail(key, kind)
    refuse_changes("trail", _TRAIL, [["seq"], ["prev"], ["hash"]])
    refuse_removal("accounts", _ACCOUNTS, ["name"])


def downgrade() -> None:
    raise BadInput(
        "Accounts and the trail cannot be taken away: they say who did what.",
        cure="To start over, use a new database.",
    )


def _make_accounts(key: sa.types.TypeEngine[str], kind: sa.types.TypeEngine[str]) -> None:
    op.create_table(
        "accounts",
        sa.Column("name", key, nullable=False),
        sa.Column("shown", sa.Text(), nullable=False),
        sa.Column("role", kind, nullable=False),
        sa.Column("password", sa.Text(), nullable=False),
        sa.Column("one_time", sa.Boolean(), nullable=False),
        sa.Column("password_us", sa.BigInteger(), nullable=False),
        sa.Column("epoch", sa.Integer(), nullable=False),
        sa.Column("created_us", sa.BigInteger(), nullable=False),
        sa.Column("disabled_us", sa.BigInteger(), nullable=True),
        sa.PrimaryKeyConstraint("name", name="pk_accounts"),
        sa.CheckConstraint(
            "role IN ('reader', 'dispatcher', 'steward', 'approver', 'administrator')", name=op.f("ck_accounts_role")
        ),
        sa.CheckConstraint("epoch >= 1", name=op.f("ck_accounts_epoch")),
    )


def _make_tokens(key: sa.types.TypeEngine[str], kind: sa.types.TypeEngine[str]) -> None:
    op.create_table(
        "tokens",
        sa.Column("id", key, nullable=False),
        sa.Column("account", key, nullable=False),
        sa.Column("via", kind, nullable=False),
        sa.Column("digest", key, nullable=False),
        sa.Column("label", sa.Text(), nullable=False),
        sa.Column("rights", sa.Text(), nullable=False),
        sa.Column("epoch", sa.Integer(), nullable=False),
        sa.Column("created_us", sa.BigInteger(), nullable=False),
        sa.Column("expires_us", sa.BigInteger(), nullable=False),
        sa.Column("revoked_us", sa.BigInteger(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_tokens"),
        sa.ForeignKeyConstraint(["account"], ["accounts.name"], name="fk_tokens_account"),
        sa.UniqueConstraint("digest", name="uq_tokens_digest"),
        sa.CheckConstraint("via IN ('page', 'terminal', 'token')", name=op.f("ck_tokens_via")),
    )
    op.create_index("ix_tokens_account", "tokens", ["account"])


def _make_attempts(key: sa.types.TypeEngine[str]) -> None:
    op.create_table(
        "sign_in_attempts",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("account", key, nullable=False),
        sa.Column("address", key, nullable=False),
        sa.Column("time_us", sa.BigInteger(), nullable=False),
        sa.Column("good", sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_sign_in_attempts"),
    )
    op.create_index("ix_sign_in_attempts_account_time_us", "sign_in_attempts", ["account", "time_us"])
    op.create_index("ix_sign_in_attempts_address_time_us", "sign_in_attempts", ["address", "time_us"])


def _make_trail(key: sa.types.TypeEngine[str], kind: sa.types.TypeEngine[str]) -> None:
    op.create_table(
        "trail",
        sa.Column("seq", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("prev", key, nullable=False),
        sa.Column("hash", key, nullable=False),
        sa.Column("time_us", sa.BigInteger(), nullable=False),
        sa.Column("actor", key, nullable=False),
        sa.Column("via", kind, nullable=False),
        sa.Column("action", key, nullable=False),
        sa.Column("subject", sa.Text(), nullable=False),
        sa.Column("detail", sa.LargeBinary(), nullable=False),
        sa.PrimaryKeyConstraint("seq", name="pk_trail"),
        sa.UniqueConstraint("prev", name="uq_trail_prev"),
        sa.UniqueConstraint("hash", name="uq_trail_hash"),
        sa.CheckConstraint("seq >= 1", name=op.f("ck_trail_seq")),
    )
    for column in ("actor", "action", "time_us"):
        op.create_index(f"ix_trail_{column}", "trail", [column])
