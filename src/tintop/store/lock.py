"""One writer at a time: a lock of the operating system, freed by itself when the writer dies."""

import json
import os
import platform
import sys
from contextlib import suppress
from pathlib import Path

from tintop.errors import refuse
from tintop.store.durable import disk_in_plain_words
from tintop.store.moments import now, written

LOCK_NAME = "garage.lock"
_BEYOND_THE_WORDS = 1 << 20


class WriterLock:
    """Held while a garage is open for writing; the file says who holds it, for people to read.

    Raises BadInput if another has it. `left_open_on` names another machine on which, by the file, the
    garage was not closed: it can only have come through a synchronised folder.
    """

    def __init__(self, folder: Path) -> None:
        path = folder / LOCK_NAME
        with disk_in_plain_words(folder):
            self._handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
        holder = _holder(self._handle)
        if not _take(self._handle):
            os.close(self._handle)
            since = f" since {holder['since']}" if "since" in holder else ""
            raise refuse(
                str(folder),
                f"that another tintop has it open for writing{since}",
                "one writer at a time",
                "Use the page that is already open, or close that one first.",
            )
        self.left_open_on = holder.get("machine", "") if holder.get("machine") != platform.node() else ""
        self.left_open_since = holder.get("since", "")
        with suppress(OSError):
            _write(self._handle, {"machine": platform.node(), "since": written(now())})

    @property
    def is_held(self) -> bool:
        """Whether it is still ours."""
        return self._handle >= 0

    def release(self) -> None:
        """Let the next writer in."""
        if self._handle < 0:
            return
        with suppress(OSError):
            _write(self._handle, {})
        os.close(self._handle)
        self._handle = -1


def _holder(handle: int) -> dict[str, str]:
    try:
        found = json.loads(os.pread(handle, 4096, 0) if hasattr(os, "pread") else os.read(handle, 4096))
    except (OSError, ValueError):
        return {}
    return {str(key): str(value) for key, value in found.items()} if isinstance(found, dict) else {}


def _write(handle: int, holder: dict[str, str]) -> None:
    os.lseek(handle, 0, os.SEEK_SET)
    os.truncate(handle, 0)
    if holder:
        os.write(handle, json.dumps(holder).encode())


if sys.platform == "win32":
    import msvcrt

    def _take(handle: int) -> bool:
        os.lseek(handle, _BEYOND_THE_WORDS, os.SEEK_SET)
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

else:
    import fcntl

    def _take(handle: int) -> bool:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            return False
        return True
