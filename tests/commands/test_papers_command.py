import json
from datetime import date

import pytest
from click.testing import CliRunner
from pypdf import PdfReader

from tintop.cli import main
from tintop.store.demo_garage import write_demo_garage


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    folder = tmp_path_factory.mktemp("command") / "garage"
    write_demo_garage(folder, date.today()).close()  # noqa: DTZ011 (the command asks the calendar)
    return folder


def test_three_papers_are_written(folder, tmp_path) -> None:
    result = CliRunner().invoke(
        main, ["papers", str(folder), str(tmp_path / "new" / "out"), "--no-predict", "--json"]
    )
    assert result.exit_code == 0, result.output
    written = json.loads(result.stdout)["written"]
    counts = {path.rsplit("/", 1)[1]: len(PdfReader(path).pages) for path in written}
    assert counts["event-card.pdf"] == 1
    assert counts["build-book.pdf"] >= counts["build-book-public.pdf"] > 5
    assert sorted(path.name for path in (tmp_path / "new" / "out").iterdir()) == sorted(counts)


def test_what_cannot_be_written_is_said(folder, tmp_path) -> None:
    (tmp_path / "file").write_text("kept")
    result = CliRunner().invoke(main, ["papers", str(folder), str(tmp_path / "file"), "--no-predict"])
    assert result.exit_code == 2 and "file" in result.stderr and "Traceback" not in result.output
    assert (tmp_path / "file").read_text() == "kept"


def test_no_garage_is_said(tmp_path) -> None:
    result = CliRunner().invoke(main, ["papers", str(tmp_path / "nowhere"), str(tmp_path / "out")])
    assert result.exit_code == 2 and not (tmp_path / "out").exists()
