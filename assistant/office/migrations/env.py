"""Run by Alembic: brings the office's tables up to date over a connection that is open already."""

from alembic import context

from assistant.office.tables import METADATA

context.configure(connection=context.config.attributes["connection"], target_metadata=METADATA)
with context.begin_transaction():
    context.run_migrations()
