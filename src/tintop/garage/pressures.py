"""The bench asked for cold pressures: what car, logbook and circuit know, put together for one day."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from tintop.car.car_with_setup import car_with_setup
from tintop.car.chassis import CORNERS, End
from tintop.car.pressure_plan import STEPS, Four, PressureDay, Rise, Stage
from tintop.car.setup import Purpose, Setup
from tintop.circuit.path import path_along
from tintop.errors import refuse
from tintop.event import Weather
from tintop.garage.bench import Bench
from tintop.garage.keeper import Garage
from tintop.known import Origin
from tintop.logbook.book import Logbook, logbook_of
from tintop.logbook.entries import MeetingPlanned, PlannedSession
from tintop.logbook.pressure_rises import SeenRises, seen_rises
from tintop.logbook.tyre_leaks import cold_occasions, tyre_leaks
from tintop.owner_units import require_height
from tintop.physics.air import standard_pressure
from tintop.questions.cold_pressures import ColdPressures, cold_pressures
from tintop.race.hot_air import USUAL_LAPS, HotAir, hot_air, standing_time_constant

WET = 0.5  # of the road's wetness, from which tyres warm as in the rain
_ONE_SESSION = 8.0  # standard uncertainty of a rise seen once, or by a document [K]; an estimate, no source
_LEAST_DOUBT = 4.0  # of a rise seen often [K]; an estimate, no source
_MODEL_DOUBT = 15.0  # of a rise the model alone tells [K]; an estimate from the demo's season
_CLASS_COOLS_QUICKER = 2.5  # a standing tyre is judged to take 25 to 40 min, not 66; from memory, no source
_COOLS_QUICKER = 1.5  # still air of a paddock is never quite still; an estimate, no source
_MOST_LAPS = 12  # after which a reading is taken at the latest, tyres being warm
_USUAL_DAY = (
    PlannedSession(name="practice", kind="practice", duration=1200.0),
    PlannedSession(name="qualifying", kind="qualifying", duration=900.0),
    PlannedSession(name="the race", kind="race", duration=7200.0),
)
_NO_RISE = (Rise(value=0.0, uncertainty=0.0, basis="set as cold as the air"),) * 4
_LAPS_BY_KIND = {"test": 8, "practice": 8, "qualifying": 4, "race": _MOST_LAPS}


@dataclass(frozen=True, slots=True, kw_only=True)
class PressuresAsked:
    """What was typed; None and '' where nothing was. Temperatures [°C], pressures [Pa gauge], heights [m].

    `air` is that of the first session, `later` that of the race; `tyres_at` that of the tyres when set;
    `set_height` and `height` above the sea of where they are set and of the circuit. Without the model no lap
    is predicted.
    """

    setup: str = ""
    circuit: str = ""
    event: str = ""
    with_model: bool = True
    air: float | None = None
    later: float | None = None
    tyres_at: float | None = None
    targets: Four | None = None
    also: str = ""  # a unit to say pressures in beside the gauge's
    set_height: float | None = None
    height: float | None = None


def pressures_in(garage: Garage, bench: Bench, asked: PressuresAsked) -> ColdPressures:
    """Ask in a garage: its next event where none is named, and what its logbook has seen."""
    meeting = _meeting(garage, asked.event)
    if meeting is not None:
        asked = replace(
            asked,
            event=_stem(meeting.document) if _stem(meeting.document) in bench.events else "",
            circuit=asked.circuit
            or (_stem(meeting.circuit) if _stem(meeting.circuit) in bench.circuits else ""),
        )
    return pressures_for(bench, asked, garage.book, garage.today(), meeting)


def _meeting(garage: Garage, name: str) -> MeetingPlanned | None:
    if not name:
        return garage.next_meeting()
    planned = [each for _, each in garage.book.of(MeetingPlanned)]
    return next((each for each in planned if name in (each.meeting, _stem(each.document))), None)


def _stem(document: str) -> str:
    return document.rpartition("/")[2].rpartition(".")[0]


def pressures_for(
    bench: Bench,
    asked: PressuresAsked,
    book: Logbook | None = None,
    day: date = date.max,
    meeting: MeetingPlanned | None = None,
) -> ColdPressures:
    """Ask for a bench; BadInput for names there are not, and where no hot target is known."""
    book = book or logbook_of(())
    setup = bench.setup(asked.setup)
    units, is_for_road = bench.settings.units, setup.purpose is Purpose.ROAD
    require_height(asked.height, "height")
    require_height(asked.set_height, "set_height")
    weather = _weather(bench, setup, asked)
    circuit = asked.circuit or setup.circuit
    course = f"circuits/{bench.circuits[circuit].name}" if circuit in bench.circuits else ""
    if circuit and not course:
        bench.circuit(circuit)  # says which there are
    is_wet = weather.wetness >= WET
    first = replace(weather, air_temp=weather.air_temp if asked.air is None else asked.air)
    model = _model(bench, setup, first, circuit) if asked.with_model and not is_for_road else None
    seen = seen_rises(book, day, circuit=course, is_wet=is_wet, air_pressure=weather.air_pressure)
    rain_seen = seen_rises(book, day, circuit=course, is_wet=True, air_pressure=weather.air_pressure)
    targets, basis = _targets(bench, setup, asked)
    tyres, road = bench.chassis.tyres(setup.tyres), _road(bench)
    unit = units.get("pressure", "bar")
    here = _outside(asked.height, weather.air_pressure)
    later = weather.air_temp if asked.later is None else asked.later
    return cold_pressures(
        PressureDay(
            targets=targets,
            target_basis=basis,
            rises=_NO_RISE if is_for_road else _rises(bench, seen, model, is_wet),
            tyres_at=first.air_temp if asked.tyres_at is None else asked.tyres_at,
            stages=_drive(first.air_temp) if is_for_road else _stages(meeting, first.air_temp, later, model),
            cooling=_by_axle(standing_time_constant(tyres.front), standing_time_constant(tyres.rear)),
            air_pressure=here,
            set_air_pressure=_outside(asked.set_height, here),
            humidity=weather.humidity,
            unit=unit if unit in STEPS else "bar",
            also=asked.also if asked.also in STEPS and asked.also != unit else "",
            is_for_road=is_for_road,
            cooling_doubt=_cooling_doubt(bench, setup),
            home=None if road is None else _cold(road),
            home_tyres=road.tyres if road is not None and road.tyres != setup.tyres else "",
            rain=None if is_wet or is_for_road else _rises(bench, rain_seen, None, is_wet=True),
            rain_targets=_rain_targets(bench),
            sheet=_cold(setup),
            sheet_name=setup.name,
        ),
        tyre_leaks(cold_occasions(book, day), air_pressure=here) if book.entries else (),
    )


def _drive(air: float) -> tuple[Stage, ...]:
    return (Stage(name="the drive", air_temp=air, laps=0),)


def _weather(bench: Bench, setup: Setup, asked: PressuresAsked) -> Weather:
    weather = bench.weather(asked.event or setup.purpose)
    wet = setup.purpose is Purpose.WET
    if wet and weather.wetness < WET:
        rain = bench.weather(Purpose.WET)
        return replace(weather, wetness=1.0, road_temp=rain.road_temp, air_temp=rain.air_temp)
    return weather


def _outside(height: float | None, otherwise: float) -> float:
    """Air pressure at a height above the sea, of the standard atmosphere; as known otherwise without one."""
    return otherwise if height is None else standard_pressure(height)


def known_targets(bench: Bench, setup: Setup) -> Four | None:
    """Hot targets of a set-up's tyres by the documents, None where they do not say; the road's cold ones."""
    if setup.purpose is Purpose.ROAD:
        return _cold(setup)
    tyres = bench.chassis.tyres(setup.tyres)
    front, rear = tyres.front.pressure_hot, tyres.rear.pressure_hot
    return None if front is None or rear is None else _by_axle(front, rear)


def _targets(bench: Bench, setup: Setup, asked: PressuresAsked) -> tuple[Four, str]:
    if asked.targets is not None:
        return asked.targets, "as typed"
    if setup.purpose is Purpose.ROAD:
        return _cold(setup), "by the road set-up's sheet"
    found = known_targets(bench, setup)
    if found is None:
        raise refuse(
            "target",
            f"no hot pressure known for {setup.tyres}",
            "the hot pressure to aim at",
            "Type one, from the tyre's maker or your own treads and stopwatch.",
        )
    known = bench.described.known.get("tyre_front.pressure_hot")
    is_own = (
        bench.chassis.tyres(setup.tyres).front.pressure_hot == bench.described.car.tyre_front.pressure_hot
    )
    if known is not None and is_own:
        return found, f"by the car's document, {known.origin.value}"
    return found, "by the chassis document"


def _rain_targets(bench: Bench) -> Four | None:
    wet = next((each for each in bench.setups.values() if each.purpose is Purpose.WET), None)
    return None if wet is None else known_targets(bench, wet)


def _road(bench: Bench) -> Setup | None:
    return next((each for each in bench.setups.values() if each.purpose is Purpose.ROAD), None)


def _cold(setup: Setup) -> Four:
    first, second, third, fourth = (corner.pressure_cold for corner in setup.corners)
    return first, second, third, fourth


def _cooling_doubt(bench: Bench, setup: Setup) -> float:
    """By how much a standing tyre may cool quicker than reckoned: more where its numbers are its class's."""
    place = [one.name for one in bench.chassis.tyre_sets].index(setup.tyres) + 1
    known = [
        bench.chassis_known.get(f"tyre_sets.{place}.{end.value}.{name}")
        for end in End
        for name in ("carcass_heat_capacity", "tread_heat_capacity", "carcass_to_air", "tread_to_air")
    ]
    is_assumed = any(one is None or one.origin is Origin.ASSUMED for one in known)
    return _CLASS_COOLS_QUICKER if is_assumed else _COOLS_QUICKER


