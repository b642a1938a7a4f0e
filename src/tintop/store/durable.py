"""Files that are either wholly there or not there, also after a power cut."""

import errno
import os
import secrets
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from tintop.errors import refuse

UNFINISHED = ".part"
_NO_ROOM = {errno.ENOSPC, errno.EFBIG, getattr(errno, "EDQUOT", errno.ENOSPC)}
_NOT_ALLOWED = {errno.EACCES, errno.EPERM, errno.EROFS}
_NO_FOLDER = {errno.EEXIST, errno.ENOTDIR}


def unfinished_beside(path: Path) -> Path:
    """Give a name in the same folder for a file not yet finished."""
    return path.with_name(f".{path.name}.{secrets.token_hex(4)}{UNFINISHED}")


def sync_file(path: Path) -> None:
    """Wait until a file's content is on the disk."""
    handle = os.open(path, os.O_RDWR)
    try:
        _sync(handle)
    finally:
        os.close(handle)


def sync_folder(folder: Path) -> None:
    """Wait until a folder's names are on the disk; nothing to do where folders cannot be opened."""
    if sys.platform == "win32":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        _sync(handle)
    finally:
        os.close(handle)


def make_folder(folder: Path) -> None:
    """Make a folder and those above it, each on the disk before the next is needed."""
    if folder.is_dir():
        return
    make_folder(folder.parent)
    folder.mkdir(exist_ok=True)
    sync_folder(folder.parent)


def write_unfinished(path: Path, content: bytes) -> Path:
    """Write content to the disk beside its place and give where; `put_in_place` finishes it."""
    make_folder(path.parent)
    beside = unfinished_beside(path)
    try:
        with beside.open("xb") as file:
            file.write(content)
            file.flush()
            _sync(file.fileno())
    except BaseException:
        beside.unlink(missing_ok=True)
        raise
    return beside


def put_in_place(unfinished: Path, path: Path) -> None:
    """Give a finished file its name, replacing what had it, in one step."""
    unfinished.replace(path)
    sync_folder(path.parent)


def write_whole(path: Path, content: bytes) -> None:
    """Write a file so that it is either the old one or the new one, never half of either."""
    unfinished = write_unfinished(path, content)
    try:
        put_in_place(unfinished, path)
    except BaseException:
        unfinished.unlink(missing_ok=True)
        raise


def clear_unfinished(folder: Path, *, untouched_for: float = 0.0) -> None:
    """Remove what a write that was cut off left behind in a folder, if nobody touched it for so long [s]."""
    for left in folder.glob(f".*{UNFINISHED}*"):
        with suppress(FileNotFoundError):
            if time.time() - left.stat().st_mtime >= untouched_for:
                left.unlink()


@contextmanager
def disk_in_plain_words(where: Path) -> Iterator[None]:
    """Turn what the disk refuses into BadInput."""
    try:
        yield
    except OSError as error:
        if error.errno in _NO_ROOM:
            raise no_room(where) from None
        if error.errno in _NOT_ALLOWED:
            raise not_writable(where) from None
        if error.errno in _NO_FOLDER:
            raise refuse(str(where), "a file on the way to it", "a folder, or a new one's name") from None
        reason = error.strerror or "unknown reason"
        raise refuse(str(where), f"that it cannot be read or written ({reason})", "a working disk") from None


def no_room(where: Path) -> Exception:
    """Say that the disk is full."""
    return refuse(
        str(where),
        "no room left on the disk",
        "room to write",
        "Nothing was written and nothing is lost: make room on the disk, then do it again.",
    )


def not_writable(where: Path) -> Exception:
    """Say that the owner of the disk does not let us write."""
    return refuse(
        str(where),
        "that writing is not allowed",
        "a folder and files that may be written",
        "Nothing was written: take off the write protection, or copy the garage to a folder of your own.",
    )


def _sync(handle: int) -> None:
    if sys.platform == "darwin":
        import fcntl

        fcntl.fcntl(handle, fcntl.F_FULLFSYNC)
        return
    os.fsync(handle)
