"""Photographs, logs and papers as they came, by the digest of their content, never touched again."""

import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sqlalchemy import Column, Connection, insert, select

from tintop.errors import refuse
from tintop.store.database import Database
from tintop.store.durable import disk_in_plain_words, write_whole
from tintop.store.moments import now, written
from tintop.store.plain_text import check_line
from tintop.store.revisions import digest_of
from tintop.store.tables import original as table

ORIGINALS_NAME = "originals"
LARGEST = 100_000_000  # bytes
_MEDIA_TYPE = re.compile(r"[a-z]+/[a-z0-9][a-z0-9.+-]*")
_DIGEST = re.compile(r"[0-9a-f]{64}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Original:
    """One original: the sha-256 of its content, the name it came with, its media type and size in bytes."""

    digest: str
    name: str
    media_type: str
    size: int


class Originals:
    """The originals of one garage: a file each, and a row that says what it is."""

    def __init__(self, folder: Path, database: Database) -> None:
        self._folder = folder / ORIGINALS_NAME
        self._database = database

    def keep(self, name: str, media_type: str, content: bytes) -> Original:
        """Keep content and give its digest; the same content again gives what was kept first.

        Raises BadInput for a name or media type that cannot be kept, and above 100 MB.
        """
        check_line("name", name)
        if not isinstance(media_type, str) or not _MEDIA_TYPE.fullmatch(media_type) or len(media_type) > 100:
            raise refuse("media type", repr(media_type), "a media type such as image/jpeg")
        if not 0 < len(content) <= LARGEST:
            raise refuse(name, f"{len(content):,} bytes", f"1 to {LARGEST:,} bytes")
        digest = digest_of(content)
        path = self._folder / digest
        with self._database.turn(), disk_in_plain_words(path):
            if not path.exists() or digest_of(path.read_bytes()) != digest:
                write_whole(path, content)
                path.chmod(0o444)
            with self._database.writing() as connection:
                there = _row(connection, digest)
                if there:
                    return there
                kept = Original(digest=digest, name=name, media_type=media_type, size=len(content))
                connection.execute(
                    insert(table).values(
                        digest=digest,
                        name=name,
                        media_type=media_type,
                        size=len(content),
                        kept_at=written(now()),
                    )
                )
                return kept

    def find(self, digest: str) -> Original:
        """What is known of an original; raise BadInput if there is none of this digest."""
        if isinstance(digest, str) and _DIGEST.fullmatch(digest):
            with self._database.reading() as connection:
                found = _row(connection, digest)
            if found:
                return found
        raise refuse("original", repr(digest)[:80], "the digest of an original kept here")

    def content(self, digest: str) -> bytes:
        """The content of an original, checked against its digest; raise BadInput if it is gone or changed."""
        original = self.find(digest)
        path = self._folder / original.digest
        with disk_in_plain_words(path):
            if not path.is_file():
                raise refuse(
                    str(path),
                    f"that the original of {original.name!r} is gone",
                    "the file as it was kept",
                    "Put it back from a copy of the garage's folder, or add it again.",
                )
            content = path.read_bytes()
        if digest_of(content) != digest:
            raise refuse(
                str(path),
                f"that the original of {original.name!r} was changed or damaged",
                "the file as it was kept",
                "Put it back from a copy of the garage's folder, or add it again.",
            )
        return content

    def missing(self) -> tuple[Original, ...]:
        """Originals whose file is gone or has another size."""
        return tuple(one for one in self.every() if not self._is_there(one))

    def every(self) -> tuple[Original, ...]:
        """What is known of every original, by digest."""
        with self._database.reading() as connection:
            rows = connection.execute(select(*_columns()).order_by(table.c.digest)).all()
        return tuple(Original(**row._mapping) for row in rows)

    def _is_there(self, original: Original) -> bool:
        path = self._folder / original.digest
        return path.is_file() and path.stat().st_size == original.size


def _columns() -> list[Column[Any]]:
    return [table.c[name] for name in Original.__dataclass_fields__]


def _row(connection: Connection, digest: str) -> Original | None:
    row = connection.execute(select(*_columns()).where(table.c.digest == digest)).first()
    return Original(**row._mapping) if row else None
