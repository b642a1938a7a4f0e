"""The rule books by command: listed, shown, copied, started anew, checked."""

import json
import tomllib
from contextlib import closing
from datetime import datetime

import pytest
from click.testing import CliRunner

from rule_texts import book, clause
from tintop.cli import main
from tintop.garage.keeper import Garage
from tintop.settings import Settings
from tintop.store.demo_garage import write_demo_garage
from tintop.store.garage_store import Store
from tintop.store.rule_books import shipped_book, shipped_facts, shipped_ids

LIMIT = 'value = "test.height"\nat_least = "230 mm"'
ID = "road_drive"


def run(*arguments):
    return CliRunner().invoke(main, ["books", *map(str, arguments)])


@pytest.fixture
def garage(tmp_path):
    folder = tmp_path / "garage"
    Store.create(folder, Settings(title="Lantern", owner="Robin")).close()
    return folder


def test_the_shipped_books_are_listed():
    result = run()
    assert result.exit_code == 0, result.output
    assert "Caution: A working aid" in result.output
    listed = json.loads(run("--json").stdout)
    assert [one["id"] for one in listed] == list(shipped_ids())
    assert [one["clauses"] for one in listed] == [len(shipped_book(id).clauses) for id in shipped_ids()]


def test_a_book_is_shown_clause_by_clause():
    result = run("show", ID)
    assert result.exit_code == 0, result.output
    shipped = shipped_book(ID)
    assert shipped.title in result.output
    shown = json.loads(run("show", ID, "--json").stdout)
    assert [one["id"] for one in shown["clauses"]] == [one.id for one in shipped.clauses]
    assert all(one["check"] for one in shown["clauses"] if one["act"] != "waives")


def test_a_book_that_is_not_there_is_said():
    result = run("show", ID + "x")
    assert result.exit_code == 2
    assert f"Did you mean {ID}?" in result.stderr


def test_a_copy_is_put_into_the_garage_once_and_counts_there(garage):
    result = run("copy", ID, "--garage", garage)
    assert result.exit_code == 0, result.output
    path = garage / "rule_books" / f"{ID}.toml"
    assert path.read_text("utf-8").startswith("# Your own copy")
    with closing(Garage.open(garage, writing=False)) as opened:
        assert f"rule_books/{ID}.toml" in opened.document_names()
    again = run("copy", ID, "--garage", garage)
    assert again.exit_code == 2
    assert "in the garage already" in again.stderr
    listed = json.loads(run("--garage", garage, "--json").stdout)
    assert [one["is_own_copy"] for one in listed] == [one["id"] == ID for one in listed]
    assert "Your own text" in run("show", ID, "--garage", garage).output


def test_a_new_book_is_started(garage):
    result = run("copy", "harrow", "--new", "Harrow Down series", "--on", ID, "--garage", garage)
    assert result.exit_code == 0, result.output
    assert json.loads(run("show", "harrow", "--garage", garage, "--json").stdout)["builds_on"] == [ID]


def test_nothing_is_written_where_there_is_no_garage_or_no_such_book(garage, tmp_path):
    assert run("copy", ID, "--garage", tmp_path / "nowhere").exit_code == 2
    assert run("copy", "nowhere", "--garage", garage).exit_code == 2
    assert not (garage / "rule_books").exists()
    assert not (tmp_path / "nowhere").exists()


def test_a_book_that_reads_is_said_to(tmp_path):
    path = tmp_path / "harrow.toml"
    path.write_text(book(clause(LIMIT), clause(LIMIT, id="b", known="memory")), "utf-8")
    result = run("check", path)
    assert result.exit_code == 0, result.output
    assert "2 clauses, and all of it reads" in result.output
    assert "1 rest on a figure from memory" in result.output


def test_a_book_that_does_not_read_is_refused_with_every_line(tmp_path):
    path = tmp_path / "harrow.toml"
    path.write_text(book(clause(LIMIT.replace("mm", "kg")), clause("shown = ['no.such']", id="b")), "utf-8")
    result = run("check", path)
    assert result.exit_code == 2
    assert result.stderr.count("harrow.toml line ") == 2
    assert "Traceback" not in result.output


def test_a_garages_book_that_does_not_read_is_said_beside_the_list_of_the_others(garage):
    folder = garage / "rule_books"
    folder.mkdir()
    (folder / "harrow.toml").write_text(book(clause("holds = '1 +'")), "utf-8")
    result = run("--garage", garage)
    assert result.exit_code == 2
    assert "harrow does not read" in result.stderr
    assert ID in result.stdout


def names(*words):
    return [one["name"] for one in json.loads(run("facts", *words, "--json").stdout)]


def test_facts_are_found_by_words_each_apart_and_by_others_of_the_same_meaning():
    assert len(names()) == len(shipped_facts())
    assert names("tread") and all("tread" in name for name in names("tread")[:1])
    assert "numbers.stroke" in names("figures", "stroke") == names("stroke figures")
    assert names("weight")[0] == "mass.with_driver"
    assert names("sunstrip")[0] == "numbers.windscreen_strip_height"
    assert "towing.webbing_allowed_by" in names("tow", "strap")
    assert names("tread")[0] in run("facts", "tread").output.replace("\n", "")


def test_before_a_fact_is_declared_near_words_and_near_facts_are_shown():
    door = run("facts", "door", "number").output
    assert "No shipped fact has all of 'door number'" in door and "numbers.height" in door
    assert "height" in run("facts", "hieght").output
    assert "before you declare a fact of your own" in run("facts", "xylophone").output


