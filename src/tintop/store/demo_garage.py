"""The demo's garage: one invented season of the Lantern, always two weeks or less before its next event."""

import calendar
import re
import secrets
import shutil
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from datetime import date, timedelta
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import TypeVar

from tintop.errors import refuse
from tintop.logbook.book import entry_of
from tintop.logbook.entries import Draft, Entry, PaperAdded
from tintop.logbook.proof_entries import ProofRecorded
from tintop.settings import USUAL_UNITS, Settings
from tintop.store.demo import SETUPS
from tintop.store.demo_pictures import Picture, demo_pictures
from tintop.store.durable import UNFINISHED, disk_in_plain_words, make_folder, sync_folder
from tintop.store.exchange.text import drafts_from_text
from tintop.store.garage_store import Store
from tintop.store.originals import Original
from tintop.store.revisions import digest_of

BOOK = (
    "strip_out",
    "cage_and_cabin",
    "running_gear",
    "opening",
    "ottersgill",
    "bearing",
    "last_event",
    "money",
    "inspection_outside",
    "inspection_under_the_bonnet",
    "inspection_cage",
    "inspection_seat",
    "inspection_harness",
    "inspection_cabin",
    "inspection_boot_and_underneath",
    "inspection_kit",
    "inspection_papers",
)
DOCUMENTS: Mapping[str, str] = {
    "car.toml": "car.toml",
    "cage.toml": "cage.toml",
    "chassis.toml": "chassis.toml",
    **{f"setups/{name}.toml": f"setups/{name}.toml" for name in SETUPS},
    "circuits/larkmoor.csv": "circuit.csv",
    "circuits/ottersgill.csv": "ottersgill.csv",
    "circuits/wether-moor.csv": "wether_moor.csv",
    "events/opening.toml": "events/opening.toml",
    "events/wether-moor.toml": "events/wether-moor.toml",
    "events/trophy.toml": "events/trophy.toml",
    "events/hundred.toml": "events/hundred.toml",
    "events/larkmoor.toml": "event.toml",
    "rule_books/harrow_down_series.toml": "rule_books/harrow_down_series.toml",
    "rule_books/larkmoor_bulletin.toml": "rule_books/larkmoor_bulletin.toml",
}
NEXT_EVENT = date(2026, 6, 20)  # as the demo's files have it
SOONEST = 8  # [day] from today to the next event's first day
_WRITTEN_IN_THE_EVENING = "T21:30:00Z"
_DATE_OF_DOCUMENT = re.compile(r'^((?:date|valid_from|valid_to) = "?)(\d{4}-\d{2}-\d{2})("?)$', re.MULTILINE)
_SHIFTED = ("events/", "rule_books/")
_Dated = TypeVar("_Dated")


@dataclass(frozen=True, slots=True, kw_only=True)
class DemoGarage:
    """All that goes into the demo's garage, its dates shifted: documents by name, entries, pictures."""

    documents: Mapping[str, str]
    entries: tuple[Entry, ...]
    pictures: tuple[Picture, ...]


