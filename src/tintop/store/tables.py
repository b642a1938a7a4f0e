"""The tables of garage.sqlite as the last migration leaves them.

Triggers, written by the migrations, refuse every change of an entry, a revision or an original.
"""

from sqlalchemy import Column, ForeignKey, Index, Integer, MetaData, Table, Text, UniqueConstraint

metadata = MetaData()

entry = Table(
    "entry",
    metadata,
    Column("number", Integer, primary_key=True),
    Column("key", Text, nullable=False, unique=True),
    Column("day", Text, nullable=False),
    Column("clock", Text, nullable=False),
    Column("written_at", Text, nullable=False),
    Column("who", Text, nullable=False),
    Column("instrument", Text, nullable=False),
    Column("note", Text, nullable=False),
    Column("corrects", Integer, ForeignKey("entry.number")),
    Column("kind", Text, nullable=False),
    Column("matter", Text, nullable=False),
    Index("entry_corrects", "corrects"),
    sqlite_autoincrement=True,
)

revision = Table(
    "revision",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("name", Text, nullable=False),
    Column("number", Integer, nullable=False),
    Column("digest", Text, nullable=False),
    Column("text", Text, nullable=False),
    Column("saved_at", Text, nullable=False),
    Column("who", Text, nullable=False),
    Column("why", Text, nullable=False),
    Column("origin", Text, nullable=False),
    UniqueConstraint("name", "number"),
    Index("revision_digest", "digest"),
    sqlite_autoincrement=True,
)

unwritten = Table(
    "unwritten",
    metadata,
    Column("name", Text, primary_key=True),
    Column("digest", Text, nullable=False),
    Column("over", Text),
)

original = Table(
    "original",
    metadata,
    Column("digest", Text, primary_key=True),
    Column("name", Text, nullable=False),
    Column("media_type", Text, nullable=False),
    Column("size", Integer, nullable=False),
    Column("kept_at", Text, nullable=False),
)

secret = Table(
    "secret",
    metadata,
    Column("name", Text, primary_key=True),
    Column("value", Text, nullable=False),
)

device = Table(
    "device",
    metadata,
    Column("identifier", Text, primary_key=True),
    Column("name", Text, nullable=False),
    Column("role", Text, nullable=False),
    Column("paired_at", Text, nullable=False),
    Column("last_seen", Text, nullable=False),
    Column("revoked_at", Text),
)
