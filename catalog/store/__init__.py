"""Records, revisions, sources, vocabularies, editions: what is kept, and nothing overwritten.

May import: catalog.domain, catalog.errors, SQLAlchemy, Alembic. The only room that knows SQL.
Functions take an open connection: `engine.read` gives one that cannot write, `engine.write`
one whose transaction is a single publication. Times are UTC microseconds since 1970.
"""
