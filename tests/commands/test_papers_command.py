import json
from datetime import date

import pytest
from click.testing import CliRunner
from pypdf import PdfReader

from inspected_garages import new_garage, planned
from tintop.cli import main
from tintop.store.demo_garage import write_demo_garage


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    folder = tmp_path_factory.mktemp("command") / "garage"
    write_demo_garage(folder, date.today()).close()  # noqa: DTZ011 (the command asks the calendar)
    return folder


def test_every_paper_is_written(folder, tmp_path) -> None:
    result = CliRunner().invoke(
        main, ["papers", str(folder), str(tmp_path / "new" / "out"), "--no-predict", "--prices", "--json"]
    )
    assert result.exit_code == 0, result.output
    written = json.loads(result.stdout)["written"]
    counts = {path.rsplit("/", 1)[1]: len(PdfReader(path).pages) for path in written}
    assert counts["event-card.pdf"] == 1
    assert counts["build-book.pdf"] >= counts["build-book-public.pdf"] > 5
    assert counts["scrutineer-pack.pdf"] > 5 and counts["scrutineer-pack-with-prices.pdf"] > 5
    assert sorted(path.name for path in (tmp_path / "new" / "out").iterdir()) == sorted(counts)


def test_without_a_rule_book_no_pack_is_written_and_that_is_said(tmp_path) -> None:
    new_garage(tmp_path / "garage", (planned(first="2099-06-20", rule_books=()),)).close()
    result = CliRunner().invoke(
        main, ["papers", str(tmp_path / "garage"), str(tmp_path / "out"), "--no-predict"]
    )
    assert result.exit_code == 0, result.output
    assert "No rule book is named for Summer" in result.stderr
    assert sorted(path.name for path in (tmp_path / "out").iterdir()) == [
        "build-book-public.pdf",
        "build-book.pdf",
        "event-card.pdf",
    ]


def test_what_cannot_be_written_is_said(folder, tmp_path) -> None:
    (tmp_path / "file").write_text("kept")
    result = CliRunner().invoke(main, ["papers", str(folder), str(tmp_path / "file"), "--no-predict"])
    assert result.exit_code == 2 and "file" in result.stderr and "Traceback" not in result.output
    assert (tmp_path / "file").read_text() == "kept"


def test_no_garage_is_said(tmp_path) -> None:
    result = CliRunner().invoke(main, ["papers", str(tmp_path / "nowhere"), str(tmp_path / "out")])
    assert result.exit_code == 2 and not (tmp_path / "out").exists()
