"""A car inspected from files alone: car.toml, evidence and rule books, or from a garage's folder."""

import shutil
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from icalendar import Calendar

from inspected_garages import CLUB, WRITTEN, fix_today, new_garage, prove
from tintop.errors import BadInput
from tintop.garage.inspecting import inspect_car, inspect_in_garage, save_calendar
from tintop.garage.keeper import Garage
from tintop.rules.findings import Ruling
from tintop.store.demo import demo_path, write_demo
from tintop.store.demo_garage import NEXT_EVENT, SOONEST, write_demo_garage

DAY = date(2026, 6, 20)
WRITTEN_AT = datetime(2026, 6, 9, 12, tzinfo=UTC)
EVIDENCE = """\
who = "Robin"

[[entry]]
day = 2026-06-01
kind = "proof"
fact = "belts.label"
form = "label"
fact_kind = "marked date"
marked = 2026-12-31
marked_to = "year"
written = "2026"

[[entry]]
day = 2026-06-01
kind = "proof"
fact = "belts.straps"
form = "measurement"
fact_kind = "number"
values = [6.0]

[[entry]]
day = 2026-06-01
kind = "proof"
fact = "lamp.height"
form = "measurement"
fact_kind = "number"
values = [0.39]
"""


@pytest.fixture(autouse=True)
def _today(monkeypatch: pytest.MonkeyPatch) -> None:
    fix_today(monkeypatch)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shutil.copy(demo_path("car.toml"), tmp_path / "car.toml")
    (tmp_path / "evidence.toml").write_text(EVIDENCE, "utf-8")
    (tmp_path / "club.toml").write_text(CLUB, "utf-8")
    return tmp_path


def rulings(found) -> dict[str, Ruling]:
    return {each.id: each.ruling for each in found.inspection.findings}


def test_files_alone_give_an_inspection(folder):
    found = inspect_car(
        folder / "car.toml", [str(folder / "club.toml")], DAY, evidence=folder / "evidence.toml"
    )
    assert rulings(found) == {
        "club:belts-label": Ruling.PASS,
        "club:belts-straps": Ruling.PASS,
        "club:lamp-height": Ruling.FAIL,
    }
    assert (found.inspection.first_day, found.inspection.last_day, found.meeting) == (DAY, DAY, None)
    without = inspect_car(folder / "car.toml", [str(folder / "club.toml")], DAY)
    assert set(rulings(without).values()) == {Ruling.NOT_PROVEN}


def test_the_last_day_decides_and_evidence_after_it_does_not_count(folder):
    books, evidence = [str(folder / "club.toml")], folder / "evidence.toml"
    text = CLUB.replace("valid_to = 2026-12-31\n", "")
    (folder / "club.toml").write_text(text, "utf-8")
    late = inspect_car(folder / "car.toml", books, date(2026, 12, 31), date(2027, 1, 1), evidence=evidence)
    assert rulings(late)["club:belts-label"] is Ruling.EXPIRES
    early = inspect_car(folder / "car.toml", books, date(2026, 5, 1), evidence=evidence)
    assert set(rulings(early).values()) == {Ruling.NOT_PROVEN}


@pytest.mark.parametrize(("year", "ruling"), [(2026, Ruling.PASS), (2199, Ruling.NOT_PROVEN)])
def test_a_figure_verified_on_a_day_to_come_gives_no_pass(folder, tmp_path, year, ruling):
    verified = f'known = "memory"\nverified_on = {year}-01-02\nverified_by = "Robin"'
    text = CLUB.replace('known = "own"', verified).replace("valid_to = 2026-12-31\n", "")
    (folder / "club.toml").write_text(text.replace('"400 mm"', '"300 mm"'), "utf-8")
    evidence = folder / "evidence.toml"
    books = [str(folder / "club.toml")]
    days = (DAY, date(2026, 12, 31))
    found = inspect_car(folder / "car.toml", books, *days, evidence=evidence)
    assert set(rulings(found).values()) == {ruling}
    garage = new_garage(tmp_path / "garage")
    prove(garage)
    garage.close()
    assert set(rulings(inspect_car(tmp_path / "garage", books, *days)).values()) == {ruling}


def test_books_in_the_folder_rule_books_beside_the_car_go_by_their_ids(folder):
    (folder / "rule_books").mkdir()
    series = CLUB.replace('id = "club"', 'id = "series"').replace("builds_on = []", 'builds_on = ["club"]')
    series = series[: series.index("[[fact]]")]
    (folder / "rule_books" / "series.toml").write_text(series, "utf-8")
    shutil.move(folder / "club.toml", folder / "rule_books" / "club.toml")
    found = inspect_car(folder / "car.toml", ["series"], DAY)
    assert [book.id for book in found.inspection.books] == ["club", "series"]
    assert all(book.is_own_copy for book in found.inspection.books)


