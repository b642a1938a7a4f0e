"""An open garage: entries and documents written once, told of, and the prediction that repeats exactly."""

import shutil
import threading
from datetime import date
from pathlib import Path

import pytest
from predicted import shorter

from tintop.answer import Verdict
from tintop.errors import BadInput, Conflict
from tintop.garage.answers import given_before, keep_answers, repeat, standing, standings
from tintop.garage.keeper import Change, Garage
from tintop.logbook.entries import AnswerGiven, Draft, Measure, Reading, Remark
from tintop.store.demo_garage import write_demo_garage

TODAY = date(2026, 6, 9)


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("keeper") / "demo"
    write_demo_garage(folder, TODAY).close()
    race = folder / "events" / "larkmoor.toml"
    race.write_text(shorter(race.read_text("utf-8")), encoding="utf-8", newline="")
    return folder


@pytest.fixture
def garage(demo: Path, tmp_path: Path):
    folder = tmp_path / "garage"
    shutil.copytree(demo, folder)
    found = Garage.open(folder)
    found.today = lambda: TODAY
    yield found
    found.close()


def _remark(key: str, text: str = "Rattles", **more) -> Draft:
    return Draft(key=key, day=TODAY, who="owner", matter=Remark(text=text), **more)


def test_what_is_recorded_stands_in_the_book_and_is_told(garage: Garage):
    heard: list[Change] = []
    end = garage.subscribe(heard.append)
    (entry,) = garage.record([_remark("a")])
    end()
    garage.record([_remark("b")])
    assert garage.book.stands(entry.number)
    assert [change.topic for change in heard] == ["entry"]


def test_an_undo_of_an_undo_brings_the_entry_back(garage: Garage):
    (entry,) = garage.record([_remark("a")])
    undo = garage.withdraw(entry.number, "owner")
    assert not garage.book.stands(entry.number)
    garage.withdraw(undo.number, "owner")
    assert garage.book.stands(entry.number)


def test_what_was_corrected_meanwhile_is_a_conflict_and_nothing_is_written(garage: Garage):
    (entry,) = garage.record([_remark("a")])
    garage.record([_remark("b", "Rattles at the rear", corrects=entry.number)])
    before = garage.book.last_number
    with pytest.raises(Conflict, match=f"entry {entry.number + 1} "):
        garage.record([_remark("c", "Rattles at the front", corrects=entry.number)])
    assert garage.book.last_number == before


def test_writers_on_many_threads_lose_nothing(garage: Garage):
    before = garage.book.last_number
    writers = [
        threading.Thread(target=lambda n=n: [garage.record([_remark(f"{n} {i}")]) for i in range(5)])
        for n in range(6)
    ]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()
    assert garage.book.last_number == before + 30
    assert garage.book.entries == garage.store.entries()


def test_a_document_that_does_not_read_is_refused_and_nothing_changes(garage: Garage):
    stands = garage.document("car.toml")
    with pytest.raises(BadInput, match=r"car\.toml"):
        garage.save_document("car.toml", "name = 3\n", based_on=stands.digest, who="owner", why="trying")
    assert garage.document("car.toml") == stands


def test_an_edit_outside_is_taken_in_and_told(garage: Garage):
    path = garage.folder / "car.toml"
    path.write_text(path.read_text("utf-8").replace('"1038 kg"', '"1040 kg"'), "utf-8")
    heard: list[Change] = []
    garage.subscribe(heard.append)
    garage.look_outside()
    assert [change.topic for change in heard] == ["document"]
    assert '"1040 kg"' in garage.document("car.toml").text


def test_the_five_answers_are_kept_once_and_repeat_exactly(garage: Garage):
    meeting = garage.next_meeting()
    assert meeting is not None
    before = standings(garage, meeting)
    assert [each.name for each in before] == ["legal", "ready", "quick", "lasting", "affordable"]
    assert before[0].answer is not None and before[0].answer.verdict in (Verdict.NO, Verdict.NOT_PROVEN)
    assert before[2].answer is None and not before[2].is_fresh
    found = garage.predict(meeting)
    assert garage.predict(meeting) is found
    kept = keep_answers(garage, meeting)
    assert len(kept) == 5
    assert keep_answers(garage, meeting) == ()

    number = next(
        e.number for e in kept if isinstance(e.matter, AnswerGiven) and e.matter.question == "quick"
    )
    car = garage.document("car.toml")
    lighter = car.text.replace('"1038 kg"', '"1000 kg"')
    garage.save_document("car.toml", lighter, based_on=car.digest, who="owner", why="trying")
    assert not standing(garage, meeting, "quick").is_fresh
    again = repeat(garage, number)
    assert again.is_the_same
    (entry, answer), *_ = given_before(garage, meeting, "quick") or ()
    assert entry.number == number and answer.figures[0].value == found.quick.lap.lap_time


def test_answers_given_are_fresh_after_a_restart_until_the_car_changes(garage: Garage):
    meeting = garage.next_meeting()
    assert meeting is not None
    garage.predict(meeting)
    keep_answers(garage, meeting)
    garage.close()
    later = Garage.open(garage.folder)
    later.today = lambda: TODAY
    assert standing(later, meeting, "quick").is_fresh
    later.record(
        [
            Draft(
                key="scales",
                day=TODAY,
                who="owner",
                matter=Reading(measure=Measure.MASS, value=1051.0, written="1051 kg"),
            )
        ]
    )
    stale = standing(later, meeting, "quick")
    assert not stale.is_fresh and stale.answer is not None and "changed since" in stale.sentence
    assert later.car().car.masses.car == pytest.approx(1051.0)
    later.close()
    garage.store = later.store  # already closed; the fixture closes it once more
