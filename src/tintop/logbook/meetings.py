"""Events of the book: which is next, what was planned, what was driven, how they ended."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from tintop.logbook.book import Logbook
from tintop.logbook.entries import MeetingClosed, MeetingPlanned, PlannedSession, RoadDriven, SessionRun


class MeetingState(StrEnum):
    """Where an event stands."""

    PAST = "past"
    NEXT = "next"
    COMING = "coming"


@dataclass(frozen=True, slots=True, kw_only=True)
class Meeting:
    """One event on a day of the book: as planned, with the sessions driven and how it ended."""

    planned: MeetingPlanned
    entry: int
    state: MeetingState
    sessions: tuple[SessionRun, ...] = ()
    road_driven: float = 0.0  # [m]
    result: str = ""
    is_finished: bool | None = None  # None before it is closed

    @property
    def planned_duration(self) -> float:
        """Running planned in all sessions [s]."""
        return sum(session.duration for session in self.planned.sessions)

    @property
    def driven_duration(self) -> float:
        """Running driven so far [s]."""
        return sum(session.duration for session in self.sessions)

    @property
    def still_planned(self) -> tuple[PlannedSession, ...]:
        """Planned sessions not yet driven, told by their names; one driven takes one off the plan.

        A run sheet only begun is not driven.
        """
        driven = [run.name.casefold() for run in self.sessions if run.laps or run.duration]
        left = []
        for each in self.planned.sessions:
            if each.name.casefold() in driven:
                driven.remove(each.name.casefold())
            else:
                left.append(each)
        return tuple(left)

    @property
    def road_left(self) -> float:
        """Road still to be driven to it and home [m]."""
        return max(self.planned.road_distance - self.road_driven, 0.0)


def meetings(book: Logbook, day: date) -> tuple[Meeting, ...]:
    """Every event known, by first day; the next is the first not closed whose last day is not over.

    An event planned is known from its entry on, whatever day that bears, for plans are made ahead.
    """
    sessions: dict[str, list[SessionRun]] = {}
    for entry, run in book.of(SessionRun):
        if entry.day <= day:
            sessions.setdefault(run.meeting, []).append(run)
    road: dict[str, float] = {}
    for entry, drive in book.of(RoadDriven):
        if entry.day <= day:
            road[drive.meeting] = road.get(drive.meeting, 0.0) + drive.distance
    closed = {ending.meeting: ending for entry, ending in book.of(MeetingClosed) if entry.day <= day}
    planned: dict[str, tuple[int, MeetingPlanned]] = {}
    for entry, plan in book.of(MeetingPlanned):
        planned[plan.meeting] = (entry.number, plan)
    ordered = sorted(planned.values(), key=lambda each: (each[1].first_day, each[1].meeting))
    found: list[Meeting] = []
    is_next_found = False
    for number, plan in ordered:
        ending = closed.get(plan.meeting)
        if ending is not None or plan.last_day < day:
            state = MeetingState.PAST
        elif is_next_found:
            state = MeetingState.COMING
        else:
            state, is_next_found = MeetingState.NEXT, True
        found.append(
            Meeting(
                planned=plan,
                entry=number,
                state=state,
                sessions=tuple(sessions.get(plan.meeting, ())),
                road_driven=road.get(plan.meeting, 0.0),
                result=ending.result if ending else "",
                is_finished=ending.is_finished if ending else None,
            )
        )
    return tuple(found)


def next_meeting(book: Logbook, day: date) -> Meeting | None:
    """The next event, or the one under way; None when none is planned."""
    return next((each for each in meetings(book, day) if each.state is MeetingState.NEXT), None)


def meeting_after(book: Logbook, day: date) -> Meeting | None:
    """The event after the next; None when none is planned."""
    return next((each for each in meetings(book, day) if each.state is MeetingState.COMING), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """A moment in the running still to come: in which session, and how long before its end [s]."""

    session: PlannedSession
    before_end: float


def moment_in(sessions: tuple[PlannedSession, ...], running: float) -> Moment | None:
    """Where in the sessions to come this much running [s] is reached; None if after the last."""
    left = running
    for session in sessions:
        if left <= session.duration:
            return Moment(session=session, before_end=session.duration - max(left, 0.0))
        left -= session.duration
    return None
