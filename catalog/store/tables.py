"""The tables, as they are after the last migration (the drift test holds the two together).

Nothing of the catalogue is updated or deleted, except that a listing is closed once: triggers made by
the migrations refuse the rest, of outcomes and calibrations too.
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

RECORD, SOURCE, VOCABULARY = KINDS = ("record", "source", "vocabulary")

records = Table(
    "records",
    metadata,
    Column("code", KEY, primary_key=True),
    Column("created_us", BigInteger, nullable=False),
)

# content: the canonical bytes of the document, as hashed. prev and base: "0" * 64 for none.
revisions = Table(
    "revisions",
    metadata,
    Column("hash", HASH, primary_key=True),
    Column("code", KEY, ForeignKey("records.code"), nullable=False),
    Column("seq", Integer, nullable=False),
    Column("prev", HASH, nullable=False),
    Column("base", HASH, nullable=False),
    Column("format", Integer, nullable=False),
    Column("content", LargeBinary, nullable=False),
    Column("content_hash", HASH, nullable=False),
    Column("author", Text, nullable=False),
    Column("time_us", BigInteger, nullable=False),
    Column("reason", Text, nullable=False),
    Column("update_id", Text, nullable=False),
    # A revision has one successor at most: a chain cannot fork.
    UniqueConstraint("code", "prev"),
    UniqueConstraint("code", "seq"),
    CheckConstraint("seq >= 1", name="seq"),
)

sources = Table(
    "sources",
    metadata,
    Column("key", KEY, primary_key=True),
    Column("hash", HASH, nullable=False),
    Column("content", LargeBinary, nullable=False),
)

vocabularies = Table(
    "vocabularies",
    metadata,
    Column("hash", HASH, primary_key=True),
    Column("key", KEY, nullable=False),
    Column("content", LargeBinary, nullable=False),
)

editions = Table(
    "editions",
    metadata,
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("prev", HASH, nullable=False, unique=True),
    Column("hash", HASH, nullable=False, unique=True),
    Column("published_at_us", BigInteger, nullable=False, unique=True),
    Column("author", Text, nullable=False),
    Column("reason", Text, nullable=False),
    CheckConstraint("number >= 1", name="number"),
)

# A member is listed in the editions [from_edition, to_edition). close_reason: only where it was
# withdrawn; a listing closed by a newer revision of the same member has none.
listings = Table(
    "listings",
    metadata,
    Column("kind", KIND, primary_key=True),
    Column("key", KEY, primary_key=True),
    Column("from_edition", Integer, ForeignKey("editions.number"), primary_key=True, autoincrement=False),
    Column("revision", HASH, nullable=False),
    Column("to_edition", Integer, ForeignKey("editions.number")),
    Column("close_reason", Text),
    CheckConstraint("kind IN ('record', 'source', 'vocabulary')", name="kind"),
    CheckConstraint("to_edition > from_edition", name="interval"),
    CheckConstraint("close_reason IS NULL OR to_edition IS NOT NULL", name="close_reason"),
    Index("ix_listings_from_edition", "from_edition"),
    Index("ix_listings_to_edition", "to_edition"),
)
# At most one open listing for a member.
Index(
    "ix_listings_open",
    listings.c.kind,
    listings.c.key,
    unique=True,
    sqlite_where=text("to_edition IS NULL"),
    postgresql_where=text("to_edition IS NULL"),
)

# In how many separate descriptions a word stayed unread. digest: HMAC-SHA-256 of the word under the host's
# own key. word: only from the third description on. No evidence: counts are updated.
KNOWN_FROM = 3
unread_words = Table(
    "unread_words",
    metadata,
    Column("digest", HASH, primary_key=True),
    Column("descriptions", Integer, nullable=False),
    Column("word", KEY),
    CheckConstraint("descriptions >= 1", name="descriptions"),
    CheckConstraint("word IS NULL OR descriptions >= 3", name="known"),
)

# What a described vehicle turned out to be: the cues and the outcome, nothing of who said it or when beyond the day.
# id: random, from whoever sends it; sent again it is the same outcome. day: since 1 January 1970, UTC. cues: canonical
# JSON. reader: hash of what read them.
CONFIRMED, NOT_THIS, NOT_LISTED = OUTCOMES = ("confirmed", "not_this", "not_listed")
PROOFS = ("badge", "vin", "steward")
outcomes = Table(
    "outcomes",
    metadata,
    Column("id", KEY, primary_key=True),
    Column("day", Integer, nullable=False),
    Column("edition", Integer, ForeignKey("editions.number"), nullable=False),
    Column("outcome", KIND, nullable=False),
    Column("code", KEY, ForeignKey("records.code")),
    Column("proof", KIND, nullable=False),
    Column("cues", LargeBinary, nullable=False),
    Column("reader", HASH, nullable=False),
    CheckConstraint("outcome IN ('confirmed', 'not_this', 'not_listed')", name="outcome"),
    CheckConstraint("proof IN ('badge', 'vin', 'steward')", name="proof"),
    CheckConstraint("(code IS NULL) = (outcome = 'not_listed')", name="code"),
)

# Fits to outcomes, the last of which counts. content: JSON.
calibrations = Table(
    "calibrations",
    metadata,
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("hash", HASH, nullable=False, unique=True),
    Column("content", LargeBinary, nullable=False),
    Column("time_us", BigInteger, nullable=False),
    CheckConstraint("number >= 1", name="number"),
)

# One row; whoever holds it publishes.
publication_lock = Table(
    "publication_lock",
    metadata,
    Column("id", Integer, primary_key=True, autoincrement=False),
    CheckConstraint("id = 1", name="one_row"),
)
