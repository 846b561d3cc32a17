"""Guide updates as they came in, what was decided of each change, the checks before publishing, and the watch list.

Nothing here is updated or deleted: how an update stands follows from its decisions, the last of which counts.
"""

from sqlalchemy import BigInteger, CheckConstraint, Column, ForeignKey, Index, Integer, LargeBinary, Table, Text

from catalog.store.columns import HASH, KEY, KIND, metadata

ACCEPT, REJECT, COMMENT, EDIT, REBASE, SET_ASIDE, REOPEN, PUBLISH = (
    "accept",
    "reject",
    "comment",
    "edit",
    "rebase",
    "set aside",
    "reopen",
    "publish",
)

# digest: names what was brought and against which revisions, so that the same again is known. edition: the newest
# when it came in; none in an empty catalogue. file, sources, findings: compressed; the last two canonical JSON.
updates = Table(
    "updates",
    metadata,
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("digest", HASH, nullable=False, unique=True),
    Column("name", Text, nullable=False),
    Column("origin", KIND, nullable=False),
    Column("author", Text, nullable=False),
    Column("time_us", BigInteger, nullable=False),
    Column("edition", Integer, ForeignKey("editions.number")),
    Column("file_hash", HASH, nullable=False),
    Column("file", LargeBinary, nullable=False),
    Column("sources", LargeBinary, nullable=False),
    Column("findings", LargeBinary, nullable=False),
    Column("records", Integer, nullable=False),
    CheckConstraint("number >= 1", name="number"),
    Index("ix_updates_file_hash", "file_hash"),
)

# What an update says of one record. place: its position, most pressing first. document: compressed canonical JSON;
# none: do not use. cells: where each fact came from, compressed canonical JSON. changes, critical, less, more: how many
# fields differ from the base, are critical, leave a crew less or more cautious.
update_records = Table(
    "update_records",
    metadata,
    Column("number", Integer, ForeignKey("updates.number"), primary_key=True, autoincrement=False),
    Column("code", KEY, primary_key=True),
    Column("place", Integer, nullable=False),
    Column("title", Text, nullable=False),
    Column("action", KIND, nullable=False),
    Column("base", HASH, nullable=False),
    Column("document", LargeBinary),
    Column("content_hash", HASH, nullable=False),
    Column("reason", Text, nullable=False),
    Column("cells", LargeBinary, nullable=False),
    Column("changes", Integer, nullable=False),
    Column("critical", Integer, nullable=False),
    Column("less", Integer, nullable=False),
    Column("more", Integer, nullable=False),
    CheckConstraint("action IN ('added', 'changed', 'withdrawn')", name="action"),
    CheckConstraint("(document IS NULL) = (action = 'withdrawn')", name="document"),
    Index("ix_update_records_code", "code"),
    # What lists of updates add up, without going through the documents.
    Index("ix_update_records_summed", "number", "critical", "less"),
)

# code: the record decided of; none: the update. path: one field of it; none: all of it. of: names exactly what was
# decided of, so that nothing else counts as decided. words: reason or comment. content: what an edit or rebase brings.
update_decisions = Table(
    "update_decisions",
    metadata,
    Column("number", Integer, ForeignKey("updates.number"), primary_key=True, autoincrement=False),
    Column("seq", Integer, primary_key=True, autoincrement=False),
    Column("kind", KIND, nullable=False),
    Column("code", KEY),
    Column("path", Text),
    Column("of", HASH),
    Column("author", Text, nullable=False),
    Column("time_us", BigInteger, nullable=False),
    Column("words", Text, nullable=False),
    Column("content", LargeBinary),
    CheckConstraint(
        "kind IN ('accept', 'reject', 'comment', 'edit', 'rebase', 'set aside', 'reopen', 'publish')", name="kind"
    ),
    CheckConstraint("seq >= 1", name="seq"),
    Index("ix_update_decisions_code", "number", "code"),
)

# Checks before a publication, as they were shown. before: the hash of the edition they were made against. candidate:
# names what was to be published. edition: where it was published with them. content: canonical JSON.
gate_runs = Table(
    "gate_runs",
    metadata,
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("before", HASH, nullable=False),
    Column("candidate", HASH, nullable=False),
    Column("edition", Integer, ForeignKey("editions.number"), unique=True),
    Column("author", Text, nullable=False),
    Column("time_us", BigInteger, nullable=False),
    Column("content", LargeBinary, nullable=False),
    CheckConstraint("number >= 1", name="number"),
)

# Descriptions, kept as cues, that must find a record among the first `rank`. cues: canonical JSON.
watch_list = Table(
    "watch_list",
    metadata,
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("name", Text, nullable=False),
    Column("cues", LargeBinary, nullable=False),
    Column("code", KEY, ForeignKey("records.code"), nullable=False),
    Column("rank", Integer, nullable=False),
    Column("author", Text, nullable=False),
    Column("time_us", BigInteger, nullable=False),
    CheckConstraint("number >= 1", name="number"),
    CheckConstraint("rank BETWEEN 1 AND 10", name="rank"),
)

# Entries that are watched no more, and why.
watch_list_ended = Table(
    "watch_list_ended",
    metadata,
    Column("number", Integer, ForeignKey("watch_list.number"), primary_key=True, autoincrement=False),
    Column("author", Text, nullable=False),
    Column("time_us", BigInteger, nullable=False),
    Column("reason", Text, nullable=False),
)
