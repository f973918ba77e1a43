"""Purchases keep the number on the supplier's own invoice."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    # A plain ADD COLUMN: rebuilding the table would drop its guards and, with foreign keys on, lose its lots.
    op.add_column("purchase", sa.Column("reference", sa.Text(), nullable=True))
