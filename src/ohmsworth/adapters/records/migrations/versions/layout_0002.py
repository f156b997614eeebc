"""Figures of a card on its face, for what counts and follows many cards."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the column; it is filled when a card's face is next made, as every column of a face."""
    op.add_column("face", sa.Column("figures", sa.JSON(), nullable=True))
