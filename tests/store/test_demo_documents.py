"""Writing the demo's documents for a start of one's own."""

from pathlib import Path

import pytest

from tintop.errors import BadInput
from tintop.logbook.entries import PaperAdded, PartAdded
from tintop.logbook.proof_entries import ProofRecorded
from tintop.store.demo import NAMES, demo_path, write_demo
from tintop.store.documents import read_car, read_event
from tintop.store.exchange.text import drafts_from_text
from tintop.store.rule_books import read_rule_book


def test_the_demo_is_written_and_reads(tmp_path: Path) -> None:
    written = write_demo(tmp_path / "new" / "folder")
    assert [path.name for path in written[: len(NAMES)]] == list(NAMES)
    for path in written[: len(NAMES)]:
        assert path.read_bytes() == demo_path(path.name).read_bytes()
    assert read_car(written[0]) == read_car(demo_path("car.toml"))
    assert read_car(written[1]).car.name.startswith("Marten")
    assert read_event(written[2]).event.race.duration == 7200.0


def test_its_rule_books_and_what_proves_its_car_are_written_beside(tmp_path: Path) -> None:
    *_, evidence = written = write_demo(tmp_path)
    books = [path for path in written if path.parent.name == "rule_books"]
    assert {read_rule_book(path).id for path in books} >= {"harrow_down_series", "larkmoor_bulletin"}
    drafts = drafts_from_text(evidence.read_text("utf-8"), evidence.name)
    parts = {draft.matter.part for draft in drafts if isinstance(draft.matter, PartAdded)}
    papers = {draft.matter.digest for draft in drafts if isinstance(draft.matter, PaperAdded)}
    for draft in drafts:
        if isinstance(draft.matter, ProofRecorded):
            assert draft.matter.part in {*parts, ""} and set(draft.matter.papers) <= papers
        if isinstance(draft.matter, PartAdded):
            assert draft.matter.price_cents is None


def test_nothing_is_overwritten_or_half_written(tmp_path: Path) -> None:
    (tmp_path / "event.toml").write_text("mine")
    with pytest.raises(BadInput, match=r"event\.toml: found a file of this name"):
        write_demo(tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["event.toml"]
    assert (tmp_path / "event.toml").read_text() == "mine"


def test_a_file_in_place_of_the_folder_is_refused(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("a file")
    with pytest.raises(BadInput, match="cannot be written"):
        write_demo(tmp_path / "taken")


def test_no_other_file_is_given() -> None:
    with pytest.raises(BadInput, match=r"car\.toml"):
        demo_path("../defaults/car.toml")
