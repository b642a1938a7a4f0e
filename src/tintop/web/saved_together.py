"""What one form saved: the entries that belong together, in words, and taken back in one go."""

from collections.abc import Iterable

from tintop.logbook.book import Logbook
from tintop.logbook.entries import Draft, Entry, Reading, SessionRun, Withdrawn
from tintop.logbook.words import names_in, words_of
from tintop.web.sheet_fields import READINGS

_RUN, _UNDONE, _VALUE = "run", "undone", "value_"
_PARTS = {
    "going out": ("driver", "start_clock", "fuel_before", "tyres"),
    "coming in": ("best_lap", "lap_times", "fuel_added", "fuel_after"),
    "highest readings": ("coolant_peak", "oil_peak"),
    "weather": ("air_temp", "road_temp", "is_wet"),
    "driver's words": ("remarks",),
}
_READ = {
    "pressure_cold": "cold pressures",
    "pressure_hot": "hot pressures",
    "tread": "tread temperatures",
    "pad": "pads",
}


def saved_together(book: Logbook, entry: Entry) -> tuple[Entry, ...]:
    """The entries the same form wrote, this one among them, in the order they were written."""
    if not isinstance(entry.matter, (SessionRun, Reading, Withdrawn)):
        return (entry,)
    first, _, last = entry.key.partition(" ")
    stem = first if not last or _is_of_a_form(last) else entry.key
    return tuple(
        one
        for one in book.entries
        if one.key == stem
        or (one.key.startswith(f"{stem} ") and _is_of_a_form(one.key.removeprefix(f"{stem} ")))
    )


def _is_of_a_form(name: str) -> bool:
    word = name.partition(" ")[0]
    return word in (_RUN, _UNDONE) or word in READINGS or word.startswith(_VALUE)


def words_together(book: Logbook, entries: tuple[Entry, ...]) -> str:
    """What a form saved, in words: the session by its laps or by the parts that were filled in."""
    if not any(isinstance(one.matter, (SessionRun, Reading)) and one.matter.session for one in entries):
        more = f", and {len(entries) - 1} more" if len(entries) > 1 else ""
        return f"{words_of(entries[0], names_in(book))}{more}"
    parts: list[str] = []
    for entry in entries:
        if isinstance(entry.matter, SessionRun):
            parts += _parts_of(entry.matter, _before(book, entry))
    words = [entry.key.partition(" ")[2].partition(" ")[0] for entry in entries]
    parts += [told for stem, told in _READ.items() if any(word.startswith(f"{stem}_") for word in words)]
    name = _session(book, entries)
    return f"{name}: {', '.join(parts) or 'nothing filled in yet'}"


def _session(book: Logbook, entries: Iterable[Entry]) -> str:
    sessions = {getattr(entry.matter, "session", "") for entry in entries}
    return next((run.name for _entry, run in book.of(SessionRun) if run.session in sessions), "Run sheet")


def _before(book: Logbook, entry: Entry) -> SessionRun | None:
    there = book.entry(entry.corrects) if entry.corrects is not None else None
    return there.matter if there is not None and isinstance(there.matter, SessionRun) else None


def _parts_of(run: SessionRun, before: SessionRun | None) -> list[str]:
    blank = SessionRun(
        session="", meeting="", name="", session_kind=run.session_kind, duration=0.0, laps=0, distance=0.0
    )
    was = before or blank
    driven = [f"{run.laps} laps, {run.duration / 60.0:.0f} min"]
    is_new = (run.laps, run.duration) != (was.laps, was.duration)
    return (driven if is_new and (run.laps or run.duration) else []) + [
        told
        for told, names in _PARTS.items()
        if any(getattr(run, name) != getattr(was, name) for name in names)
    ]


def taken_back(book: Logbook, entry: Entry, draft: Draft) -> list[Draft]:
    """The drafts that take an entry back with all the same form wrote that still stands."""
    others = [one for one in saved_together(book, entry) if one is not entry and book.stands(one.number)]
    return [
        draft,
        *(
            Draft(
                key=f"{draft.key} {_UNDONE} {one.number}",
                day=draft.day,
                who=draft.who,
                matter=Withdrawn(),
                corrects=one.number,
            )
            for one in others
        ),
    ]
