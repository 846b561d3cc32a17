"""What Alembic runs: the steps, inside the transaction that catalog.store.migrate opened."""

from alembic import context

from catalog.store.schema import metadata

context.configure(connection=context.config.attributes["connection"], target_metadata=metadata)
with context.begin_transaction():
    context.run_migrations()
