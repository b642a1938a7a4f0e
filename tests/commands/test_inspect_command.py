"""`tintop inspect`: exit codes, every clause as JSON, and words for a terminal."""

import json
import shutil
from hashlib import sha256
from pathlib import Path

import pytest
from click.testing import CliRunner

from inspected_garages import CLUB, fix_today, new_garage, planned, prove
from inspections import clause_text
from tintop.cli import main
from tintop.logbook.entries import MeetingPlanned
from tintop.store.demo import demo_path

PER_CLAUSE = {
    "id", "verdict", "reason", "margin", "evidence", "decided_by", "severity", "expires", "to_do",
}  # fmt: skip


def inspect(*arguments: str | Path):
    return CliRunner().invoke(main, ["inspect", *map(str, arguments)])


@pytest.fixture(autouse=True)
def _today(monkeypatch: pytest.MonkeyPatch) -> None:
    fix_today(monkeypatch)


@pytest.fixture
def garage(tmp_path: Path):
    def made(*meetings: MeetingPlanned, **changed: str) -> Path:
        opened = new_garage(tmp_path / "garage", meetings or (planned(),))
        if changed:
            prove(opened, **changed)
        opened.close()
        return tmp_path / "garage"

    return made


@pytest.mark.parametrize(
    ("changed", "code"),
    [
        ({}, 3),  # nothing proven
        ({"belts__straps": "6"}, 0),
        ({"lamp__height": "390 mm"}, 0),  # to be mended, does not stop the car
        ({"belts__straps": "5"}, 1),
        ({"belts__label": "2025"}, 1),
    ],
)
def test_the_exit_code_says_whether_it_may_race(garage, changed, code):
    assert inspect(garage(**changed), "--json").exit_code == code


def test_json_holds_every_clause_with_what_it_rests_on(garage):
    content = json.loads(inspect(garage(belts__label="2025"), "--json").stdout)
    assert content["verdict"] == "no" and content["stops_racing"] == ["club:belts-label"]
    clauses = {each["id"]: each for each in content["clauses"]}
    assert set(clauses) == {"club:belts-label", "club:belts-straps", "club:lamp-height"}
    assert all(set(each) >= PER_CLAUSE for each in clauses.values())
    assert clauses["club:belts-label"]["verdict"] == "expires before the event"
    assert clauses["club:belts-label"]["expires"] == "2025-12-31"
    lamp = clauses["club:lamp-height"]
    assert lamp["margin"]["amount"] == pytest.approx(0.05)
    assert lamp["evidence"][0]["fact"] == "lamp.height" and lamp["evidence"][0]["entry"] == 4
    assert content["books"][0]["edition"] == "2026" and content["books"][0]["is_own_copy"]
    assert content["cautions"]


def test_the_terminal_says_what_is_missed_first_and_all_when_asked(garage):
    folder = garage(belts__straps="5")
    said = inspect(folder).stdout
    assert said.startswith("Not legal: ")
    assert "1 fail, 2 pass." in said
    assert "Met, or not applicable" not in said and "Caution: " in said
    assert "Met, or not applicable" in inspect(folder, "--all").stdout


def test_an_event_without_a_book_is_not_proven(garage):
    found = inspect(garage(planned(rule_books=())))
    assert found.exit_code == 3
    assert "no rule book is named for Summer" in found.stdout


def test_a_book_edited_in_the_folder_is_what_is_judged_and_it_is_said(garage):
    folder = garage(lamp__height="450 mm")
    assert inspect(folder).exit_code == 0
    book = folder / "rule_books" / "club.toml"
    kept = (folder / "garage.sqlite").read_bytes()
    book.write_text(CLUB.replace('"6"', '"7"').replace('edition = "2026"', 'edition = "2026-2"'), "utf-8")
    found = inspect(folder, "--json")
    assert found.exit_code == 1
    assert "rule_books/club.toml as it lies in the folder, not yet taken in" in found.stderr
    content = json.loads(found.stdout)
    assert content["stops_racing"] == ["club:belts-straps"]
    assert content["books"][0]["edition"] == "2026-2"
    assert content["books"][0]["digest"] == sha256(book.read_bytes()).hexdigest()
    assert (folder / "garage.sqlite").read_bytes() == kept


def test_a_book_or_a_car_put_into_the_folder_broken_is_refused_with_its_line(garage):
    folder = garage(lamp__height="450 mm")
    book = folder / "rule_books" / "club.toml"
    book.write_text(CLUB.replace("at_least", "at_laest"), "utf-8")
    found = inspect(folder)
    assert found.exit_code == 2 and "club.toml line " in found.stderr and "at_laest" in found.stderr
    book.write_text(CLUB, "utf-8")
    assert inspect(folder).exit_code == 0
    (folder / "car.toml").write_text("[engine\n", "utf-8")
    found = inspect(folder)
    assert found.exit_code == 2 and "car.toml line 1" in found.stderr


def test_a_new_bulletin_put_into_the_folder_is_inspected_by_its_id(garage):
    folder = garage(lamp__height="450 mm")
    (folder / "rule_books" / "bulletin.toml").write_text(
        CLUB[: CLUB.index("[[fact]]")].replace('"club"', '"bulletin"').replace("[]", '["club"]')
        + clause_text("more", 'value = "belts.straps"\nat_least = "8"\ntightens = "club:belts-straps"'),
        "utf-8",
    )
    found = inspect(folder, "--book", "bulletin")
    assert found.exit_code == 1 and "bulletin" in found.stdout
    assert "rule_books/bulletin.toml as it lies in the folder, not yet taken in" in found.stderr


def test_files_alone_and_a_calendar(tmp_path):
    shutil.copy(demo_path("car.toml"), tmp_path / "car.toml")
    (tmp_path / "club.toml").write_text(CLUB, "utf-8")
    found = inspect(
        tmp_path / "car.toml",
        "--book",
        tmp_path / "club.toml",
        "--on",
        "2026-06-20",
        "--calendar",
        tmp_path / "a.ics",
    )
    assert found.exit_code == 3
    assert "no calendar written" in found.stderr


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("--on", "2026-06-20"), "one or more, such as --book"),
        (("--book", "nonsense", "--on", "2026-06-20"), "no rule book 'nonsense'"),
        (("--book", "road_drive"), "--on 2026-06-20"),
    ],
)
def test_bad_input_is_one_sentence_and_code_2(arguments, says):
    found = inspect(demo_path("car.toml"), *arguments)
    assert found.exit_code == 2 and says in found.stderr and "Traceback" not in found.output


def test_a_day_in_another_order_and_a_folder_with_a_car_alone_are_said(tmp_path, monkeypatch):
    found = inspect(demo_path("car.toml"), "--book", "road_drive", "--on", "05/12/2026")
    assert found.exit_code == 2
    assert found.stderr == (
        "--on: found '05/12/2026'; expected a day as year-month-day, such as 2026-06-20.\n"
    )
    shutil.copy(demo_path("car.toml"), tmp_path / "car.toml")
    monkeypatch.chdir(tmp_path)
    found = inspect()
    assert found.exit_code == 2
    assert "a folder that is no garage" in found.stderr and "tintop inspect car.toml --book" in found.stderr


def test_no_garage_there_is_said_in_words(tmp_path):
    found = inspect(tmp_path)
    assert found.exit_code == 2 and found.stderr
