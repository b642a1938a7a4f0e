"""What stands on the event card: answers, pressures, fuel, stops, what to watch, what stops the car."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from tintop.answer import Answer, Figure, Verdict
from tintop.car.described import DescribedCar
from tintop.event import DescribedEvent
from tintop.known import Origin
from tintop.logbook.amounts import written_money
from tintop.logbook.entries import Corner, Entry, Measure, MeetingPlanned, Reading
from tintop.logbook.jobs import jobs_on
from tintop.logbook.sessions import Session
from tintop.papers.content import CardAnswer, Corners, EventCard, plain, shortened
from tintop.papers.stand import MINUS, Stand, clock_words, day_words, lap_words
from tintop.questions.will_it_last import written_amount
from tintop.race.lasting import Lasts
from tintop.race.march import RaceTrace
from tintop.race.odds import Odds
from tintop.race.stint_plan import stints_of, stop_windows

_CORNERS: tuple[Corner, ...] = ("FL", "FR", "RL", "RR")
_SIGNS = {
    Verdict.YES: "✓",
    Verdict.CLOSE: "≈",
    Verdict.NO: "✗",
    Verdict.NOT_PROVEN: "?",
    Verdict.FOUND: "=",
}
_LONGEST, _MOST_WATCHED, _MOST_JOBS = 200, 6, 6
CAUTIONS = (
    "Whatever a hand, an eye or a gauge finds on the day goes before what is printed here.",
    "A long pedal, a pad at its least, a smell of fuel or the oil light: come in and stop.",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswerThen:
    """One answer as it stands: its short name and question, and why there is none or it is old."""

    name: str
    question: str
    answer: Answer | None
    sentence: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RaceForecast:
    """The race as predicted for the event."""

    described: DescribedCar
    event: DescribedEvent
    trace: RaceTrace
    judged: tuple[Lasts, ...]
    odds: Odds


def card_of(
    stand: Stand,
    meeting: MeetingPlanned,
    answers: Sequence[AnswerThen],
    driven: Sequence[Session],
    *,
    car: str,
    place: str,
    described: DescribedCar | None,
    event: DescribedEvent | None,
    forecast: RaceForecast | None,
    map_svg: str,
) -> EventCard:
    """Gather the card; what is not known is said, never made up."""
    last_day = f" to {day_words(meeting.last_day)}" if meeting.last_day != meeting.first_day else ""
    stopping = tuple(_stopping(stand))
    here = tuple(
        plain(each.job.title)
        for each in jobs_on(stand.book, stand.day).open
        if not each.job.stops_running and each.job.meeting == meeting.meeting
    )
    return EventCard(
        event=shortened(plain(meeting.name), 90),
        days=f"{meeting.first_day:%A} {day_words(meeting.first_day)}{last_day}",
        day=stand.day,
        place=shortened(plain(place), 60),
        car=shortened(plain(car), 60),
        sessions=tuple(
            f"{shortened(plain(each.name), 24)} {clock_words(each.duration)}" for each in meeting.sessions[:8]
        ),
        weather=_weather(stand, event),
        answers=tuple(_answer(stand, each) for each in answers),
        pressures=tuple(_pressures(stand, described)),
        fuel=tuple(_fuel(stand, meeting, driven, forecast)),
        stops=tuple(_stops(stand, forecast)),
        stop_notes=tuple(_stop_notes(forecast)),
        no_stops=_no_stops(forecast),
        watch=tuple(_watched(forecast)),
        stopping_jobs=_first(stopping),
        other_jobs=_first(here),
        map=map_svg,
        cautions=CAUTIONS,
    )


def _first(jobs: tuple[str, ...]) -> tuple[str, ...]:
    shown = tuple(shortened(job, 110) for job in jobs[:_MOST_JOBS])
    return (*shown, f"and {len(jobs) - _MOST_JOBS} more") if len(jobs) > _MOST_JOBS else shown


def _weather(stand: Stand, event: DescribedEvent | None) -> str:
    if event is None:
        return "no weather written down"
    found = event.event.weather
    road = "dry" if found.wetness < 0.05 else f"road {100.0 * found.wetness:.0f} % wet"
    air = stand.write(found.air_temp, "temperature", 0)
    return f"air {air}, road {stand.write(found.road_temp, 'temperature', 0)}, {road}, as reckoned with"


def _answer(stand: Stand, each: AnswerThen) -> CardAnswer:
    if each.answer is None:
        return CardAnswer(
            sign="?",
            verdict="no answer",
            question=each.question,
            sentence=shortened(plain(each.sentence), _LONGEST),
            margin="",
            next_thing="",
        )
    answer = each.answer
    old = f" {plain(each.sentence)}" if each.sentence else ""
    return CardAnswer(
        sign=_SIGNS[answer.verdict],
        verdict=answer.verdict.value,
        question=each.question,
        sentence=shortened(plain(answer.sentence), _LONGEST) + old,
        margin=shortened(_margin(stand, each.name, answer), 110),
        next_thing=shortened(plain(answer.next_thing), 170),
    )


def _margin(stand: Stand, name: str, answer: Answer) -> str:
    figures = {figure.name: figure for figure in answer.figures}
    if name == "quick" and (lap := figures.get("lap time")):
        return f"{lap_words(lap.low)} to {lap_words(lap.high)}, 95 % range"
    if name == "lasting" and (laps := figures.get("laps")):
        return f"{laps.low:.0f} to {laps.high:.0f} laps, 5 to 95 % of races"
    if name == "affordable" and (coming := figures.get("this season still to come")):
        return f"{written_money(100.0 * coming.value, stand.currency, 0)} to come this season"
    if name == "ready" and answer.figures:
        return _figure(stand, answer.figures[0])
    return "none known"


def _figure(stand: Stand, figure: Figure) -> str:
    low, value, high = (_value(stand, each, figure.unit) for each in (figure.low, figure.value, figure.high))
    within = f" ({low} to {high})" if low != high else ""
    return f"{plain(figure.name)} {value}{within}"


def _value(stand: Stand, value: float, unit: str) -> str:
    if unit == "m" and abs(value) < 10.0:
        return stand.write(value, "length", 1)
    if unit == "m":
        return stand.write(value, "distance", 0)
    if unit == "s":
        return f"{value / 3600.0:.1f} h".replace("-", MINUS)
    return f"{value:.0f} {'days' if unit == 'd' else unit}".strip().replace("-", MINUS)


def _pressures(stand: Stand, described: DescribedCar | None) -> Iterator[Corners]:
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
    if described is not None:
        for words, name in (("cold, to set", "pressure_cold"), ("hot, to aim at", "pressure_hot")):
            knowns = [described.known.get(f"tyre_{axle}.{name}") for axle in ("front", "rear")]
            if any(known is None for known in knowns):
                continue
            front, rear = (stand.write(known.value, "pressure") for known in knowns if known is not None)
            is_assumed = any(known is not None and known.origin is Origin.ASSUMED for known in knowns)
            yield Corners(
                name=words,
                values=(front, front, rear, rear),
                known="assumed, nobody set it" if is_assumed else "by the car's document",
            )
    for words, measure in (
        ("cold, last read", Measure.PRESSURE_COLD),
        ("hot, last read", Measure.PRESSURE_HOT),
    ):
        yield _read(stand, words, measure)


def _read(stand: Stand, words: str, measure: Measure) -> Corners:
    last: dict[str, tuple[Entry, Reading]] = {}
    for entry, reading in stand.book.of(Reading):
        if entry.day <= stand.day and reading.measure is measure:
            last[reading.corner] = entry, reading
    found = [last.get(corner) for corner in _CORNERS]
    days = sorted({each[0].day for each in found if each})
    known = "never read"
    if days:
        known = day_words(days[-1]) if len(days) == 1 else f"{day_words(days[0])} to {day_words(days[-1])}"
        instrument = next((each[0].instrument for each in found if each and each[0].instrument), "")
        known += f", {shortened(plain(instrument).partition(',')[0], 22)}" if instrument else ""
    return Corners(
        name=words,
        values=_four([stand.write(each[1].value, "pressure") if each else "–" for each in found]),
        known=known,
    )


def _four(values: list[str]) -> tuple[str, str, str, str]:
    front_left, front_right, rear_left, rear_right = (shortened(value, 16) for value in values)
    return front_left, front_right, rear_left, rear_right


def _fuel(
    stand: Stand, meeting: MeetingPlanned, driven: Sequence[Session], forecast: RaceForecast | None
) -> Iterator[tuple[str, str]]:
    def litres(value: float, digits: int = 1) -> str:
        return stand.write(value, "volume", digits)

    if forecast is not None:
        trace, car = forecast.trace, forecast.described.car
        race = forecast.event.event.race
        racing = trace.kind == 0.0
        burned = trace.fuel_burned / car.fuel.density
        tank = f"of {litres(car.tank.volume)}, {litres(car.tank.unusable_volume)} of it out of reach"
        yield "at the start", f"{litres(race.start_fuel_volume)}, tank {tank}"
        if np.any(racing):
            yield "a racing lap", f"{litres(float(burned[racing].mean()), 2)} predicted"
        yield "an hour", f"{litres(float(burned.sum()) * 3600.0 / float(trace.clock[-1]))} predicted"
        fuel = next(each for each in forecast.judged if each.item == "fuel")
        low, _, high = forecast.odds.of("fuel").margin
        yield "least left", f"{litres(fuel.margin)} ({litres(low)} to {litres(high)}, 5 to 95 % of races)"
    else:
        yield "predicted", "no race is predicted as things stand"
    circuits = {each.planned.meeting: each.planned.circuit for each in stand.meetings}
    measured = [
        each
        for each in driven
        if each.fuel_per_lap is not None and circuits.get(each.run.meeting) == meeting.circuit
    ]
    if measured and (last := measured[-1]) and last.fuel_per_lap is not None:
        wet = ", wet" if last.run.is_wet else ""
        yield (
            "own, here",
            f"{litres(last.fuel_per_lap, 2)} a lap, {plain(last.run.name)}, {day_words(last.day)}{wet}",
        )
    else:
        yield "own, here", "never measured at this circuit"


def _stops(stand: Stand, forecast: RaceForecast | None) -> Iterator[tuple[str, ...]]:
    if forecast is None:
        return
    car, trace = forecast.described.car, forecast.trace
    windows = stop_windows(car, trace)
    for number, (stint, window) in enumerate(
        zip(stints_of(trace, car.fuel.density), windows, strict=True), 1
    ):
        if window is None or stint.standing is None:
            continue
        by_fuel = f"lap {window.first_lap} ({clock_words(window.first_clock)}) to "
        by_fuel += (
            "the flag"
            if window.last_lap is None or window.last_clock is None
            else f"lap {window.last_lap} ({clock_words(window.last_clock)})"
        )
        put_in = [stand.write(stint.put_in, "volume")] if stint.put_in else []
        yield (
            str(number),
            f"{clock_words(stint.clock)}, lap {stint.last_lap}",
            by_fuel,
            stand.write(stint.left, "volume"),
            ", ".join([*put_in, *([stint.parts] if stint.parts else [])]) or "nothing",
            f"{int(stint.standing // 60)}:{int(stint.standing % 60):02d}",
        )


def _stop_notes(forecast: RaceForecast | None) -> Iterator[str]:
    """What was noted about each stop, and where it stands."""
    if forecast is None:
        return
    for number in range(1, min(len(forecast.event.event.race.stops), 3) + 1):
        said = []
        for words, name in (("when", "at"), ("standing", "standing"), ("fuel", "fuel_volume")):
            known = forecast.event.known.get(f"race.stops.{number}.{name}")
            note = ", ".join(plain(word) for word in (known.note, known.source) if word) if known else ""
            if note:
                said.append(f"{words}: {shortened(note, 80)}")
        if said:
            yield f"Stop {number}, {'; '.join(said)}."


def _no_stops(forecast: RaceForecast | None) -> str:
    if forecast is None:
        return "No race is predicted as things stand: stops and fuel must be worked out by hand."
    return "No stop is planned."


def _watched(forecast: RaceForecast | None) -> Iterator[tuple[str, ...]]:
    if forecast is None:
        return
    order = sorted(forecast.judged, key=lambda each: (forecast.odds.of(each.item).probability, each.margin))
    for each in order[:_MOST_WATCHED]:
        chance = forecast.odds.of(each.item)
        shown = "°C" if each.unit == "K" else each.unit
        low, _, high = chance.margin
        yield (
            each.item,
            _two(each.used, "of", each.limit, shown),
            written_amount(each.margin, each.unit).replace("-", MINUS),
            _two(low, "to", high, each.unit),
            f"{min(100.0 * chance.probability, 99.9 if chance.probability < 1.0 else 100.0):.0f}",
        )


def _two(first: float, between: str, second: float, unit: str) -> str:
    """Two amounts with their unit once, such as "5.1 of 5.9 mm"."""
    number = written_amount(first, unit).split(" ")[0]
    return f"{number} {between} {written_amount(second, unit)}".replace("-", MINUS)


def _stopping(stand: Stand) -> Iterator[str]:
    for part in stand.build.fitted:
        if part.failed:
            yield f"Failed and still on the car: {plain(part.title)}"
    for each in jobs_on(stand.book, stand.day).open:
        if each.job.stops_running:
            yield plain(each.job.title)
