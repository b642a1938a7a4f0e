"""event.toml to a described event."""

import datetime
import math
from collections.abc import Mapping
from functools import cache
from itertools import pairwise
from pathlib import Path

from tintop.errors import BadInput
from tintop.event import DescribedEvent, Event, Race, Stop, Weather
from tintop.known import Known, Origin
from tintop.store.documents.defaults import load
from tintop.store.documents.event_document import EventDocument, RaceTable
from tintop.store.documents.fields import declared, validated, values_of
from tintop.store.documents.numbers import Numbers
from tintop.store.documents.text import Document, read_document
from tintop.units import format_quantity

_NO_FUEL = Known(value=0.0, uncertainty=0.0, origin=Origin.DOCUMENTED, note="no fuel is put in")


def read_event(path: Path | str) -> DescribedEvent:
    """Read an event document.

    Raises BadInput with every problem found: file, line, field, what was found and what is expected.
    """
    return event_from(read_document(Path(path)))


@cache
def kinds() -> Mapping[str, str]:
    """Give the kind of quantity of every field by its path."""
    return {field.path.replace("[]", ""): field.kind for field in declared(EventDocument)}


def event_from(document: Document) -> DescribedEvent:
    """Give the event of a parsed document; raises BadInput as `read_event` does."""
    tables = validated(EventDocument, document, {})
    written = {path: (value, path) for path, value in values_of(tables)}
    all_kinds = dict(kinds())
    for place, stop in enumerate(tables.race.stops, 1):
        for path, value in values_of(stop, f"race.stops.{place}."):
            written[path] = (value, path)
            all_kinds[path] = kinds()[path.replace(f"stops.{place}", "stops")]
    numbers = Numbers(document, written, load("defaults/event.toml", kinds()), all_kinds)
    if "weather.road_temp" not in written:
        _warm_the_road(numbers)
    weather = numbers.part(Weather, "weather")
    stops = _stops(tables.race, numbers)
    race = numbers.part(Race, "race", stops=stops, formation_laps=_formation_laps(numbers))
    _refuse_stops_out_of_order(stops, numbers)
    date = _date(tables, numbers)
    if numbers.problems or weather is None or race is None:
        raise BadInput(*dict.fromkeys(numbers.problems))
    event = Event(name=tables.name or "unnamed event", date=date, weather=weather, race=race)
    names = [path for path in numbers.known if not path.startswith("race.stops.")]
    stop_names = [path for path in numbers.known if path.startswith("race.stops.")]
    return DescribedEvent(event=event, known={path: numbers.known[path] for path in (*names, *stop_names)})


def _warm_the_road(numbers: Numbers) -> None:
    air = numbers.get("weather.air_temp")
    rise = numbers.assumed("weather.road_temp")
    road = Known(
        value=air + rise.value,
        uncertainty=math.hypot(rise.uncertainty, numbers.known["weather.air_temp"].uncertainty),
        origin=Origin.ASSUMED,
        note=f"class default: {rise.value:g} K warmer than the air",
        source=rise.source,
    )
    numbers.take("weather.road_temp", road)


def _stops(race: RaceTable, numbers: Numbers) -> tuple[Stop, ...]:
    stops = []
    for place, table in enumerate(race.stops, 1):
        prefix = f"race.stops.{place}"
        if table.at is None or table.standing is None:
            for name in ("at", "standing"):
                if getattr(table, name) is None:
                    numbers.problems.append(
                        numbers.document.problem(f"{prefix}.{name}", "nothing", _stop_field(name))
                    )
            continue
        if table.fuel_volume is None:
            numbers.take(f"{prefix}.fuel_volume", _NO_FUEL)
        changed = {"new_pads": bool(table.new_pads), "new_tyres": bool(table.new_tyres)}
        stop = numbers.part(Stop, prefix, **changed)
        if stop is not None:
            stops.append(stop)
    return tuple(stops)


def _stop_field(name: str) -> str:
    return next(field.meaning for field in declared(EventDocument) if field.path == f"race.stops[].{name}")


def _formation_laps(numbers: Numbers) -> int:
    laps = numbers.get("race.formation_laps")
    if not (laps == int(laps) and 0 <= laps <= 5):
        problem = numbers.document.problem("race.formation_laps", f"{laps:g}", "a whole number from 0 to 5")
        numbers.problems.append(problem)
        return 0
    return int(laps)


def _refuse_stops_out_of_order(stops: tuple[Stop, ...], numbers: Numbers) -> None:
    if any(later.at <= earlier.at for earlier, later in pairwise(stops)):
        clocks = ", ".join(format_quantity(stop.at, "min") for stop in stops)
        problem = numbers.document.problem("race.stops", clocks, "stops in the order of the race clock")
        numbers.problems.append(problem)
    if "race.duration" in numbers.known:
        duration = numbers.get("race.duration")
        for place, stop in enumerate(stops, 1):
            if stop.at >= duration:
                found = f"a stop at {format_quantity(stop.at, 'min')}"
                expected = f"before the end of the race at {format_quantity(duration, 'min')}"
                numbers.problems.append(numbers.document.problem(f"race.stops.{place}.at", found, expected))


def _date(tables: EventDocument, numbers: Numbers) -> str:
    if tables.date is None:
        return "unknown"
    try:
        return datetime.date.fromisoformat(tables.date).isoformat()
    except ValueError:
        problem = numbers.document.problem(
            "date", repr(tables.date[:40]), "a day written YYYY-MM-DD", "Write the year first."
        )
        numbers.problems.append(problem)
        return "unknown"
