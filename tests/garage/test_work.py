"""Long work: one at a time, told of, stopped, and never twice at once."""

import threading

import pytest

from tintop.errors import refuse
from tintop.garage.work import State, Work, Workshop


@pytest.fixture
def workshop():
    found = Workshop(lambda _work: None)
    yield found
    found.close()


def _until(workshop: Workshop, work: Work) -> None:
    done = threading.Event()
    workshop.start(f"after {work.identifier}", "wait", lambda _progress: done.set())
    assert done.wait(5)


def test_work_is_done_and_its_progress_told():
    told: list[tuple[State, float]] = []
    workshop = Workshop(lambda work: told.append((work.state, work.share)))
    work = workshop.start(
        "lap", "Lap", lambda progress: [progress(share) for share in (0.25, 0.26, 0.5)] and None
    )
    _until(workshop, work)
    workshop.close()
    assert work.state is State.DONE
    assert [share for state, share in told if state is State.RUNNING][:3] == [0.0, 0.25, 0.5]


def test_the_same_work_is_not_started_twice_while_it_is_under_way(workshop: Workshop):
    gate = threading.Event()
    first = workshop.start("lap", "Lap", lambda _progress: gate.wait(5) and None)
    assert workshop.start("lap", "Lap", lambda _progress: None) is first
    gate.set()
    _until(workshop, first)
    assert workshop.start("lap", "Lap", lambda _progress: None) is not first


def test_work_stops_at_its_next_step(workshop: Workshop):
    started, gate = threading.Event(), threading.Event()

    def endless(progress):
        started.set()
        gate.wait(5)
        progress(0.5)
        raise AssertionError("it went on")

    work = workshop.start("lap", "Lap", endless)
    assert started.wait(5)
    workshop.stop(work.identifier)
    gate.set()
    _until(workshop, work)
    assert work.state is State.STOPPED


def test_work_that_waits_can_be_stopped_before_it_began(workshop: Workshop):
    gate = threading.Event()
    first = workshop.start("first", "First", lambda _progress: gate.wait(5) and None)
    began: list[int] = []
    second = workshop.start("second", "Second", lambda _progress: began.append(1))
    workshop.stop(second.identifier)
    gate.set()
    _until(workshop, first)
    assert second.state is State.STOPPED and not began


def test_bad_input_within_work_is_a_sentence(workshop: Workshop):
    def refusing(_progress):
        raise refuse("car.toml line 3", "nothing", "a mass")

    work = workshop.start("lap", "Lap", refusing)
    _until(workshop, work)
    assert work.state is State.FAILED
    assert work.sentence == "car.toml line 3: found nothing; expected a mass."


def test_closing_stops_what_is_under_way():
    workshop = Workshop(lambda _work: None)
    started = threading.Event()

    def long(progress):
        started.set()
        for _ in range(10_000):
            threading.Event().wait(0.001)
            progress(0.5)

    work = workshop.start("lap", "Lap", long)
    assert started.wait(5)
    workshop.close()
    assert work.state is State.STOPPED
