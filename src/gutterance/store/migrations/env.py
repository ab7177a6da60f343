"""Alembic's entry: it runs on the connection that `store.migrating` opened, and nowhere else."""

from __future__ import annotations

from alembic import context

from gutterance.store.tables import metadata

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=metadata,
    render_as_batch=True,
    # SQLite's tables change within the transaction too, since we begin it ourselves
    transactional_ddl=True,
)
with context.begin_transaction():
    context.run_migrations()