def _by_axle(front: float, rear: float) -> Four:
    return front, front, rear, rear


def _model(bench: Bench, setup: Setup, weather: Weather, circuit: str) -> HotAir | None:
    """How the tyres warm on a predicted lap down the middle of the road; None without a circuit."""
    if not circuit:
        return None
    car = car_with_setup(bench.described.car, bench.chassis, setup, weather)
    fuel = 0.5 * setup.fuel_volume * car.fuel.density
    return hot_air(car, path_along(bench.circuit(circuit)), weather, laps=_MOST_LAPS, fuel_mass=fuel)


def _rises(
    bench: Bench, seen: SeenRises | None, model: HotAir | None, is_wet: bool
) -> tuple[Rise, Rise, Rise, Rise]:
    """The owner's own readings first, else his document shared out by the model, else the model alone."""
    if seen is not None:
        return _as_seen(seen)
    by_document = _by_document(bench, is_wet)
    if model is None:
        return by_document
    told = [float(one) for one in model.rise]
    rises = []
    for place, stated in enumerate(by_document):
        pair = told[:2] if place < 2 else told[2:]
        if stated.uncertainty > _ONE_SESSION:
            rises.append(
                Rise(value=told[place], uncertainty=_MODEL_DOUBT, basis="the predicted loads and slip alone")
            )
        else:
            share = told[place] / (0.5 * sum(pair)) if sum(pair) > 0.0 else 1.0
            rises.append(
                replace(
                    stated,
                    value=stated.value * share,
                    basis=f"{stated.basis}, left and right by the predicted loads and slip",
                )
            )
    return _four(rises)


