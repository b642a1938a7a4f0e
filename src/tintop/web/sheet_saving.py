"""A run sheet saved, in parts if need be: what was typed becomes entries; two at once are shown."""

import threading
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from tintop.errors import TintopError
from tintop.garage.keeper import Garage
from tintop.handwriting import Row, Understood
from tintop.logbook.book import Logbook
from tintop.logbook.entries import Draft, Entry, Reading, SessionRun, Withdrawn
from tintop.logbook.lives import pace_of
from tintop.logbook.meetings import Meeting
from tintop.web.sheet_doubts import hold_doubtful
from tintop.web.sheet_fields import (
    KINDS,
    READINGS,
    REMARKS,
    RUN_FIELDS,
    Sheet,
    as_typed,
    remarks_apart,
    remarks_together,
    standing_readings,
)
from tintop.web.typed_form import TypedForm, build_today, pads_by_corner

SAVING = threading.Lock()  # one sheet after another: what is compared must still stand when it is written


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """One field two people filled in differently: what stands now, and what was typed here."""

    name: str
    label: str
    theirs: str
    mine: str


@dataclass(slots=True, kw_only=True)
class Meanwhile:
    """What another wrote into the same sheet since it was opened here."""

    who: tuple[str, ...]
    clashes: list[Clash] = field(default_factory=list)
    taken: list[Clash] = field(default_factory=list)  # fields only the other filled in


def entries_since(book: Logbook, seen: int, session: str) -> tuple[Entry, ...]:
    """Entries about a session written after the one of number `seen`."""
    return tuple(
        entry for entry in book.entries[_place_after(book, seen) :] if _is_about(book, entry, session)
    )


def _place_after(book: Logbook, seen: int) -> int:
    place = min(seen, len(book.entries))
    while place > 0 and book.entries[place - 1].number > seen:
        place -= 1
    return place


def _is_about(book: Logbook, entry: Entry, session: str) -> bool:
    if isinstance(entry.matter, (SessionRun, Reading)):
        return entry.matter.session == session
    if isinstance(entry.matter, Withdrawn) and entry.corrects is not None:
        corrected = book.entry(entry.corrects)
        return corrected is not None and _is_about(book, corrected, session)
    return False


def merge(garage: Garage, session: str, form: TypedForm, seen: int, others: tuple[Entry, ...]) -> Meanwhile:
    """Bring what stands now and what was typed together; say where both changed the same field."""
    book = garage.book
    before = _standing(garage, book.up_to(seen), session)
    now = _standing(garage, book, session)
    found = Meanwhile(who=tuple(dict.fromkeys(entry.who or "somebody" for entry in others)))
    labels = {**RUN_FIELDS, **{name: one.label for name, one in READINGS.items()}}
    for name, label in labels.items():
        theirs, mine = now[name], form.text(name)
        if theirs in (before[name], mine):
            continue
        clash = Clash(name=name, label=label, theirs=theirs, mine=mine)
        if mine == before[name]:
            form.typed[name] = theirs
            found.taken.append(clash)
        else:
            found.clashes.append(clash)
    return found


def _standing(garage: Garage, book: Logbook, session: str) -> dict[str, str]:
    runs = [run for _entry, run in book.of(SessionRun) if run.session == session]
    return as_typed(garage, runs[-1] if runs else None, standing_readings(book, session))


def lap_length(garage: Garage, meeting: Meeting) -> float | None:
    """Length of one lap [m]: the circuit's, or that of own sessions there; None when nothing tells."""
    if meeting.planned.circuit:
        try:
            return garage.circuit(meeting.planned.circuit).length
        except TintopError:
            pass
    return pace_of(garage.book, meeting, garage.today()).lap_length


