"""The run sheet's fields: what stands in the book for a session, as it would be typed."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from tintop.garage.keeper import Garage
from tintop.handwriting.fields import spelled
from tintop.handwriting.lap_time import clock
from tintop.handwriting.notes import number_text
from tintop.logbook.book import Logbook
from tintop.logbook.entries import Corner, Entry, Measure, Reading, SessionRun
from tintop.logbook.meetings import Meeting
from tintop.units import unit_named
from tintop.web.typed_form import CORNERS, short_name

WHERE = ("entry", "mid-corner", "exit")
HANDLING = ("understeer", "fine", "oversteer")
REMARKS = {
    f"remark_{where}_{what}".replace("-corner", ""): f"{what} on {where}".replace(
        "on mid-corner", "mid-corner"
    )
    for where in WHERE
    for what in HANDLING
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingField:
    """One field of a sheet that is a reading at a corner."""

    name: str
    label: str
    kind: str
    measure: Measure
    corner: Corner
    place: str = ""
    tool: str = ""

    @property
    def spot(self) -> tuple[Measure, str, str]:
        """What is read, and where."""
        return self.measure, self.corner, self.place


def _fields() -> Iterable[ReadingField]:
    pressures = (("cold", Measure.PRESSURE_COLD), ("hot", Measure.PRESSURE_HOT))
    across = (
        ("inner", Measure.TREAD_TEMP_INNER),
        ("middle", Measure.TREAD_TEMP_MIDDLE),
        ("outer", Measure.TREAD_TEMP_OUTER),
    )
    for corner in CORNERS:
        for state, measure in pressures:
            yield ReadingField(
                name=f"pressure_{state}_{corner}",
                label=f"{corner}, {state} pressure",
                kind=f"tyre pressure {state}",
                measure=measure,
                corner=corner,
                tool="gauge",
            )
        for edge, measure in across:
            yield ReadingField(
                name=f"tread_{edge}_{corner}",
                label=f"{corner}, tread temperature, {edge}",
                kind="tyre temperature",
                measure=measure,
                corner=corner,
                tool="pyrometer",
            )
        for side in ("outer", "inner"):
            yield ReadingField(
                name=f"pad_{side}_{corner}",
                label=f"{corner}, {side} pad",
                kind="pad thickness",
                measure=Measure.PAD_THICKNESS,
                corner=corner,
                place=f"{side} pad",
                tool="caliper",
            )


READINGS: Mapping[str, ReadingField] = {field.name: field for field in _fields()}
TOOLS = {"gauge": "Pressure gauge", "pyrometer": "Temperature probe", "caliper": "Pad gauge or caliper"}
RUN_FIELDS = {
    "driver": "driver", "start_clock": "start", "tyres": "tyre set", "fuel_before": "fuel before",
    "fuel_added": "fuel added", "fuel_after": "fuel after", "laps": "laps", "best_lap": "best lap",
    "lap_times": "lap list", "minutes": "running time", "air_temp": "air", "road_temp": "road",
    "is_wet": "wet", "coolant_peak": "coolant", "oil_peak": "oil",
    **REMARKS, "remark_words": "driver's words",
}  # fmt: skip
KINDS = {
    "fuel_before": "fuel", "fuel_added": "fuel", "fuel_after": "fuel", "coolant_peak": "coolant temperature",
    "oil_peak": "oil temperature", "air_temp": "ambient temperature", "road_temp": "track temperature",
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One session of an event: planned, under way or driven."""

    session: str  # its short name
    name: str
    kind: str
    planned_duration: float | None  # [s]
    run: SessionRun | None = None
    entry: Entry | None = None

    @property
    def is_driven(self) -> bool:
        """Whether laps or running time are in."""
        return self.run is not None and bool(self.run.laps or self.run.duration)


