"""Jobs: what is to do, worst first, and what is done."""

from dataclasses import dataclass
from datetime import date

from tintop.logbook.book import Logbook
from tintop.logbook.entries import JobDone, JobOpened


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One job as it stands; `done_on` is None while it is open."""

    job: JobOpened
    entry: int
    opened_on: date
    done_on: date | None = None
    found: str = ""

    @property
    def is_open(self) -> bool:
        """Whether it is still to be done."""
        return self.done_on is None


@dataclass(frozen=True, slots=True, kw_only=True)
class Jobs:
    """Open jobs, those that stop the car from running first, then oldest first; done ones, latest first."""

    open: tuple[Job, ...]
    done: tuple[Job, ...]


def jobs_on(book: Logbook, day: date) -> Jobs:
    """The jobs at the end of a day; a job opened again after it was done is open."""
    done: dict[str, tuple[date, int, JobDone]] = {}
    for entry, ended in book.of(JobDone):
        if entry.day <= day:
            done[ended.job] = (entry.day, entry.number, ended)
    found: dict[str, Job] = {}
    for entry, opened in book.of(JobOpened):
        if entry.day > day:
            continue
        ended_on, _, ending = done.get(opened.job, (None, 0, None))
        is_done = ended_on is not None and ended_on >= entry.day
        found[opened.job] = Job(
            job=opened,
            entry=entry.number,
            opened_on=entry.day,
            done_on=ended_on if is_done else None,
            found=ending.found if is_done and ending is not None else "",
        )
    jobs = found.values()
    return Jobs(
        open=tuple(
            sorted(
                (job for job in jobs if job.is_open),
                key=lambda job: (not job.job.stops_running, job.opened_on, job.job.job),
            )
        ),
        done=tuple(
            sorted(
                (job for job in jobs if not job.is_open),
                key=lambda job: (job.done_on or day, job.job.job),
                reverse=True,
            )
        ),
    )
