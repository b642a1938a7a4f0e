"""One event for reading: what is planned, what was driven, and how it ended."""

from collections.abc import Mapping

from tintop.logbook.amounts import minutes_of
from tintop.logbook.meetings import Meeting
from tintop.logbook.sessions import CornerReadings, Session
from tintop.owner_units import lap_words
from tintop.reports.sheet import Sheet, Table
from tintop.settings import USUAL_UNITS
from tintop.units import format_quantity


def event_sheet(
    meeting: Meeting, driven: tuple[Session, ...], units: Mapping[str, str] = USUAL_UNITS
) -> Sheet:
    """An event with its sessions; `driven` may hold sessions of other events, which are left out.

    `units` gives the unit the owner writes by quantity.
    """
    plan = meeting.planned
    own = tuple(each for each in driven if each.run.meeting == plan.meeting)
    days = plan.first_day.isoformat()
    if plan.last_day != plan.first_day:
        days += f" to {plan.last_day.isoformat()}"
    sentences = [f"{days}, {meeting.state}."]
    if meeting.result:
        sentences.append(f"Result: {meeting.result}.")
    if plan.sessions:
        sentences.append(
            f"{minutes_of(meeting.planned_duration)} planned, {minutes_of(meeting.driven_duration)} driven."
        )
    if plan.road_distance:
        sentences.append(f"{plan.road_distance / 1e3:.0f} km on the road, there and back.")
    tables = (
        Table(
            title="Still to come",
            columns=("session", "kind", "length"),
            rows=[(each.name, each.kind, minutes_of(each.duration)) for each in meeting.still_planned],
        ),
        Table(
            title="Driven",
            columns=("session", "driver", "laps", "running", "best", "clean lap", "fuel L", "L an hour"),
            rows=[_session_row(each) for each in own],
        ),
        Table(
            title="Tyres as they came in",
            columns=("session", "corner", "cold", "hot", "inner", "middle", "outer"),
            rows=[_corner_row(each, corner, units) for each in own for corner in each.corners],
        ),
        Table(
            title="Remarks",
            columns=("session", "remark"),
            rows=[(each.run.name, each.run.remarks) for each in own if each.run.remarks],
        ),
    )
    return Sheet(
        title=plan.name,
        sentences=tuple(sentences),
        tables=tuple(table for table in tables if table.rows),
        cautions=(),
    )


def _session_row(each: Session) -> tuple[str, ...]:
    return (
        each.run.name,
        each.run.driver,
        str(each.run.laps),
        minutes_of(each.run.duration),
        lap_words(each.best_lap) if each.best_lap is not None else "",
        lap_words(each.median_lap) if each.median_lap is not None else "",
        f"{each.fuel_used * 1e3:.1f}" if each.fuel_used is not None else "",
        f"{each.fuel_per_hour * 1e3:.1f}" if each.fuel_per_hour is not None else "",
    )


def _corner_row(each: Session, corner: CornerReadings, units: Mapping[str, str]) -> tuple[str, ...]:
    def pascals(value: float | None) -> str:
        return format_quantity(value, units["pressure"], 3, "pressure") if value is not None else ""

    def degrees(value: float | None) -> str:
        return format_quantity(value, units["temperature"], 3, "temperature") if value is not None else ""

    return (
        each.run.name,
        corner.corner,
        pascals(corner.pressure_cold),
        pascals(corner.pressure_hot),
        degrees(corner.tread_inner),
        degrees(corner.tread_middle),
        degrees(corner.tread_outer),
    )
