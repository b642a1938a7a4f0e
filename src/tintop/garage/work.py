"""Long work in the background: one piece at a time, with its progress, and it can be stopped."""

import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from enum import StrEnum
from itertools import count

from tintop.errors import TintopError

Progress = Callable[[float], None]


class Stopped(Exception):
    """Raised inside work that was asked to stop."""


class State(StrEnum):
    """How far a piece of work has come."""

    WAITING = "waiting"
    RUNNING = "running"
    DONE = "done"
    STOPPED = "stopped"
    FAILED = "failed"


@dataclass(slots=True, kw_only=True)
class Work:
    """One piece of long work; `key` tells what it is about, so that nobody starts it twice."""

    identifier: int
    key: str
    name: str
    state: State = State.WAITING
    share: float = 0.0
    sentence: str = ""
    is_to_stop: bool = False

    @property
    def is_under_way(self) -> bool:
        """Whether it waits or runs."""
        return self.state in (State.WAITING, State.RUNNING)


class Workshop:
    """Does long work on one thread, in the order it was asked for; `tell` hears of every change."""

    def __init__(self, tell: Callable[[Work], None], most_kept: int = 20) -> None:
        self._tell = tell
        self._most_kept = most_kept
        self._numbers = count(1)
        self._lock = threading.Lock()
        self._works: list[Work] = []
        self._thread = ThreadPoolExecutor(max_workers=1, thread_name_prefix="tintop-work")

    def start(self, key: str, name: str, function: Callable[[Progress], None]) -> Work:
        """Start work, or give the one under way that has the same key."""
        with self._lock:
            for work in self._works:
                if work.key == key and work.is_under_way and not work.is_to_stop:
                    return work
            work = Work(identifier=next(self._numbers), key=key, name=name)
            under_way = [one for one in self._works if one.is_under_way]
            done = [one for one in self._works if not one.is_under_way]
            self._works = [*under_way, *done[-self._most_kept :], work]
        self._tell(work)
        self._thread.submit(self._do, work, function)
        return work

    def stop(self, identifier: int) -> None:
        """Ask a piece of work to stop; it does so at its next step."""
        for work in self.works():
            if work.identifier == identifier and work.is_under_way:
                work.is_to_stop = True
                if work.state is State.WAITING:
                    work.state = State.STOPPED
                self._tell(work)

    def works(self) -> tuple[Work, ...]:
        """Every piece of work known, the oldest first."""
        with self._lock:
            return tuple(self._works)

    def latest(self, key: str) -> Work | None:
        """The last work of a key, or none."""
        return next((work for work in reversed(self.works()) if work.key == key), None)

    def close(self) -> None:
        """Stop everything and wait for the thread."""
        for work in self.works():
            work.is_to_stop = True
        self._thread.shutdown(wait=True, cancel_futures=True)

    def _do(self, work: Work, function: Callable[[Progress], None]) -> None:
        if work.is_to_stop:
            return
        work.state = State.RUNNING
        self._tell(work)

        def progress(share: float) -> None:
            if work.is_to_stop:
                raise Stopped
            if share - work.share >= 0.02:
                work.share = min(share, 1.0)
                self._tell(work)

        try:
            function(progress)
            work.state, work.share = State.DONE, 1.0
        except Stopped:
            work.state = State.STOPPED
        except TintopError as error:
            work.state, work.sentence = State.FAILED, str(error)
        except Exception as error:
            work.state = State.FAILED
            work.sentence = f"A fault of tintop's own ({type(error).__name__}); nothing was changed."
            raise
        finally:
            self._tell(work)
