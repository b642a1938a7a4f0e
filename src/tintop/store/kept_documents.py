"""Documents on the disk and their revisions in the database, kept in step.

A save writes the revision first, then the file, whole, and only over the content it was based on. What a
person edits outside is taken in as a revision of its own and never overwritten. Opened for reading, nothing
is taken in: what lies in the folder stands all the same, as a revision that is not saved.
"""

from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path

from tintop.errors import BadInput, refuse
from tintop.store import revisions
from tintop.store.database import Database
from tintop.store.document_names import document_path, documents_on_disk
from tintop.store.durable import disk_in_plain_words, put_in_place, write_unfinished
from tintop.store.moments import now, written
from tintop.store.plain_text import check_text
from tintop.store.revisions import DocumentConflict, Revision, Unwritten, digest_of

LARGEST = 5_000_000  # bytes
_STILL_WARM = 2_000_000_000  # [ns] a file changed this lately may change again within one tick of its clock
_Stamp = tuple[int, int, int]


class KeptDocuments:
    """The documents of one garage."""

    def __init__(self, folder: Path, database: Database) -> None:
        self._folder = folder
        self._database = database
        self._known: dict[str, tuple[_Stamp, str]] = {}
        self._lying: dict[str, Revision] = {}
        self._broken: dict[str, BadInput] = {}

    @property
    def lying(self) -> Mapping[str, Revision]:
        """Opened for reading: the texts that lie in the folder and are not taken in, by name."""
        return self._lying

    def refuse_broken(self, name: str) -> None:
        """Opened for reading: raise BadInput if what lies in the folder under a name is no text."""
        if name in self._broken:
            raise self._broken[name]

    def save(
        self,
        name: str,
        text: str,
        *,
        based_on: str | None,
        who: str,
        why: str,
        check: Callable[[str], object] | None = None,
    ) -> Revision:
        """Save a document over the revision whose digest is `based_on`, None for a new one.

        Saving what stands already changes nothing and gives it back. Raises BadInput for a name or text
        that cannot be kept, DocumentConflict if something else stands now.
        """
        path = document_path(self._folder, name)
        content = document_bytes(name, text)
        check_text("who", who, longest=200)
        check_text("why", why)
        if check is not None:
            check(text)
        with self._database.turn(), disk_in_plain_words(path):
            self._take_in(name)
            with self._database.reading() as connection:
                stands = revisions.latest(connection, name)
            if stands is not None and stands.text == text:
                self._write_if_missing(path, stands)
                return stands
            if (stands.digest if stands else None) != based_on:
                if stands is None:
                    raise refuse(name, "no saved revision", "the document this text was based on")
                raise DocumentConflict(stands)
            return self._write(path, name, content, text, who, why)

    def take_in(self) -> tuple[tuple[Revision, ...], tuple[str, ...]]:
        """Take in what was edited outside and finish what a crash cut off: new revisions, and plain words.

        Opened for reading, nothing is written: what lies in the folder is given as revisions not saved.
        """
        with self._database.turn(), disk_in_plain_words(self._folder):
            if not self._database.is_writing:
                return self._look()
            names, notices = documents_on_disk(self._folder)
            with self._database.reading() as connection:
                latest = revisions.latest_digests(connection)
                marks = revisions.all_unwritten(connection)
            taken: list[Revision] = []
            said = list(notices)
            for name in names:
                try:
                    digest = self._digest_on_disk(name)
                    if digest == latest.get(name) and name not in marks:
                        continue
                    revision, words = self._settle(name, digest, marks.get(name))
                except BadInput as error:
                    said.append(str(error))
                    continue
                taken += [revision] if revision else []
                said += [words] if words else []
            for name in sorted(set(latest) - set(names)):
                said += self._missing(name, marks.get(name))
            return tuple(taken), tuple(said)

    def _look(self) -> tuple[tuple[Revision, ...], tuple[str, ...]]:
        """Find the texts in the folder that are not saved; give those changed since the last look, words."""
        names, notices = documents_on_disk(self._folder)
        differing, broken = self._differing(names)
        if differing:  # by a second look, not only because someone saved between folder and database
            first, (differing, broken) = differing, self._differing(names)
            differing = {name: one for name, one in differing.items() if first.get(name) == one}
        before, self._lying, self._broken = self._lying, differing, broken
        said = [
            *notices,
            *(
                f"{one.name} as it lies in the folder, not yet taken in ({one.digest[:12]})."
                for one in differing.values()
            ),
            *map(str, broken.values()),
        ]
        with self._database.reading() as connection:
            saved = revisions.latest_digests(connection)
            back = [revisions.latest(connection, name) for name in sorted(set(before) - set(differing))]
        for name in sorted(set(saved) - set(names)):
            said += self._missing(name, None)
        changed = [one for name, one in differing.items() if before.get(name) != one]
        return (*changed, *(one for one in back if one is not None)), tuple(said)

    def _differing(self, names: Sequence[str]) -> tuple[dict[str, Revision], dict[str, BadInput]]:
        with self._database.reading() as connection:
            latest = revisions.latest_digests(connection)
            marks = revisions.all_unwritten(connection)
        found: dict[str, Revision] = {}
        broken: dict[str, BadInput] = {}
        for name in names:
            try:
                digest = self._digest_on_disk(name)
                is_saved = digest == latest.get(name) or (name in marks and digest == marks[name].over)
                if digest is not None and not is_saved:
                    found[name] = self._as_it_lies(name)
            except BadInput as error:
                broken[name] = error
        return found, broken

    def _as_it_lies(self, name: str) -> Revision:
        path = document_path(self._folder, name)
        text = read_document(path)
        with self._database.reading() as connection:
            stands = revisions.latest(connection, name)
        return Revision(
            number=stands.number + 1 if stands else 1,
            name=name,
            digest=digest_of(text),
            text=text,
            saved_at=written(datetime.fromtimestamp(path.stat().st_mtime, UTC)),
            who="",
            why="as it lies in the folder, not yet taken in",
            origin="edited outside",
        )

    def _take_in(self, name: str) -> None:
        digest = self._digest_on_disk(name)
        with self._database.reading() as connection:
            mark = revisions.all_unwritten(connection).get(name)
            stands = revisions.latest(connection, name)
        if digest is not None and (mark or stands is None or stands.digest != digest):
            self._settle(name, digest, mark)

    def _settle(self, name: str, digest: str | None, mark: Unwritten | None) -> tuple[Revision | None, str]:
        """Bring one document's file and revisions into step: what was added, and what to say."""
        path = document_path(self._folder, name)
        if mark and digest == mark.digest:
            self._clear(name)
            return None, ""
        if mark and digest == mark.over:
            with self._database.reading() as connection:
                unwritten = revisions.with_digest(connection, mark.digest)
            put_in_place(write_unfinished(path, unwritten.text.encode("utf-8")), path)
            self._clear(name)
            return None, f"{name}: a save that was cut off is now finished; nothing was lost."
        text = read_document(path)
        with self._database.writing() as connection:
            revisions.clear_unwritten(connection, name)
            found = revisions.latest(connection, name)
            if found is not None and found.text == text:
                return None, ""
            taken = revisions.add(
                connection,
                name,
                text,
                saved_at=written(now()),
                who="",
                why="the file was edited outside" if found else "the file was found in the folder",
                is_outside=True,
            )
        return taken, f"{name} was edited outside; its text is taken in as revision {taken.number}."

    def _missing(self, name: str, mark: Unwritten | None) -> list[str]:
        if mark and mark.over is None and self._database.is_writing:
            return [self._settle(name, None, mark)[1]]
        return [f"{name} is gone from the folder; its last revision is kept. Save it again to bring it back."]

    def _write(self, path: Path, name: str, content: bytes, text: str, who: str, why: str) -> Revision:
        over = self._digest_on_disk(name)
        unfinished = write_unfinished(path, content)
        try:
            with self._database.writing() as connection:
                saved = revisions.add(
                    connection, name, text, saved_at=written(now()), who=who, why=why, is_outside=False
                )
                revisions.mark_unwritten(connection, name, saved.digest, over)
        except BaseException:
            unfinished.unlink(missing_ok=True)
            raise
        try:
            if self._digest_on_disk(name) != over:  # edited this very moment: taken in at the next look
                unfinished.unlink(missing_ok=True)
                return saved
            put_in_place(unfinished, path)
        except OSError:  # saved all the same; the mark has the file written at the next chance
            with suppress(OSError):
                unfinished.unlink(missing_ok=True)
            return saved
        with suppress(BadInput):  # a mark left standing is cleared at the next chance
            self._clear(name)
        return saved

    def _write_if_missing(self, path: Path, stands: Revision) -> None:
        if self._digest_on_disk(stands.name) is None:
            put_in_place(write_unfinished(path, stands.text.encode("utf-8")), path)

    def _clear(self, name: str) -> None:
        with self._database.writing() as connection:
            revisions.clear_unwritten(connection, name)

    def _digest_on_disk(self, name: str) -> str | None:
        path = document_path(self._folder, name)
        try:
            found = path.stat()
        except FileNotFoundError:
            self._known.pop(name, None)
            return None
        stamp = (found.st_mtime_ns, found.st_size, found.st_ino)
        known = self._known.get(name)
        if known and known[0] == stamp:
            return known[1]
        digest = digest_of(read_document(path))
        if now().timestamp() * 1e9 - found.st_mtime_ns > _STILL_WARM:
            self._known[name] = (stamp, digest)
        return digest


