"""Accounts, what they may send in their name, tries to sign in, and the trail of who did what."""

from sqlalchemy import (
    BigInteger,
    Boolean,
    CheckConstraint,
    Column,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    Table,
    Text,
)

from catalog.store.columns import HASH, KEY, KIND, metadata

# password: argon2id, encoded with its parameters. one_time: must be changed at the next sign-in. epoch: sign-ins
# made before it was raised have ended. A name is never used again, so no account is ever removed.
accounts = Table(
    "accounts",
    metadata,
    Column("name", KEY, primary_key=True),
    Column("shown", Text, nullable=False),
    Column("role", KIND, nullable=False),
    Column("password", Text, nullable=False),
    Column("one_time", Boolean, nullable=False),
    Column("password_us", BigInteger, nullable=False),
    Column("epoch", Integer, nullable=False),
    Column("created_us", BigInteger, nullable=False),
    Column("disabled_us", BigInteger),
    CheckConstraint("role IN ('reader', 'dispatcher', 'steward', 'approver', 'administrator')", name="role"),
    CheckConstraint("epoch >= 1", name="epoch"),
)

# What lets somebody act in an account's name: a sign-in on the pages or at a terminal, a token for a program.
# digest: SHA-256 of the secret, which is random and known to its holder only. rights: names, parted by spaces.
PAGE, TERMINAL, TOKEN = VIAS = ("page", "terminal", "token")
tokens = Table(
    "tokens",
    metadata,
    Column("id", KEY, primary_key=True),
    Column("account", KEY, ForeignKey("accounts.name"), nullable=False),
    Column("via", KIND, nullable=False),
    Column("digest", HASH, nullable=False, unique=True),
    Column("label", Text, nullable=False),
    Column("rights", Text, nullable=False),
    Column("epoch", Integer, nullable=False),
    Column("created_us", BigInteger, nullable=False),
    Column("expires_us", BigInteger, nullable=False),
    Column("revoked_us", BigInteger),
    CheckConstraint("via IN ('page', 'terminal', 'token')", name="via"),
    Index("ix_tokens_account", "account"),
)

# Tries to sign in, kept for a while to slow guessing down. account, address: HMAC-SHA-256 under the host's own key.
sign_in_attempts = Table(
    "sign_in_attempts",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("account", HASH, nullable=False),
    Column("address", HASH, nullable=False),
    Column("time_us", BigInteger, nullable=False),
    Column("good", Boolean, nullable=False),
    Index("ix_sign_in_attempts_account_time_us", "account", "time_us"),
    Index("ix_sign_in_attempts_address_time_us", "address", "time_us"),
)

# What catalog.domain.trail.TrailEntry covers. detail: canonical JSON.
trail = Table(
    "trail",
    metadata,
    Column("seq", Integer, primary_key=True, autoincrement=False),
    Column("prev", HASH, nullable=False, unique=True),
    Column("hash", HASH, nullable=False, unique=True),
    Column("time_us", BigInteger, nullable=False),
    Column("actor", KEY, nullable=False),
    Column("via", KIND, nullable=False),
    Column("action", KEY, nullable=False),
    Column("subject", Text, nullable=False),
    Column("detail", LargeBinary, nullable=False),
    CheckConstraint("seq >= 1", name="seq"),
    Index("ix_trail_actor", "actor"),
    Index("ix_trail_action", "action"),
    Index("ix_trail_time_us", "time_us"),
)