@dataclass(frozen=True, slots=True, kw_only=True)
class Reader:
    """Reads the sheet's fields: one left as it stands, asked about or wrong keeps its value."""

    form: TypedForm
    standing: Mapping[str, str]
    run: SessionRun  # as it stands, or with nothing in it

    def is_as_before(self, name: str) -> bool:
        """Whether a field keeps what stands in the book."""
        return self.form.text(name) == self.standing[name] or self.form.is_doubtful(name)

    def number(self, name: str, kind: str) -> float | None:
        """A number of the session."""
        found = None if self.form.text(name) == self.standing[name] else self.form.value(name, kind)
        there: float | None = getattr(self.run, name)
        return there if self.is_as_before(name) else found

    def laps(self, kind: str) -> tuple[float, ...]:
        """The lap list [s]."""
        found = None if self.is_as_before("lap_times") else self.form.meaning("lap_times", kind)
        if self.is_as_before("lap_times"):
            return self.run.lap_times
        return tuple(lap.value for lap in found.values) if isinstance(found, Row) else ()

    def duration(self) -> float | None:
        """Running time [s]."""
        found = None if self.is_as_before("minutes") else self.form.value("minutes", "minutes")
        return (self.run.duration or None) if self.is_as_before("minutes") else found

    def start(self) -> str:
        """Start clock, "14:05"."""
        found = self.form.meaning("start_clock", "clock")
        return self.run.start_clock if self.is_as_before("start_clock") else found.in_full if found else ""

    def fuel(self) -> dict[str, float | None]:
        """Fuel aboard, added and left [m³]; what cannot be is refused."""
        names = ("fuel_before", "fuel_added", "fuel_after")
        found = {name: self.number(name, KINDS[name]) for name in names}
        before, added, after = (found[name] for name in names)
        if before is None or after is None or after <= before + (added or 0.0) + 1e-9:
            return found
        self.form.refuse("fuel_after", "Found more fuel left than there was; expected less. Was some added?")
        for name in names:
            if self.form.text(name) != self.standing[name]:
                self.form.refuse(name, "Waits for the fuel left.")
        return {name: getattr(self.run, name) for name in names}


def read_run(
    garage: Garage,
    meeting: Meeting,
    sheet: Sheet,
    form: TypedForm,
    lap_kinds: tuple[str, str],
    tyres: set[str],
) -> SessionRun | None:
    """The session as typed; what is asked or wrong stands in the form, and as before in the session."""
    blank = SessionRun(
        session=sheet.session,
        meeting=meeting.planned.meeting,
        name=sheet.name,
        session_kind=sheet.kind,  # type: ignore[arg-type]
        duration=0.0,
        laps=0,
        distance=0.0,
    )
    there = sheet.run or blank
    read = Reader(form=form, standing=as_typed(garage, sheet.run, {}), run=there)
    times = read.laps(lap_kinds[1])
    best = read.number("best_lap", lap_kinds[0])
    duration = read.duration()
    if form.text("laps") == read.standing["laps"] and there.laps:
        laps = there.laps
    else:
        laps = round(form.value("laps", "laps") or 0.0) or len(times)
    if form.is_doubtful("laps"):
        laps = there.laps
    if duration is None and times and laps == len(times) and not form.is_doubtful("minutes"):
        duration = sum(times)
    laps, distance = _distance(garage, meeting, there, form, laps)
    values = {name: read.number(name, kind) for name, kind in KINDS.items()} | read.fuel()
    driver = form.words("driver")
    words = form.words("remark_words", is_long=True)
    tyre_set = form.choice("tyres", {"", *tyres, there.tyres})
    start = read.start()
    if form.is_doubtful("remark_words"):
        words = remarks_apart(there.remarks)[1]
    try:
        return replace(
            there,
            duration=duration or 0.0,
            laps=laps,
            distance=distance,
            driver=there.driver if form.is_doubtful("driver") else driver,
            start_clock=start,
            best_lap=best,
            lap_times=times,
            tyres=there.tyres if form.is_doubtful("tyres") else tyre_set,
            is_wet=form.ticked("is_wet"),
            remarks=remarks_together([name for name in REMARKS if form.ticked(name)], words),
            **values,  # type: ignore[arg-type]
        )
    except TintopError as error:
        form.refuse_all(error)
        return None


def _distance(
    garage: Garage, meeting: Meeting, there: SessionRun, form: TypedForm, laps: int
) -> tuple[int, float]:
    """Laps and their distance [m]; both as they stand while nothing tells the length of a lap."""
    if not laps or (there.laps == laps and there.distance):
        return laps, there.distance if laps else 0.0
    length = lap_length(garage, meeting) or form.value("lap_length", "distance", needed=True)
    if length is None:
        if form.text("laps"):
            form.refuse("laps", "Waits for the length of a lap.")
        return there.laps, there.distance
    return laps, laps * length