def _as_seen(seen: SeenRises) -> tuple[Rise, Rise, Rise, Rise]:
    where = "here" if seen.is_here else "at other circuits"
    rises = []
    for one in seen.corners:
        count = one.sessions
        spread = _ONE_SESSION if one.spread is None else max(one.spread, _LEAST_DOUBT)
        spread_words = "" if one.spread is None else f", spread {one.spread:.0f} K"
        sessions = f"{count} session{'s' if count > 1 else ''}"
        rises.append(
            Rise(
                value=max(one.rise, 0.0),
                uncertainty=spread * math.sqrt(1.0 + 1.0 / count),
                basis=f"as your own tyres warmed {where}, {sessions}{spread_words}",
            )
        )
    return _four(rises)


def _by_document(bench: Bench, is_wet: bool) -> tuple[Rise, Rise, Rise, Rise]:
    name = f"tyre_air_rise_{'wet' if is_wet else 'dry'}"
    rises = []
    for corner in CORNERS:
        end = End.FRONT if corner.startswith("F") else End.REAR
        known = bench.chassis_known.get(f"{end.value}.{name}")
        is_assumed = known is None or known.origin is Origin.ASSUMED
        rises.append(
            Rise(
                value=getattr(bench.chassis.at(end), name),
                uncertainty=_MODEL_DOUBT
                if is_assumed or known is None
                else min(max(known.uncertainty, _LEAST_DOUBT), _ONE_SESSION),
                basis="assumed, nobody measured it" if is_assumed else "by the chassis document",
            )
        )
    return _four(rises)


def _four(rises: Sequence[Rise]) -> tuple[Rise, Rise, Rise, Rise]:
    first, second, third, fourth = rises
    return first, second, third, fourth


def _stages(
    meeting: MeetingPlanned | None, first: float, later: float, model: HotAir | None
) -> tuple[Stage, ...]:
    """The day's sessions: the first in the morning's air, the last in the race's, the rest between."""
    planned = meeting.sessions if meeting is not None and meeting.sessions else _USUAL_DAY
    last = max(len(planned) - 1, 1)
    stages = []
    for place, session in enumerate(planned):
        laps = min(_LAPS_BY_KIND[session.kind], _MOST_LAPS)
        if model is not None:
            laps = max(1, min(laps, int(session.duration / model.lap_time)))
        stages.append(
            Stage(
                name=session.name,
                air_temp=first + (later - first) * place / last if len(planned) > 1 else first,
                laps=laps,
                share=model.share_after(laps) if model is not None else _usual_share(laps),
            )
        )
    return tuple(stages)


def _usual_share(laps: int) -> float:
    """Share of the rise after so many laps where no circuit tells; common practice, no source."""
    return 1.0 - math.exp(-min(laps, USUAL_LAPS) / 2.7)
