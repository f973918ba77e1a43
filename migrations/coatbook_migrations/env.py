"""Alembic's environment: the program passes a connection; `alembic check` by hand reads COATBOOK_BOOK."""

import os

from alembic import context
from sqlalchemy import Connection

from coatbook.store.engine import engine_for
from coatbook.store.types import render_item

metadata = None


def run(connection: Connection) -> None:
    context.configure(
        connection=connection,
        target_metadata=metadata,
        render_as_batch=True,
        render_item=render_item,
        compare_type=True,
        user_module_prefix="types.",
    )
    with context.begin_transaction():
        context.run_migrations()


given = context.config.attributes.get("connection")
if given is not None:
    metadata = context.config.attributes.get("metadata")
    run(given)
else:
    from coatbook.desk.all_tables import metadata

    with engine_for(os.environ["COATBOOK_BOOK"]).begin() as connection:
        run(connection)