def take_over_saved(
    garage: Garage, session: str, form: TypedForm, *, seen: int, saved: int
) -> tuple[str, ...]:
    """The fields saved between two entries, in the form from now on as the book has them."""
    names = saved_names(garage, session, form, seen)
    now = _standing(garage, garage.book.up_to(saved), session)
    form.typed.update({name: now[name] for name in names})
    return names


def saved_names(garage: Garage, session: str, form: TypedForm, seen: int) -> tuple[str, ...]:
    """The fields of a sheet that are new since the entry of number `seen`, and neither asked nor wrong."""
    before = _standing(garage, garage.book.up_to(seen), session)
    return tuple(
        name for name, text in before.items() if form.text(name) != text and not form.is_doubtful(name)
    )


def drafts_of(
    garage: Garage, sheet: Sheet, form: TypedForm, run: SessionRun, key: str, day: date, who: str
) -> list[Draft]:
    """The entries a sheet makes: the session and the readings that are new, changed or rubbed out."""
    there = standing_readings(garage.book, sheet.session)
    standing = as_typed(garage, sheet.run, there)
    pads = pads_by_corner(build_today(garage))
    drafts: list[Draft] = []
    if run != sheet.run:
        drafts.append(
            Draft(
                key=f"{key} run",
                day=sheet.entry.day if sheet.entry else day,
                who=who,
                matter=run,
                clock=run.start_clock,
                note=_guesses(form),
                corrects=sheet.entry.number if sheet.entry else None,
            )
        )
    for one in READINGS.values():
        old = there.get(one.name)
        draft = Draft(
            key=f"{key} {one.name}",
            day=old.day if old else day,
            who=who,
            matter=Withdrawn(reason="rubbed out on the run sheet"),
            instrument=form.text(one.tool),
            corrects=old.number if old else None,
        )
        text = form.text(one.name)
        if not text:
            if old and not form.is_doubtful(one.name):
                drafts += taken_back_whole(garage.book, old, draft)
            continue
        if form.is_doubtful(one.name) or (old and text == standing[one.name]):
            continue
        found = form.meanings[one.name]
        assert isinstance(found, Understood)
        part = pads[one.corner].part.part if one.tool == "caliper" and one.corner in pads else ""
        reading = Reading(
            measure=one.measure,
            value=found.value,
            written=text,
            corner=one.corner,
            place=one.place,
            part=part,
            session=sheet.session,
            is_guessed_unit=found.is_guessed,
        )
        drafts.append(replace(draft, matter=reading))
    return drafts


def taken_back_whole(book: Logbook, entry: Entry, draft: Draft) -> list[Draft]:
    """The drafts that take a standing entry back together with all it took the place of."""
    drafts = [draft]
    before = book.entry(entry.corrects) if entry.corrects is not None else None
    while before is not None:
        drafts.append(replace(draft, key=f"{draft.key} before {before.number}", corrects=before.number))
        before = book.entry(before.corrects) if before.corrects is not None else None
    return drafts


def read_readings(garage: Garage, sheet: Sheet, form: TypedForm) -> None:
    """Read every field of the sheet that is a reading and does not stand as it is already."""
    there = standing_readings(garage.book, sheet.session)
    standing = as_typed(garage, sheet.run, there)
    for one in READINGS.values():
        if one.name not in there or form.text(one.name) != standing[one.name]:
            form.meaning(one.name, one.kind)
    for tool in ("gauge", "pyrometer", "caliper"):
        form.words(tool)
    hold_doubtful(form, standing)


def _guesses(form: TypedForm) -> str:
    guessed = [
        f"{RUN_FIELDS[name]} {found.written!r} as {found.says}"
        for name, found in form.meanings.items()
        if name in RUN_FIELDS and isinstance(found, Understood) and found.is_guessed
    ]
    return "Read by guess: " + "; ".join(guessed) if guessed else ""
