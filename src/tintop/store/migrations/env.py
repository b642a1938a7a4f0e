"""Alembic's door: run the steps on the connection handed over, all in one transaction."""

from alembic import context

from tintop.store.tables import metadata

connection = context.config.attributes["connection"]
context.configure(connection=connection, target_metadata=metadata, transactional_ddl=True)
with context.begin_transaction():
    context.run_migrations()
