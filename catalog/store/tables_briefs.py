"""Incidents, the briefs composed in them, and what became of each brief.

All four are evidence: rows are added and never changed or removed. Nothing in them is from a caller: a brief
holds cues, record codes, the scene and its own wording.
"""

from sqlalchemy import (
    BigInteger,
    CheckConstraint,
    Column,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    Table,
    Text,
    UniqueConstraint,
    text,
)

from catalog.store.columns import HASH, KEY, KIND, metadata

# id: the control room's own number, or drawn at random.
incidents = Table(
    "incidents",
    metadata,
    Column("id", KEY, primary_key=True),
    Column("opened_us", BigInteger, nullable=False),
    Column("opened_by", Text, nullable=False),
)

# content: canonical JSON of what was composed and from what, as hashed. number: counts within the incident and
# letter. corrects: what a correction puts right, or whose crew hands over with a slip. rules: hash of the rules and
# wording. key_hash: SHA-256 of who asked and the idempotency key; body_mac: HMAC of the request under that key, which
# is not stored, so that what was said cannot be tried out against it.
BRIEF, CORRECTION, SLIP = BRIEF_KINDS = ("brief", "correction", "slip")
briefs = Table(
    "briefs",
    metadata,
    Column("id", KEY, primary_key=True),
    Column("incident", KEY, ForeignKey("incidents.id"), nullable=False),
    Column("letter", KIND, nullable=False),
    Column("number", Integer, nullable=False),
    Column("kind", KIND, nullable=False),
    Column("corrects", KEY, ForeignKey("briefs.id")),
    Column("edition", Integer, ForeignKey("editions.number"), nullable=False),
    Column("rules", HASH, nullable=False),
    Column("composed_us", BigInteger, nullable=False),
    Column("composed_by", Text, nullable=False),
    Column("via", KIND, nullable=False),
    Column("content", LargeBinary, nullable=False),
    Column("content_hash", HASH, nullable=False),
    Column("key_hash", HASH, unique=True),
    Column("body_mac", HASH),
    UniqueConstraint("incident", "letter", "number"),
    CheckConstraint("kind IN ('brief', 'correction', 'slip')", name="kind"),
    CheckConstraint("kind = 'brief' OR corrects IS NOT NULL", name="corrects"),
    CheckConstraint("number >= 1", name="number"),
    CheckConstraint("letter BETWEEN 'A' AND 'Z' AND length(letter) = 1", name="letter"),
    CheckConstraint("(key_hash IS NULL) = (body_mac IS NULL)", name="key"),
    Index("ix_briefs_composed_us", "composed_us"),
    Index("ix_briefs_corrects", "corrects"),
)

# The vehicles a brief may be about, each with its revision.
brief_records = Table(
    "brief_records",
    metadata,
    Column("brief", KEY, ForeignKey("briefs.id"), primary_key=True),
    Column("code", KEY, ForeignKey("records.code"), primary_key=True),
    Column("revision", HASH, ForeignKey("revisions.hash"), nullable=False),
    Index("ix_brief_records_code", "code"),
)

# A brief may have several links: one that was made cannot be shown again, only its hash is here.
brief_links = Table(
    "brief_links",
    metadata,
    Column("token_hash", HASH, primary_key=True),
    Column("brief", KEY, ForeignKey("briefs.id"), nullable=False),
    Column("made_us", BigInteger, nullable=False),
    Column("made_by", Text, nullable=False),
    Column("expires_us", BigInteger, nullable=False),
    CheckConstraint("expires_us > made_us", name="expires_us"),
    Index("ix_brief_links_brief", "brief"),
)

# What became of a brief. said_by: who says so; None for an opening, which nobody signs. detail: canonical JSON.
SENT, READ_BACK, RECALLED, OPENED = EVENTS = ("sent", "read_back", "recalled", "opened")
brief_events = Table(
    "brief_events",
    metadata,
    Column("id", KEY, primary_key=True),
    Column("brief", KEY, ForeignKey("briefs.id"), nullable=False),
    Column("kind", KIND, nullable=False),
    Column("time_us", BigInteger, nullable=False),
    Column("said_by", Text),
    Column("detail", LargeBinary, nullable=False),
    CheckConstraint("kind IN ('sent', 'read_back', 'recalled', 'opened')", name="kind"),
    CheckConstraint("(said_by IS NULL) = (kind = 'opened')", name="said_by"),
    Index("ix_brief_events_brief", "brief"),
)
# A brief is recalled once.
Index(
    "ix_brief_events_recalled",
    brief_events.c.brief,
    unique=True,
    sqlite_where=text("kind = 'recalled'"),
    postgresql_where=text("kind = 'recalled'"),
)
