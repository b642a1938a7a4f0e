"""A program that dies at its n-th change of a folder: a real death, nothing is tidied up."""

import os
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

_TOUCHES = {"open", "os.rename", "os.remove", "os.link", "os.mkdir", "os.truncate", "sqlite3.connect"}
_DIED, _DONE, _FAILED = 9, 0, 1


@contextmanager
def place_in_memory() -> Iterator[Path]:
    """A folder in memory where there is one: deaths by the dozen wait long for a disk."""
    memory = Path("/dev/shm")
    with tempfile.TemporaryDirectory(dir=memory if os.access(memory, os.W_OK) else None) as place:
        yield Path(place)


def dies_at(touch: int, folder: Path, work: Callable[[], object]) -> bool:
    """Do the work in a process of its own that dies just before its n-th touch; tell whether it did."""
    child = os.fork()
    if child == 0:
        _watch(touch, str(folder))
        try:
            work()
        except BaseException as error:
            sys.stderr.write(f"{type(error).__name__}: {error}\n")
            os._exit(_FAILED)
        os._exit(_DONE)
    status = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    assert status in (_DIED, _DONE), f"the work failed at touch {touch}"
    return status == _DIED


def _watch(touch: int, folder: str) -> None:
    left = touch

    def hook(event: str, arguments: tuple[Any, ...]) -> None:
        nonlocal left
        if event not in _TOUCHES or folder not in str(arguments[0]):
            return
        if event == "open" and not arguments[2] & (os.O_WRONLY | os.O_RDWR):
            return
        if left == 0:
            os._exit(_DIED)
        left -= 1

    sys.addaudithook(hook)