def document_bytes(name: str, text: str) -> bytes:
    """The bytes of a document's file; raise BadInput if it is too large or no text that can be kept."""
    if not isinstance(text, str):
        raise refuse(name, repr(text), "text")
    try:
        content = text.encode("utf-8")
    except UnicodeEncodeError:
        raise refuse(name, "a character that cannot be written", "text in UTF-8") from None
    if len(content) > LARGEST:
        raise refuse(name, f"{len(content) / 1e6:.1f} MB of text", f"{LARGEST / 1e6:.0f} MB at most")
    _without_nul(name, text)
    return content


def read_document(path: Path) -> str:
    """The text of a document's file; raise BadInput if it is too large or not text in UTF-8."""
    size = path.stat().st_size
    if size > LARGEST:
        raise refuse(
            str(path),
            f"a file of {size / 1e6:.1f} MB",
            f"{LARGEST / 1e6:.0f} MB at most",
            "It is left alone.",
        )
    try:
        text = path.read_bytes().decode("utf-8")
    except UnicodeDecodeError as error:
        raise refuse(
            str(path),
            f"a file that is not text in UTF-8 (byte {error.start + 1})",
            "text in UTF-8",
            "It is left alone: save it as UTF-8 in the editor.",
        ) from None
    return _without_nul(str(path), text)


def _without_nul(name: str, text: str) -> str:
    if "\x00" in text:
        raise refuse(name, "a zero byte", "text", "It is left alone.")
    return text
