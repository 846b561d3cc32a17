"""The database, step by step: Alembic scripts that ship with the package.

May import: Alembic, SQLAlchemy, catalog.errors; env.py also catalog.store.tables, to compare.
Run through catalog.store.migrate, without a configuration file. A step that has shipped is never
edited: what it made is out there.
"""
