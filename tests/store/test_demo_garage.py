"""The demo's garage: always before its next event, written whole or not at all."""

import re
from datetime import date, timedelta
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tintop.errors import BadInput
from tintop.logbook.book import logbook_of
from tintop.logbook.entries import (
    Draft,
    Entry,
    MeetingPlanned,
    PaperAdded,
)
from tintop.logbook.meetings import next_meeting
from tintop.store.circuits import read_circuit
from tintop.store.demo_garage import (
    DOCUMENTS,
    NEXT_EVENT,
    demo_drafts,
    demo_garage,
    shift_to,
    shifted,
    write_demo_garage,
)
from tintop.store.documents import read_car, read_event
from tintop.store.garage_store import Store

TODAY = date(2026, 6, 9)


@cache
def drafts() -> tuple[Draft, ...]:
    return demo_drafts()


@cache
def entries() -> tuple[Entry, ...]:
    return demo_garage(TODAY).entries


@given(st.dates(date(1990, 1, 1), date(2150, 12, 31)))
def test_the_next_event_is_eight_to_fourteen_days_away_on_the_same_weekday(today: date) -> None:
    by = shift_to(today)
    assert 8 <= (NEXT_EVENT + by - today).days <= 14
    assert by.days % 7 == 0


@settings(deadline=None)
@given(st.dates(date(2000, 1, 1), date(2100, 12, 31)))
def test_every_date_moves_alike_and_nothing_has_happened_after_today(today: date) -> None:
    by = shift_to(today)
    for old in drafts()[::17]:
        new = shifted(old, by)
        assert new.day - old.day == by
        assert new.day.weekday() == old.day.weekday()
        for name in ("first_day", "last_day", "made", "owed_by"):
            before, after = getattr(old.matter, name, None), getattr(new.matter, name, None)
            assert (before is None) == (after is None)
            if before is not None:
                assert after - before == by
        if getattr(old.matter, "marked_to", "") not in ("year", "month"):
            assert shifted(new, -by) == old
    assert drafts()[-1].day + by < today


@pytest.mark.parametrize("today", [TODAY, date(2026, 6, 6), date(2026, 6, 12), date(2031, 1, 3)])
def test_on_any_day_the_book_opens_on_the_next_event(today: date) -> None:
    garage = demo_garage(today)
    shifted_book = logbook_of(garage.entries)
    coming = next_meeting(shifted_book, today)
    assert coming.planned.meeting == "larkmoor"
    assert 8 <= (coming.planned.first_day - today).days <= 14
    assert max(entry.day for entry in garage.entries) < today
    dates = {name: re.search(r'^date = "(.*)"', text, re.M) for name, text in garage.documents.items()}
    for _, plan in shifted_book.of(MeetingPlanned):
        if plan.document:
            written = date.fromisoformat(dates[plan.document][1])
            assert plan.first_day <= written <= plan.last_day, plan.meeting


def test_a_written_entry_is_shifted_with_the_time_it_was_written() -> None:
    old = entries()[0]
    new = shifted(old, timedelta(weeks=3))
    assert new.written_at == (old.day + timedelta(weeks=3)).isoformat() + old.written_at[10:]


# -- on the disk --------------------------------------------------------------------------------------


def test_the_garage_is_written_whole_and_opens_again(tmp_path: Path) -> None:
    folder = tmp_path / "shed" / "lantern"
    with write_demo_garage(folder, TODAY) as store:
        assert store.entries() == entries()
        assert set(store.document_names()) == {*DOCUMENTS, "garage.toml"}
        assert store.settings.title == "Lantern"
        assert store.notices == ()
        papers = [matter for _, matter in logbook_of(store.entries()).of(PaperAdded)]
        assert len(papers) == 29
        for paper in papers:
            content = store.original_content(paper.digest)
            assert content.startswith(b"\x89PNG") and len(content) == paper.size
    for name in DOCUMENTS:
        if name.startswith("circuits/"):
            assert read_circuit(folder / name).has_widths
        elif name.startswith("events/"):
            assert read_event(folder / name).event.race is not None
    assert read_car(folder / "car.toml").car.name.startswith("Lantern")
    assert [path.name for path in (tmp_path / "shed").iterdir()] == ["lantern"]
    with Store.open(folder) as store:
        assert store.last_entry() == len(entries())


def test_an_empty_folder_is_filled_and_one_in_use_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "mine.txt").write_text("mine")
    with pytest.raises(BadInput, match="so that nothing is overwritten"):
        write_demo_garage(tmp_path, TODAY)
    assert [path.name for path in tmp_path.iterdir()] == ["mine.txt"]
    empty = tmp_path / "empty"
    empty.mkdir()
    write_demo_garage(empty, TODAY).close()
    before = {path: path.read_bytes() for path in empty.rglob("*") if path.is_file()}
    with pytest.raises(BadInput, match="found a garage"):
        write_demo_garage(empty, TODAY)
    assert {path: path.read_bytes() for path in empty.rglob("*") if path.is_file()} == before
    with pytest.raises(BadInput, match="found a file"):
        write_demo_garage(tmp_path / "mine.txt", TODAY)


def test_cut_off_in_the_middle_it_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(store: Store, entries: object) -> int:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Store, "import_entries", broken)
    with pytest.raises(BadInput, match="no room left"):
        write_demo_garage(tmp_path / "lantern", TODAY)
    assert list(tmp_path.iterdir()) == []
