"""Alembic environment and revisions, shipped inside the wheel."""
