"""Tyre pressures on the event card: what to set, what it gave last time, what was read last."""

from collections.abc import Iterator, Sequence

from tintop.car.described import DescribedCar
from tintop.event import DescribedEvent
from tintop.known import Origin
from tintop.logbook.entries import Corner, Entry, Measure, MeetingPlanned, Reading, SessionRun
from tintop.logbook.sessions import Session
from tintop.papers.content import Corners, plain, shortened
from tintop.papers.stand import Stand, day_words
from tintop.questions.cold_pressures import ColdPressures

_CORNERS: tuple[Corner, ...] = ("FL", "FR", "RL", "RR")
_WET_FROM = 0.05  # wetness of the road from which a run in the wet is the one to compare with


def pressures_of(
    stand: Stand,
    meeting: MeetingPlanned,
    driven: Sequence[Session],
    described: DescribedCar | None,
    event: DescribedEvent | None,
    worked: ColdPressures | None = None,
) -> Iterator[Corners]:
    """Rows of pressures; cold to set is worked out, the set-up's, as last time here, or the document's."""
    if worked is not None:
        yield _worked_out(stand, worked)
    yield from (set_up := tuple(_of_set_up(stand)))
    last = last_run_here(stand, meeting, driven, event)
    if last is not None:
        yield from _of_last_run(stand, last, "cold, to set" if worked is None else "cold, last time here")
    if described is not None:
        if last is None and not set_up and worked is None:
            yield from _of_document(stand, described, "cold, to set", "pressure_cold")
        yield from _of_document(stand, described, "hot, to aim at", "pressure_hot")
    for words, measure in (
        ("cold, last read", Measure.PRESSURE_COLD),
        ("hot, last read", Measure.PRESSURE_HOT),
    ):
        yield _last_read(stand, meeting, words, measure)


def last_run_here(
    stand: Stand, meeting: MeetingPlanned, driven: Sequence[Session], event: DescribedEvent | None
) -> Session | None:
    """The last session at the event's circuit with all four cold pressures, on a road as wet as is expected.

    A dry road is expected where nothing is written down of the weather.
    """
    is_wet = event is not None and event.event.weather.wetness >= _WET_FROM
    circuits = _circuits(stand)
    here = [
        each
        for each in driven
        if meeting.circuit
        and circuits.get(each.run.meeting) == meeting.circuit
        and each.run.is_wet == is_wet
        and len([corner for corner in each.corners if corner.pressure_cold is not None]) == len(_CORNERS)
    ]
    return here[-1] if here else None


def _circuits(stand: Stand) -> dict[str, str]:
    return {each.planned.meeting: each.planned.circuit for each in stand.meetings}


def _of_set_up(stand: Stand) -> Iterator[Corners]:
    set_up = {
        (each.item.casefold(), each.corner): each
        for each in stand.setup
        if "pressure" in each.item.casefold()
    }
    for item in dict.fromkeys(item for item, _ in set_up):
        found = [set_up.get((item, corner)) or set_up.get((item, "")) for corner in _CORNERS]
        days = [each.since for each in found if each]
        yield Corners(
            name=f"set-up: {item}",
            values=_four([plain(each.written) if each else "–" for each in found]),
            known=f"since {day_words(max(days))}",
        )


def _worked_out(stand: Stand, worked: ColdPressures) -> Corners:
    """Cold pressures for the hot target on the day of the first session."""
    targets = dict.fromkeys(stand.write(target, "pressure") for target in worked.day.targets)
    tyres = stand.write(worked.day.tyres_at, "temperature", 0)
    return Corners(
        name="cold, to set",
        values=_four([_pressure(stand, each.to_set) for each in worked.corners]),
        known=f"for {' and '.join(targets)} hot, tyres and air at {tyres}; warmer tyres, more air",
    )


def _of_last_run(stand: Stand, last: Session, name: str) -> Iterator[Corners]:
    corners = {each.corner: each for each in last.corners}
    air = "" if last.run.air_temp is None else f", air {stand.write(last.run.air_temp, 'temperature', 0)}"
    wet = ", wet" if last.run.is_wet else ""
    yield Corners(
        name=name,
        values=_four([_pressure(stand, corners[corner].pressure_cold) for corner in _CORNERS]),
        known=f"as last time here, {shortened(plain(last.run.name), 20)}, {day_words(last.day)}{wet}{air}",
    )
    hot = [corners[corner].pressure_hot for corner in _CORNERS]
    yield Corners(
        name="hot, as it gave then",
        values=_four([_pressure(stand, each) for each in hot]),
        known="read after that run" if any(each is not None for each in hot) else "not read after that run",
    )


def _pressure(stand: Stand, value: float | None) -> str:
    return "–" if value is None else stand.write(value, "pressure")


def _of_document(stand: Stand, described: DescribedCar, words: str, name: str) -> Iterator[Corners]:
    knowns = [described.known.get(f"tyre_{axle}.{name}") for axle in ("front", "rear")]
    front, rear = knowns
    if front is None or rear is None:
        return
    is_assumed = Origin.ASSUMED in (front.origin, rear.origin)
    front_value, rear_value = (stand.write(known.value, "pressure") for known in (front, rear))
    yield Corners(
        name=words,
        values=(front_value, front_value, rear_value, rear_value),
        known="assumed, nobody set it" if is_assumed else "by the car's document",
    )


def _last_read(stand: Stand, meeting: MeetingPlanned, words: str, measure: Measure) -> Corners:
    last: dict[str, tuple[Entry, Reading]] = {}
    for entry, reading in stand.book.of(Reading):
        if entry.day <= stand.day and reading.measure is measure:
            last[reading.corner] = entry, reading
    found = [last.get(corner) for corner in _CORNERS]
    days = sorted({each[0].day for each in found if each})
    known = "never read"
    if days:
        known = day_words(days[-1]) if len(days) == 1 else f"{day_words(days[0])} to {day_words(days[-1])}"
        known += _elsewhere(stand, meeting, [each[1] for each in found if each])
        instrument = next((each[0].instrument for each in found if each and each[0].instrument), "")
        known += f", {shortened(plain(instrument).partition(',')[0], 22)}" if instrument else ""
    return Corners(
        name=words,
        values=_four([_pressure(stand, each[1].value if each else None) for each in found]),
        known=known,
    )


def _elsewhere(stand: Stand, meeting: MeetingPlanned, readings: Sequence[Reading]) -> str:
    """Words for readings of a session at another circuit than the event's."""
    circuits = _circuits(stand)
    at = {run.session: circuits.get(run.meeting, "") for _, run in stand.book.of(SessionRun)}
    places = {at.get(reading.session, "") for reading in readings}
    return ", at another circuit" if places and "" not in places and meeting.circuit not in places else ""


def _four(values: list[str]) -> tuple[str, str, str, str]:
    front_left, front_right, rear_left, rear_right = (shortened(value, 16) for value in values)
    return front_left, front_right, rear_left, rear_right
