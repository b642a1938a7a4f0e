"""Every saved revision of every document, in the database."""

from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import sha256
from typing import Literal

from sqlalchemy import ColumnElement, Connection, delete, func, insert, select, true

from tintop.errors import Conflict, refuse
from tintop.store.tables import revision as table
from tintop.store.tables import unwritten

Origin = Literal["saved here", "edited outside", "restored"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Revision:
    """One revision of a document; `number` counts from 1 for each document, `saved_at` is UTC, ISO 8601.

    `origin` is "restored" when the text of an earlier revision was put back.
    """

    number: int
    name: str
    digest: str  # sha-256 of the text in UTF-8
    text: str
    saved_at: str
    who: str
    why: str
    origin: Origin


class DocumentConflict(Conflict):
    """A document changed meanwhile; `stands` is its latest revision."""

    def __init__(self, stands: Revision) -> None:
        self.stands = stands
        by = f" by {stands.who}" if stands.who else ""
        why = f" ({stands.why})" if stands.why else ""
        super().__init__(stands.name, f"revision {stands.number}, {stands.origin} {stands.saved_at}{by}{why}")


def digest_of(content: str | bytes) -> str:
    """The sha-256 of a text in UTF-8, or of bytes, in hexadecimal."""
    return sha256(content.encode("utf-8") if isinstance(content, str) else content).hexdigest()


def latest_digests(connection: Connection) -> dict[str, str]:
    """The digest of the latest revision of each document by name."""
    last = select(func.max(table.c.id)).group_by(table.c.name)
    rows = connection.execute(select(table.c.name, table.c.digest).where(table.c.id.in_(last)))
    return {row[0]: row[1] for row in rows}


def latest(connection: Connection, name: str) -> Revision | None:
    """The latest revision of a document, or None if there is none."""
    found = all_of(connection, name, most=1)
    return found[0] if found else None


def all_of(connection: Connection, name: str, *, most: int | None = None) -> tuple[Revision, ...]:
    """The revisions of a document, newest first; all, or `most` of them."""
    return _rows(connection, table.c.name == name, limit=most)


def every(connection: Connection) -> tuple[Revision, ...]:
    """Every revision of every document, in the order of saving."""
    return _rows(connection, true())[::-1]


def import_all(connection: Connection, history: Sequence[Revision]) -> None:
    """Write whole revisions, numbers and times of saving kept, into a garage that has none."""
    if history:
        columns = Revision.__dataclass_fields__
        connection.execute(insert(table), [{one: getattr(made, one) for one in columns} for made in history])


def with_digest(connection: Connection, digest: str) -> Revision:
    """The newest revision with a digest; raise BadInput if there is none."""
    found = _rows(connection, table.c.digest == digest, limit=1)
    if not found:
        raise refuse("revision", repr(digest), "the digest of a saved revision")
    return found[0]


def add(
    connection: Connection, name: str, text: str, *, saved_at: str, who: str, why: str, is_outside: bool
) -> Revision:
    """Add a revision after the latest; its origin is told from where it comes and what was there before."""
    digest = digest_of(text)
    number = connection.execute(
        select(func.coalesce(func.max(table.c.number), 0)).where(table.c.name == name)
    ).scalar_one()
    was_there = connection.execute(
        select(table.c.id).where(table.c.name == name, table.c.digest == digest).limit(1)
    ).first()
    origin: Origin = "edited outside" if is_outside else "restored" if was_there else "saved here"
    made = Revision(
        number=number + 1,
        name=name,
        digest=digest,
        text=text,
        saved_at=saved_at,
        who=who,
        why=why,
        origin=origin,
    )
    row = {column: getattr(made, column) for column in Revision.__dataclass_fields__}
    connection.execute(insert(table).values(row))
    return made


@dataclass(frozen=True, slots=True, kw_only=True)
class Unwritten:
    """A mark that a revision is saved and its file not yet known to be written, over the content `over`."""

    name: str
    digest: str
    over: str | None


def mark_unwritten(connection: Connection, name: str, digest: str, over: str | None) -> None:
    """Note that a document's file is still to be written."""
    clear_unwritten(connection, name)
    connection.execute(insert(unwritten).values(name=name, digest=digest, over=over))


def clear_unwritten(connection: Connection, name: str) -> None:
    """Note that a document's file is written."""
    connection.execute(delete(unwritten).where(unwritten.c.name == name))


def all_unwritten(connection: Connection) -> dict[str, Unwritten]:
    """The marks by document."""
    rows = connection.execute(select(unwritten.c.name, unwritten.c.digest, unwritten.c.over))
    return {name: Unwritten(name=name, digest=digest, over=over) for name, digest, over in rows}


def _rows(
    connection: Connection, condition: ColumnElement[bool], limit: int | None = None
) -> tuple[Revision, ...]:
    columns = [table.c[name] for name in Revision.__dataclass_fields__]
    chosen = select(*columns).where(condition).order_by(table.c.id.desc()).limit(limit)
    return tuple(Revision(**row._mapping) for row in connection.execute(chosen))