def shift_to(today: date) -> timedelta:
    """The whole weeks that put the next event's first day 8 to 14 days after a day."""
    wanted = today + timedelta(days=SOONEST)
    return timedelta(weeks=-((NEXT_EVENT - wanted).days // 7))


def shifted(value: _Dated, by: timedelta) -> _Dated:
    """An entry, draft or matter with every date in it moved; the rest stays.

    A label that bears a year or a month then bears that of the day moved.
    """
    if isinstance(value, date):
        return value + by
    if isinstance(value, tuple):
        return type(value)(shifted(one, by) for one in value)
    if not is_dataclass(value) or isinstance(value, type):
        return value
    old = {field.name: getattr(value, field.name) for field in fields(value)}
    moved = {name: shifted(one, by) for name, one in old.items()}
    if isinstance(value, Entry):
        written = date.fromisoformat(value.written_at[:10]) + by
        moved["written_at"] = written.isoformat() + value.written_at[10:]
    if isinstance(marked := moved.get("marked"), date):
        moved["marked"] = _as_marked(marked, moved["marked_to"])
    return replace(value, **{name: one for name, one in moved.items() if one is not old[name]})


def _as_marked(day: date, to: str) -> date:
    """The last day that fits what a label bears of a day."""
    if to == "year":
        return date(day.year, 12, 31)
    if to == "month":
        return day.replace(day=calendar.monthrange(day.year, day.month)[1])
    return day


def shifted_document(text: str, by: timedelta) -> str:
    """The document of an event or of an invented rule book with its own dates moved; no standard's."""
    return _DATE_OF_DOCUMENT.sub(
        lambda found: found[1] + (date.fromisoformat(found[2]) + by).isoformat() + found[3], text
    )


@cache
def demo_drafts() -> tuple[Draft, ...]:
    """The season's entries dated for 2026, in the order they happened; `corrects` counts from 1 in it."""
    found: list[tuple[Draft, tuple[str, int], int | None]] = []
    for name in BOOK:
        drafts = drafts_from_text(_packaged(f"book/{name}.toml"), f"{name}.toml")
        found += [(draft, (name, place), draft.corrects) for place, draft in enumerate(drafts, start=1)]
    found.sort(key=lambda each: (each[0].day, each[0].clock))
    numbers = {written: number for number, (_, written, _) in enumerate(found, start=1)}
    return tuple(
        draft if corrects is None else replace(draft, corrects=numbers[written[0], corrects])
        for draft, written, corrects in found
    )


def demo_garage(today: date) -> DemoGarage:
    """The demo's garage as values, for a day; the same day gives the same garage."""
    by = shift_to(today)
    drafts = tuple(shifted(draft, by) for draft in demo_drafts())
    pictures = demo_pictures(drafts)
    drafts = tuple(with_papers(draft, pictures) for draft in drafts)
    entries = [_entry(draft, number) for number, draft in enumerate(drafts, start=1)]
    entries += [
        _entry(_paper(picture), number) for number, picture in enumerate(pictures, start=len(entries) + 1)
    ]
    texts = {
        name: shifted_document(_packaged(file), by) if name.startswith(_SHIFTED) else _packaged(file)
        for name, file in DOCUMENTS.items()
    }
    return DemoGarage(documents=texts, entries=tuple(entries), pictures=pictures)


def with_papers(draft: Draft, pictures: Iterable[Picture]) -> Draft:
    """A draft whose proof names its pictures by their digests."""
    if not isinstance(draft.matter, ProofRecorded) or not draft.matter.papers:
        return draft
    digests = {picture.name.removesuffix(".png"): digest_of(picture.content) for picture in pictures}
    papers = tuple(digests[name] for name in draft.matter.papers)
    return replace(draft, matter=replace(draft.matter, papers=papers))


def write_demo_garage(folder: Path | str, today: date) -> Store:
    """Write the demo's garage into a folder, made if it is missing, and open it for writing.

    It is made beside the folder and given its name when it is whole. Raises BadInput, with nothing written,
    if the folder holds anything, or cannot be written.
    """
    folder = Path(folder)
    _refuse_taken(folder)
    content = demo_garage(today)
    settings = Settings(
        title="Lantern", owner="the owner", units={**USUAL_UNITS, "pressure": "bar"}, is_demo=True
    )
    beside = folder.absolute().with_name(f".{folder.absolute().name}.{secrets.token_hex(4)}{UNFINISHED}")
    with disk_in_plain_words(folder):
        make_folder(beside)
        try:
            _fill(beside, settings, content)
            if folder.exists():
                folder.rmdir()
            beside.rename(folder)
        finally:
            shutil.rmtree(beside, ignore_errors=True)
        sync_folder(folder.absolute().parent)
    return Store.open(folder)


def _refuse_taken(folder: Path) -> None:
    with disk_in_plain_words(folder):
        if folder.exists() and not folder.is_dir():
            raise refuse(str(folder), "a file", "a folder, or nothing of that name")
        if folder.exists() and any(folder.iterdir()):
            found = "a garage" if (folder / "garage.toml").exists() else "files"
            raise refuse(
                str(folder),
                found,
                "an empty folder, or none, so that nothing is overwritten",
                "Name another folder for the demo.",
            )


def _fill(folder: Path, settings: Settings, content: DemoGarage) -> None:
    with Store.create(folder, settings) as store:
        for name, text in content.documents.items():
            store.save_document(name, text, based_on=None, who="owner", why="the demo's own")
        for picture in content.pictures:
            store.keep_original(picture.name, picture.media_type, picture.content)
        store.import_entries(content.entries)


def _entry(draft: Draft, number: int) -> Entry:
    return entry_of(draft, number, draft.day.isoformat() + _WRITTEN_IN_THE_EVENING)


def _paper(picture: Picture) -> Draft:
    original = Original(
        digest=digest_of(picture.content),
        name=picture.name,
        media_type=picture.media_type,
        size=len(picture.content),
    )
    return Draft(
        key=f"picture-{picture.name}",
        day=picture.day,
        who="owner",
        matter=PaperAdded(
            digest=original.digest,
            name=original.name,
            media_type=original.media_type,
            size=original.size,
            about=picture.about,
        ),
        note="a drawing, made for the demo",
    )


def _packaged(name: str) -> str:
    return files("tintop").joinpath(f"data/demo/{name}").read_text("utf-8")


def suppliers_of(drafts: Iterable[Draft]) -> frozenset[str]:
    """Every trade name in some drafts: suppliers and supporters."""
    names: set[str] = set()
    for draft in drafts:
        for field in ("supplier", "supporter"):
            names.add(getattr(draft.matter, field, ""))
    return frozenset(names - {""})
