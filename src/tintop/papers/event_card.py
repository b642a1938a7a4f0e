"""What stands on the event card: answers, pressures, fuel, stops, what to watch, what stops the car."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from tintop.answer import Answer, Figure
from tintop.car.described import DescribedCar
from tintop.event import DescribedEvent
from tintop.logbook.amounts import written_money
from tintop.logbook.entries import MeetingPlanned
from tintop.logbook.jobs import jobs_on
from tintop.logbook.sessions import Session
from tintop.papers.card_fuel import RaceForecast, fuel_of
from tintop.papers.card_pressures import pressures_of
from tintop.papers.content import CardAnswer, EventCard, plain, shortened
from tintop.papers.stand import MINUS, Stand, clock_words, day_words, lap_words
from tintop.questions.cold_pressures import ColdPressures
from tintop.questions.will_it_last import written_amount, written_range
from tintop.race.march import RaceTrace
from tintop.race.stint_plan import stints_of, stop_windows

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
    cold: ColdPressures | None = None,
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
        pressures=tuple(pressures_of(stand, meeting, driven, described, event, cold)),
        fuel=tuple(fuel_of(stand, meeting, driven, forecast)),
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
    known = event.known.get("weather.air_temp")
    note = f": {known.origin.value}, {plain(known.note)}" if known and known.note else ""
    road_temp = stand.write(found.road_temp, "temperature", 0)
    return shortened(f"air {air}, road {road_temp}, {road}, as reckoned with{note}", 110)


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
        sign=answer.verdict.sign,
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
    if name == "legal" and answer.figures:
        return "; ".join(f"{figure.value:.0f} {plain(figure.name)}" for figure in answer.figures[:2])
    weakest = str(answer.working.get("weakest", "")).casefold()
    told = [each for each in answer.figures if name == "ready" and weakest in each.name.casefold()]
    return _figure(stand, told[0]) if told else "none known"


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
            _lowest_lap(forecast.trace) if each.item == "fuel" else _two(each.used, "of", each.limit, shown),
            written_amount(each.margin, shown).replace("-", MINUS),
            " to ".join(written_range(low, high, each.unit)),
            f"{min(100.0 * chance.probability, 99.9 if chance.probability < 1.0 else 100.0):.0f}",
        )


def _lowest_lap(trace: RaceTrace) -> str:
    """When the tank is at its lowest; how the fuel adds up stands under Fuel."""
    return f"lap {int(np.argmin(trace.fuel_left)) + 1} of {trace.laps}"


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
