from books import Writer, on
from tintop.logbook.entries import JobDone, JobOpened
from tintop.logbook.jobs import jobs_on


def test_jobs_that_stop_the_car_come_first_then_the_oldest():
    book = Writer()
    book.write("2026-03-01", JobOpened(job="1", title="Paint the sill"))
    book.write("2026-03-05", JobOpened(job="2", title="Replace the brake hose", stops_running=True))
    book.write("2026-02-01", JobOpened(job="3", title="Label the breakers"))
    book.write("2026-02-10", JobOpened(job="4", title="Re-torque the head", minutes=40.0))
    book.write("2026-02-20", JobDone(job="4", found="all tight"))
    jobs = jobs_on(book.book, on("2026-03-10"))
    assert [job.job.job for job in jobs.open] == ["2", "3", "1"]
    assert [(job.job.job, job.done_on, job.found) for job in jobs.done] == [
        ("4", on("2026-02-20"), "all tight")
    ]
    assert [job.job.job for job in jobs_on(book.book, on("2026-02-15")).open] == ["3", "4"]


def test_a_job_opened_again_is_open():
    book = Writer()
    book.write("2026-03-01", JobOpened(job="1", title="Stop the leak"))
    book.write("2026-03-05", JobDone(job="1"))
    book.write("2026-03-09", JobOpened(job="1", title="Stop the leak, again"))
    assert [job.job.title for job in jobs_on(book.book, on("2026-03-10")).open] == ["Stop the leak, again"]


def test_a_job_done_the_day_it_was_opened_is_done():
    book = Writer()
    book.write("2026-03-01", JobDone(job="1"))
    book.write("2026-03-01", JobOpened(job="1", title="Bleed the brakes"))
    assert jobs_on(book.book, on("2026-03-10")).open == ()