def sheets_of(book: Logbook, meeting: Meeting) -> tuple[Sheet, ...]:
    """Every session of an event: those driven in the order they were, then those still planned."""
    planned = {session.name.casefold(): session for session in meeting.planned.sessions}
    found: list[Sheet] = []
    for entry, run in book.of(SessionRun):
        if run.meeting == meeting.planned.meeting:
            plan = planned.pop(run.name.casefold(), None)
            found.append(
                Sheet(
                    session=run.session,
                    name=run.name,
                    kind=run.session_kind,
                    planned_duration=plan.duration if plan else None,
                    run=run,
                    entry=entry,
                )
            )
    taken = {sheet.session for sheet in found}
    for session in planned.values():
        name = session_name(meeting.planned.meeting, session.name, taken)
        taken.add(name)
        found.append(
            Sheet(session=name, name=session.name, kind=session.kind, planned_duration=session.duration)
        )
    return tuple(found)


def session_name(meeting: str, name: str, taken: Iterable[str]) -> str:
    """A short name for a session of an event."""
    return short_name(f"{meeting} {name}", taken)


def standing_readings(book: Logbook, session: str) -> dict[str, Entry]:
    """The last standing reading of a session by the field of the sheet it belongs to."""
    names = {field.spot: field.name for field in READINGS.values()}
    found: dict[str, Entry] = {}
    for entry, reading in book.of(Reading):
        if reading.session == session:
            name = names.get((reading.measure, reading.corner, reading.place))
            if name:
                found[name] = entry
    return found


def as_typed(garage: Garage, run: SessionRun | None, readings: Mapping[str, Entry]) -> dict[str, str]:
    """What stands in the book as it would be typed into the sheet, by field; nothing for an empty one."""
    typed = dict.fromkeys((*RUN_FIELDS, *READINGS), "")
    for name, entry in readings.items():
        assert isinstance(entry.matter, Reading)
        typed[name] = _reading_typed(garage, entry.matter)
    if run is None:
        return typed
    typed.update(
        driver=run.driver,
        start_clock=run.start_clock,
        tyres=run.tyres,
        laps=str(run.laps) if run.laps else "",
        minutes=running(run.duration) if run.duration else "",
        best_lap=clock(run.best_lap) if run.best_lap else "",
        lap_times=" ".join(clock(lap).replace(" s", "s") for lap in run.lap_times),
        is_wet="yes" if run.is_wet else "",
    )
    for name in ("fuel_before", "fuel_added", "fuel_after"):
        typed[name] = _in_unit(getattr(run, name), "volume", garage)
    for name in ("air_temp", "road_temp", "coolant_peak", "oil_peak"):
        typed[name] = _in_unit(getattr(run, name), "temperature", garage)
    ticked, typed["remark_words"] = remarks_apart(run.remarks)
    typed.update(dict.fromkeys(ticked, "yes"))
    return typed


def running(seconds: float) -> str:
    """Running time as hours, minutes and seconds."""
    whole = round(seconds)
    return f"{whole // 3600}:{whole % 3600 // 60:02d}:{whole % 60:02d}"


def label_of(name: str) -> str:
    """A field's name as the sheet has it."""
    found = RUN_FIELDS.get(name) or (READINGS[name].label if name in READINGS else name.replace("_", " "))
    return found[:1].upper() + found[1:]


def remarks_together(ticked: Iterable[str], words: str) -> str:
    """The fixed words that are ticked in one line, the free ones below."""
    fixed = ", ".join(REMARKS[name] for name in ticked)
    return "\n".join(part for part in (fixed, words) if part)


def remarks_apart(remarks: str) -> tuple[tuple[str, ...], str]:
    """The names of the fixed words in a remark, and the free words."""
    names = {words: name for name, words in REMARKS.items()}
    first, _, rest = remarks.partition("\n")
    fixed = first.split(", ")
    if all(words in names for words in fixed):
        return tuple(names[words] for words in fixed), rest
    return (), remarks


def _reading_typed(garage: Garage, reading: Reading) -> str:
    if reading.written:
        return reading.written
    if reading.measure is Measure.PAD_THICKNESS:
        return f"{number_text(1e3 * reading.value)} mm without plate"
    is_pressure = reading.measure in (Measure.PRESSURE_COLD, Measure.PRESSURE_HOT)
    return _in_unit(reading.value, "pressure" if is_pressure else "temperature", garage)


def _in_unit(value: float | None, quantity: str, garage: Garage) -> str:
    if value is None:
        return ""
    name = garage.settings.units[quantity]
    unit = unit_named(name, quantity)
    return f"{number_text((value - unit.offset) / unit.factor)} {spelled(unit.name)}"
