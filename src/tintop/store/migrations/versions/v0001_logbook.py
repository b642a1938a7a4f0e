"""The logbook, the revisions of documents, the originals."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

_NEVER_CHANGED = ("entry", "revision", "original")


def upgrade() -> None:
    """Make the first tables."""
    op.create_table(
        "entry",
        sa.Column("number", sa.Integer, primary_key=True),
        sa.Column("key", sa.Text, nullable=False, unique=True),
        sa.Column("day", sa.Text, nullable=False),
        sa.Column("clock", sa.Text, nullable=False),
        sa.Column("written_at", sa.Text, nullable=False),
        sa.Column("who", sa.Text, nullable=False),
        sa.Column("instrument", sa.Text, nullable=False),
        sa.Column("note", sa.Text, nullable=False),
        sa.Column("corrects", sa.Integer, sa.ForeignKey("entry.number")),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("matter", sa.Text, nullable=False),
        sqlite_autoincrement=True,
    )
    op.create_table(
        "revision",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("digest", sa.Text, nullable=False),
        sa.Column("text", sa.Text, nullable=False),
        sa.Column("saved_at", sa.Text, nullable=False),
        sa.Column("who", sa.Text, nullable=False),
        sa.Column("why", sa.Text, nullable=False),
        sa.Column("origin", sa.Text, nullable=False),
        sa.UniqueConstraint("name", "number"),
        sqlite_autoincrement=True,
    )
    op.create_table(
        "unwritten",
        sa.Column("name", sa.Text, primary_key=True),
        sa.Column("digest", sa.Text, nullable=False),
        sa.Column("over", sa.Text),
    )
    op.create_table(
        "original",
        sa.Column("digest", sa.Text, primary_key=True),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("media_type", sa.Text, nullable=False),
        sa.Column("size", sa.Integer, nullable=False),
        sa.Column("kept_at", sa.Text, nullable=False),
    )
    op.create_table(
        "secret",
        sa.Column("name", sa.Text, primary_key=True),
        sa.Column("value", sa.Text, nullable=False),
    )
    for table in _NEVER_CHANGED:
        for change in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER {table}_refuses_{change.lower()} BEFORE {change} ON {table} "
                f"BEGIN SELECT RAISE(ABORT, 'what is written in {table} stays as it is'); END"
            )
