"""Doubts, crew reports, guides' files, what was done about the work list, and which device fetched which edition.

Doubts, reports, files and decisions are evidence: triggers refuse to change or remove them. Counts and the progress of
a verification are not.
"""

from sqlalchemy import BigInteger, CheckConstraint, Column, ForeignKey, Index, Integer, LargeBinary, Table, Text

from catalog.store.columns import HASH, KEY, KIND, metadata

# Every doubt published an edition of its own. path: of a fact, a list item, a list's completeness or a note, as the
# differences name them. revision: the one that said it. Whether it stands still is read from the listings.
doubts = Table(
    "doubts",
    metadata,
    Column("edition", Integer, ForeignKey("editions.number"), primary_key=True, autoincrement=False),
    Column("code", KEY, ForeignKey("records.code"), nullable=False),
    Column("path", Text, nullable=False),
    Column("revision", HASH, ForeignKey("revisions.hash"), nullable=False),
    Column("author", Text, nullable=False),
    Column("time_us", BigInteger, nullable=False),
    Column("reason", Text, nullable=False),
    Index("ix_doubts_code", "code"),
)

# What a crew saw that the record does not say. id: random, from whoever sends it; sent again it is the same report.
# path: of the fact it is about, "" where it is about the whole record. revision: the one they had before them.
crew_reports = Table(
    "crew_reports",
    metadata,
    Column("id", KEY, primary_key=True),
    Column("code", KEY, ForeignKey("records.code"), nullable=False),
    Column("path", Text, nullable=False),
    Column("revision", HASH, ForeignKey("revisions.hash"), nullable=False),
    Column("words", Text, nullable=False),
    Column("device", KEY, nullable=False),
    Column("time_us", BigInteger, nullable=False),
)

# That a photo came with a report. sent: SHA-256 of what was sent, so that the same again is known. hash: of the photo
# as it was drawn anew. What it shows is kept apart, since a face in it may have to be taken away.
report_photos = Table(
    "report_photos",
    metadata,
    Column("report", KEY, ForeignKey("crew_reports.id"), primary_key=True),
    Column("sent", HASH, nullable=False),
    Column("hash", HASH, nullable=False),
    Column("width", Integer, nullable=False),
    Column("height", Integer, nullable=False),
    Column("time_us", BigInteger, nullable=False),
    Index("ix_report_photos_time_us", "time_us"),
)

# What a report's photo shows: a JPEG without metadata. No evidence: its row may be removed.
photo_contents = Table(
    "photo_contents",
    metadata,
    Column("report", KEY, ForeignKey("report_photos.report"), primary_key=True),
    Column("content", LargeBinary, nullable=False),
)

# What the holders of briefs that rest on a fact are told: on the page of every brief about that revision.
notices = Table(
    "notices",
    metadata,
    Column("id", KEY, primary_key=True),
    Column("code", KEY, ForeignKey("records.code"), nullable=False),
    Column("path", Text, nullable=False),
    Column("revision", HASH, ForeignKey("revisions.hash"), nullable=False),
    Column("words", Text, nullable=False),
    Column("author", Text, nullable=False),
    Column("time_us", BigInteger, nullable=False),
    Index("ix_notices_revision", "revision"),
)

# What was done about an entry of the work list; the last of an entry counts. key: of the entry within its kind.
CLOSED, DRAFTED, OPENED = ACTIONS = ("closed", "drafted", "opened")
work_decisions = Table(
    "work_decisions",
    metadata,
    Column("id", KEY, primary_key=True),
    Column("kind", KIND, nullable=False),
    Column("key", Text, nullable=False),
    Column("action", KIND, nullable=False),
    Column("author", Text, nullable=False),
    Column("time_us", BigInteger, nullable=False),
    Column("reason", Text, nullable=False),
    Column("update_id", Text, nullable=False),
    CheckConstraint("action IN ('closed', 'drafted', 'opened')", name="action"),
    Index("ix_work_decisions_kind_key", "kind", "key"),
)

# Files, each once. hash: SHA-256 of the content.
files = Table(
    "files",
    metadata,
    Column("hash", HASH, primary_key=True),
    Column("media_type", Text, nullable=False),
    Column("content", LargeBinary, nullable=False),
)

# Which file is a source's. stated: whether the source document states this hash, or somebody said so.
source_files = Table(
    "source_files",
    metadata,
    Column("key", KEY, ForeignKey("sources.key"), primary_key=True),
    Column("hash", HASH, ForeignKey("files.hash"), primary_key=True),
    Column("name", Text, nullable=False),
    Column("stated", Integer, nullable=False),
    Column("author", Text, nullable=False),
    Column("time_us", BigInteger, nullable=False),
    CheckConstraint("stated IN (0, 1)", name="stated"),
)

# Which device, known by a random id alone, fetched which edition. Days since 1 January 1970, UTC. No evidence: counts.
fetches = Table(
    "fetches",
    metadata,
    Column("device", KEY, primary_key=True),
    Column("edition", Integer, ForeignKey("editions.number"), primary_key=True, autoincrement=False),
    Column("first_day", Integer, nullable=False),
    Column("last_day", Integer, nullable=False),
    CheckConstraint("last_day >= first_day", name="days"),
)

# How often each record was opened, by nobody in particular. No evidence: counts.
consulted = Table(
    "consulted",
    metadata,
    Column("code", KEY, ForeignKey("records.code"), primary_key=True),
    Column("times", Integer, nullable=False),
    CheckConstraint("times >= 1", name="times"),
)

# Verifications started from a page. report: JSON once it has ended. Rows are updated while one runs.
verifications = Table(
    "verifications",
    metadata,
    Column("id", KEY, primary_key=True),
    Column("author", Text, nullable=False),
    Column("started_us", BigInteger, nullable=False),
    Column("alive_us", BigInteger, nullable=False),
    Column("done", Integer, nullable=False),
    Column("total", Integer, nullable=False),
    Column("ended_us", BigInteger),
    Column("report", LargeBinary),
)
