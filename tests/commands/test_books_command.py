"""The rule books by command: listed, shown, copied, started anew, checked."""

import json
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
    assert "Your own copy" in run("show", ID, "--garage", garage).output


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


def test_facts_are_found_by_a_word():
    listed = json.loads(run("facts", "tread", "--json").stdout)
    assert listed
    assert all("tread" in f"{one['name']} {one['ask']}".casefold() for one in listed)
    assert len(json.loads(run("facts", "--json").stdout)) == len(shipped_facts())
    assert listed[0]["name"] in run("facts", "tread").output.replace("\n", "")
    assert "declare one under [[fact]]" in run("facts", "xylophone").output


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