def write_series(folder):
    """Two books on one another in a folder: the upper one."""
    folder.mkdir(exist_ok=True)
    (folder / "lower.toml").write_text(
        book(clause(LIMIT), clause(LIMIT, id="b").replace('"numbers"', '"body"')).replace(
            '"harrow"', '"lower"'
        ),
        "utf-8",
    )
    upper = book(clause(LIMIT.replace("230", "250") + '\ntightens = "lower:height"'), facts="")
    path = folder / "upper.toml"
    path.write_text(
        upper.replace('"harrow"', '"upper"').replace("cautions", 'builds_on = ["lower"]\ncautions', 1),
        "utf-8",
    )
    return path


def test_a_whole_stack_is_shown_of_one_group(tmp_path):
    path = write_series(tmp_path)
    shown = json.loads(run("show", path, "--stack", "--group", "numbers", "--json").stdout)
    assert [(one["id"], [clause["id"] for clause in one["clauses"]]) for one in shown] == [
        ("lower", ["height"]),
        ("upper", ["height"]),
    ]
    said = run("show", path, "--stack").output
    assert "Numbers" in said and "Body" in said and "lower: height" in said and "upper: height" in said
    assert "Your own text" in run("show", path).output
    wrong = run("show", path, "--group", "number")
    assert wrong.exit_code == 2 and "Did you mean numbers?" in wrong.stderr


def test_next_years_edition_lies_beside_this_years(garage, tmp_path):
    assert run("copy", "harrow", "--new", "Harrow Down series", "--garage", garage).exit_code == 0
    result = run("copy", "harrow_2027", "--from", "harrow", "--garage", garage)
    assert result.exit_code == 0 and "valid_from" in result.output
    shown = json.loads(run("show", "harrow_2027", "--garage", garage, "--json").stdout)
    assert (shown["id"], shown["title"]) == ("harrow_2027", "Harrow Down series")
    assert json.loads(run("changes", "harrow", "harrow_2027", "--garage", garage, "--json").stdout) == []
    assert run("copy", "x", "--from", "harow", "--garage", garage).exit_code == 2
    assert run("copy", "x", "--from", "harrow", "--new", "y", "--garage", garage).exit_code == 2


def test_a_file_of_evidence_asks_for_every_fact_of_a_stack_once_for_each_instance(tmp_path):
    path = write_series(tmp_path)
    text = run("evidence", path).stdout
    tables = tomllib.loads(text)
    assert [entry["fact"] for entry in tables["entry"]] == ["test.height"]
    assert all(entry["written"] == "" for entry in tables["entry"])
    assert "# Height of the test figure." in text and "--book upper" in text
    whole = tomllib.loads(run("evidence", "united_kingdom_club").stdout)["entry"]
    asked = [(entry["fact"], entry.get("each", "")) for entry in whole]
    assert len(asked) == len(set(asked)) > 200
    assert ("numbers.height", "left") in asked and ("drivers", "") in asked


def test_a_figure_said_to_be_verified_on_a_day_to_come_is_told(tmp_path):
    path = tmp_path / "harrow.toml"
    fields = LIMIT + '\nverified_on = 2199-01-01\nverified_by = "Robin"'
    path.write_text(book(clause(fields, known="memory")), "utf-8")
    said = run("check", path).output
    assert "height is verified on 2199-01-01: that counts from that day on." in said
    assert "1 rest on a figure from memory" in said


def test_the_first_column_is_never_cut_within_a_word(monkeypatch):
    monkeypatch.setenv("COLUMNS", "60")
    lines = run("facts", "webbing").output.splitlines()
    assert any(line.startswith("towing.webbing_allowed_by") for line in lines)
    assert all(len(line.rstrip()) <= 60 for line in lines)


def test_what_a_copy_changes_is_listed_with_what_is_on_record(garage):
    assert run("copy", ID, "--garage", garage).exit_code == 0
    path = garage / "rule_books" / f"{ID}.toml"
    text = path.read_text("utf-8")
    path.write_text(text.replace('at_least = "1.6 mm"', 'at_least = "2 mm"', 1), "utf-8")
    (change,) = json.loads(run("changes", ID, "--garage", garage, "--json").stdout)
    assert change["change"] == "changed"
    assert change["lines"] == ["at least: 1.6 mm, now 2 mm"]
    assert change["facts"]
    assert change["on_record"] == []
    said = run("changes", ID, "--garage", garage)
    assert "0 added, 0 removed, 1 changed" in said.output
    (same_by_file,) = json.loads(run("changes", ID, path, "--json").stdout)
    assert same_by_file["lines"] == change["lines"]
    assert json.loads(run("changes", ID, ID, "--json").stdout) == []


def test_what_scales_and_the_cars_document_know_counts_as_on_record(tmp_path):
    demo = tmp_path / "garage"
    write_demo_garage(demo, datetime.now().astimezone().date()).close()
    folder = demo / "rule_books"
    text = (folder / "harrow_down_series.toml").read_text("utf-8")
    old = tmp_path / "harrow_down_series.toml"
    old.write_text(text, "utf-8")
    (folder / "harrow_down_series.toml").write_text(
        text.replace("mass.with_driver", "(mass.with_driver + 0 kg * car.capacity / 1 L)"), "utf-8"
    )
    listed = json.loads(run("changes", old, "harrow_down_series", "--garage", demo, "--json").stdout)
    on_record = {name for change in listed for name in change["on_record"]}
    assert {"mass.with_driver", "car.capacity"} <= on_record


def test_a_book_is_compared_with_another_only():
    result = run("changes", ID)
    assert result.exit_code == 2
    assert "a second book, or --garage" in result.stderr
