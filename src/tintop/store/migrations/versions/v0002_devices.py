"""The paired devices; corrections and revisions found quickly."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the devices and two indexes."""
    op.create_table(
        "device",
        sa.Column("identifier", sa.Text, primary_key=True),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("role", sa.Text, nullable=False),
        sa.Column("paired_at", sa.Text, nullable=False),
        sa.Column("last_seen", sa.Text, nullable=False),
        sa.Column("revoked_at", sa.Text),
    )
    op.create_index("entry_corrects", "entry", ["corrects"])
    op.create_index("revision_digest", "revision", ["digest"])