def test_a_file_may_build_on_one_beside_it(folder):
    series = CLUB.replace('id = "club"', 'id = "series"').replace("builds_on = []", 'builds_on = ["club"]')
    (folder / "series.toml").write_text(series[: series.index("[[fact]]")], "utf-8")
    found = inspect_car(folder / "car.toml", [str(folder / "series.toml")], DAY)
    assert [book.id for book in found.inspection.books] == ["club", "series"]


@pytest.mark.parametrize(
    ("books", "days", "evidence", "says"),
    [
        ([], (DAY, None), None, "rule books: found none named"),
        (["club.toml"], (None, None), None, "--on 2026-06-20"),
        (["club.toml"], (DAY, date(2026, 6, 1)), None, "2026-06-20 or later"),
        (["clubb"], (DAY, None), None, "no rule book 'clubb'"),
        (["lost.toml"], (DAY, None), None, "lost.toml"),
        (["club.toml"], (DAY, None), "lost.toml", "lost.toml"),
        (["club.toml"], (DAY, None), "broken.toml", "entry 1 \\(proof\\), fakt"),
    ],
)
def test_what_is_missing_or_broken_is_said_in_words(folder, monkeypatch, books, days, evidence, says):
    monkeypatch.chdir(folder)
    (folder / "broken.toml").write_text(EVIDENCE.replace("fact =", "fakt =", 1), "utf-8")
    with pytest.raises(BadInput, match=says):
        inspect_car("car.toml", books, *days, evidence=evidence)


def test_a_garage_takes_books_and_days_of_its_next_event_unless_told(tmp_path):
    garage = new_garage(tmp_path / "garage")
    prove(garage, lamp__height="390 mm")
    garage.close()
    found = inspect_car(tmp_path / "garage")
    assert found.meeting is not None and found.meeting.meeting == "summer"
    assert rulings(found)["club:lamp-height"] is Ruling.FAIL
    later = inspect_car(tmp_path / "garage", first_day=date(2027, 1, 1))
    assert later.meeting is None
    assert rulings(later)["club:belts-label"] is Ruling.EXPIRES
    other = tmp_path / "club.toml"
    other.write_text(CLUB.replace('"400 mm"', '"300 mm"'), "utf-8")
    assert rulings(inspect_car(tmp_path / "garage", [str(other)]))["club:lamp-height"] is Ruling.PASS
    with pytest.raises(BadInput, match="its logbook holds the evidence"):
        inspect_car(tmp_path / "garage", evidence=tmp_path / "evidence.toml")


def test_the_calendar_holds_events_and_dates_of_a_garage_and_the_dates_of_a_file(tmp_path, folder):
    def summaries(path: Path) -> list[str]:
        return [str(event["SUMMARY"]) for event in Calendar.from_ical(path.read_bytes()).walk("VEVENT")]

    garage = new_garage(tmp_path / "garage")
    prove(garage)
    garage.close()
    calendar = tmp_path / "dates.ics"
    save_calendar(tmp_path / "garage", inspect_car(tmp_path / "garage"), calendar, WRITTEN_AT)
    assert summaries(calendar) == ["Summer", "Belts, date: last good day"]
    books, evidence = [str(folder / "club.toml")], folder / "evidence.toml"
    found = inspect_car(folder / "car.toml", books, DAY, evidence=evidence)
    save_calendar(folder / "car.toml", found, calendar, WRITTEN_AT)
    assert summaries(calendar) == ["Belts, date: last good day"]
    unproven = inspect_car(folder / "car.toml", books, DAY)
    none = tmp_path / "none.ics"
    assert save_calendar(folder / "car.toml", unproven, none, WRITTEN_AT) == () and not none.exists()
    with pytest.raises(BadInput, match=r"dates\.ics"):
        save_calendar(folder / "car.toml", found, calendar / "below-a-file.ics", WRITTEN_AT)


def test_the_evidence_written_by_hand_says_what_the_garage_was_told():
    assert all(f'fact = "{fact}"' in EVIDENCE for fact in WRITTEN)


def test_the_demos_files_give_what_its_garage_gives(tmp_path):
    write_demo(tmp_path / "files")
    books = [str(book) for book in sorted((tmp_path / "files" / "rule_books").glob("*.toml"))]
    files = inspect_car(
        tmp_path / "files" / "car.toml",
        books,
        NEXT_EVENT,
        NEXT_EVENT + timedelta(days=1),
        evidence=tmp_path / "files" / "evidence.toml",
    )
    today = NEXT_EVENT - timedelta(days=SOONEST)
    garage = Garage(write_demo_garage(tmp_path / "garage", today), today=lambda: today)
    whole = inspect_in_garage(garage, books, NEXT_EVENT, NEXT_EVENT + timedelta(days=1))
    garage.close()
    assert rulings(files) == rulings(whole)
