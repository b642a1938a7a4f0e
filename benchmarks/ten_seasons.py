"""A book of ten seasons, made by chance with a fixed seed: 10,000 readings, 400 sessions, 60,000 cost lines.

`python benchmarks/ten_seasons.py FOLDER` writes a garage with it, and says how long that, loading and folding
take.
"""

import random
import sys
import time
from datetime import date, timedelta
from pathlib import Path

from tintop.known import Known, Origin
from tintop.logbook.entries import (
    Area,
    Basis,
    CostKind,
    CostPaid,
    Counter,
    Draft,
    Fate,
    JobDone,
    JobOpened,
    LifeLimit,
    Matter,
    Measure,
    MeetingClosed,
    MeetingPlanned,
    PartAdded,
    PartFitted,
    PartInspected,
    PartRemoved,
    PlannedSession,
    Reading,
    RoadDriven,
    SessionRun,
    SetupChanged,
    SupportReceived,
    SupportReturned,
    Withdrawn,
)

SEASONS, MEETINGS, COSTS = 10, 10, 600  # a season has so many events, an event so many cost lines
FIRST_SEASON = 2017
CORNERS = ("FL", "FR", "RL", "RR")
LAP = 3000.0  # [m]
SESSIONS = (("test", 3600.0), ("practice", 1800.0), ("qualifying", 1200.0), ("race", 7200.0))
SPARES = (("front pads", Area.FRONT_AXLE, 0.012), ("rear pads", Area.REAR_AXLE, 0.010))


class _Writer:
    """Collects drafts in the order of writing."""

    def __init__(self) -> None:
        self.chance = random.Random(1907)
        self.drafts: list[Draft] = []

    def write(self, day: date, matter: Matter, clock: str = "", corrects: int | None = None) -> int:
        number = len(self.drafts) + 1
        draft = Draft(
            key=f"ten-seasons-{number}", day=day, who="Robin", matter=matter, clock=clock, corrects=corrects
        )
        self.drafts.append(draft)
        return number


def ten_seasons() -> tuple[Draft, ...]:
    """The drafts of the whole book in the order of writing; the same at every call."""
    writer = _Writer()
    _build(writer, date(FIRST_SEASON - 1, 11, 1))
    for season in range(SEASONS):
        for meeting in range(MEETINGS):
            _meeting(writer, season, meeting)
    return tuple(writer.drafts)


def _build(writer: _Writer, day: date) -> None:
    chance = writer.chance
    areas = tuple(Area)
    for place in range(240):
        part = f"part-{place}"
        mass = Known(
            value=round(chance.uniform(0.2, 40.0), 2),
            uncertainty=0.1,
            origin=Origin.MEASURED,
            note="shed scales",
        )
        added = PartAdded(
            part=part,
            name=f"Part {place} of the shell",
            family=f"family {place % 40}",
            area=areas[place % len(areas)],
            mass=mass,
            position=(
                round(chance.uniform(-0.8, 3.4), 3),
                round(chance.uniform(-0.7, 0.7), 3),
                round(chance.uniform(0.1, 1.2), 3),
            ),
            price_cents=chance.randrange(500, 60_000),
            limits=_limits(chance) if place % 3 == 0 else (),
            came_with_car=place < 160,
        )
        when = day + timedelta(days=place // 4)
        writer.write(when, added)
        if place % 8 == 7:
            writer.write(when, PartRemoved(part=f"part-{place - 7}", fate=Fate.STRIPPED, reason="weight"))
        elif place >= 160:
            writer.write(when, PartFitted(part=part))


def _limits(chance: random.Random) -> tuple[LifeLimit, ...]:
    hours = chance.randrange(20, 200)
    return (
        LifeLimit(
            counter=Counter.RUNNING, limit=hours * 3600.0, basis=Basis.COMMON_PRACTICE, action="inspect"
        ),
        LifeLimit(counter=Counter.AGE, limit=365.0 * chance.randrange(2, 8), basis=Basis.MAKER),
    )


def _meeting(writer: _Writer, season: int, place: int) -> None:
    chance = writer.chance
    race_day = date(FIRST_SEASON + season, 3, 20) + timedelta(days=21 * place)
    name = f"{FIRST_SEASON + season}-{place + 1}"
    planned = MeetingPlanned(
        meeting=name,
        name=f"Round {place + 1}",
        first_day=race_day - timedelta(days=1),
        last_day=race_day,
        circuit="circuits/larkmoor.csv",
        sessions=tuple(PlannedSession(name=kind, kind=kind, duration=length) for kind, length in SESSIONS),
        road_distance=chance.randrange(80, 600) * 1000.0,
    )
    writer.write(race_day - timedelta(days=15), planned)
    _spares(writer, name, race_day - timedelta(days=9))
    _jobs(writer, name, race_day - timedelta(days=8))
    writer.write(race_day - timedelta(days=1), RoadDriven(distance=planned.road_distance / 2.0, meeting=name))
    for order, (kind, length) in enumerate(SESSIONS):
        _session(writer, name, race_day, order, kind, length)
    writer.write(race_day, RoadDriven(distance=planned.road_distance / 2.0, meeting=name))
    writer.write(race_day, MeetingClosed(meeting=name, result=f"{chance.randrange(1, 30)}th of 30"))
    _costs(writer, name, race_day)
    if place in (2, 7):
        _support(writer, f"{name}-help", race_day)


def _spares(writer: _Writer, meeting: str, day: date) -> None:
    chance = writer.chance
    for family, area, thickness in SPARES:
        part = f"{family.replace(' ', '-')}-{meeting}"
        writer.write(
            day,
            PartAdded(
                part=part,
                name=f"Set of {family}",
                family=family,
                area=area,
                price_cents=chance.randrange(9_000, 30_000),
                thickness_new=thickness,
                thickness_least=0.003,
            ),
        )
        writer.write(day, PartFitted(part=part))
    tyres = f"tyres-{meeting}"
    limit = LifeLimit(counter=Counter.HEAT_CYCLES, limit=12.0, basis=Basis.OWN_HISTORY)
    writer.write(
        day,
        PartAdded(part=tyres, name="Set of four", family="tyres", area=Area.OUTSIDE, limits=(limit,)),
    )
    writer.write(day, PartFitted(part=tyres))


def _jobs(writer: _Writer, meeting: str, day: date) -> None:
    for place in range(6):
        job = f"job-{meeting}-{place}"
        part = f"part-{writer.chance.randrange(160, 240)}"
        writer.write(
            day,
            JobOpened(
                job=job, title=f"Look over {part}", part=part, meeting=meeting, stops_running=place == 0
            ),
        )
        if place < 5:
            writer.write(day + timedelta(days=place), JobDone(job=job))
            writer.write(day + timedelta(days=place), PartInspected(part=part, found="good"))
    front = round(-0.05 + 0.01 * writer.chance.random(), 4)
    writer.write(day, SetupChanged(item="camber", corner="FL", value=front, quantity="angle", reason="wear"))


def _session(writer: _Writer, meeting: str, day: date, order: int, kind: str, length: float) -> None:
    chance = writer.chance
    name = f"{meeting}-{kind}"
    laps = int(length // 105.0)
    times = tuple(round(chance.uniform(98.0, 108.0), 3) for _ in range(laps))
    clock = f"{9 + 2 * order:02d}:{chance.randrange(60):02d}"
    run = SessionRun(
        session=name,
        meeting=meeting,
        name=kind,
        session_kind=kind,  # type: ignore[arg-type]
        duration=round(sum(times), 3),
        laps=laps,
        distance=laps * LAP,
        driver="Robin",
        best_lap=min(times),
        lap_times=times,
        fuel_before=0.040,
        tyres=f"tyres-{meeting}",
        air_temp=round(chance.uniform(8.0, 28.0), 1),
        is_wet=chance.random() < 0.2,
        coolant_peak=round(chance.uniform(88.0, 104.0), 1),
    )
    writer.write(day, run, clock)

    def read(measure: Measure, low: float, high: float, corner: str = "", place: str = "") -> None:
        value = round(chance.uniform(low, high), 5)
        reading = Reading(measure=measure, value=value, corner=corner, place=place, session=name)  # type: ignore[arg-type]
        writer.write(day, reading, clock)

    for corner in CORNERS:
        read(Measure.PRESSURE_COLD, 1.4e5, 1.7e5, corner)
        read(Measure.PRESSURE_HOT, 1.9e5, 2.3e5, corner)
        for measure in (Measure.TREAD_TEMP_INNER, Measure.TREAD_TEMP_MIDDLE, Measure.TREAD_TEMP_OUTER):
            read(measure, 60.0, 95.0, corner)
        read(Measure.PAD_THICKNESS, 0.004, 0.012, corner, "inner pad")
    read(Measure.OIL_TEMP, 95.0, 130.0)


def _costs(writer: _Writer, meeting: str, day: date) -> None:
    chance = writer.chance
    kinds = tuple(CostKind)
    for place in range(COSTS):
        paid = CostPaid(
            cost_kind=kinds[place % len(kinds)],
            cents=chance.randrange(99, 25_000),
            what=f"Line {place + 1}",
            supplier=f"Supplier {chance.randrange(60)}",
            meeting=meeting,
        )
        number = writer.write(day + timedelta(days=place % 14), paid)
        if place == 300:
            writer.write(day, Withdrawn(reason="written twice"), corrects=number)


def _support(writer: _Writer, support: str, day: date) -> None:
    price = writer.chance.randrange(5_000, 80_000)
    writer.write(
        day,
        SupportReceived(
            support=support,
            supporter="Harrow Down Garage",
            what="Oil and filters",
            list_price_cents=price,
            paid_cents=price // 2,
            owed="Their name on both doors",
        ),
    )
    writer.write(day + timedelta(days=5), SupportReturned(support=support, what="Doors lettered"))


def _timed(words: str, start: float) -> float:
    now = time.perf_counter()
    print(f"{words}: {now - start:.2f} s")
    return now


def main(folder: Path) -> None:
    from tintop.logbook.book import logbook_of
    from tintop.settings import Settings
    from tintop.store.garage_store import Store

    drafts = ten_seasons()
    now = time.perf_counter()
    with Store.create(folder, Settings(title="Ten seasons")) as store:
        store.append(drafts)
        now = _timed(f"{len(drafts):,} entries written", now)
        entries = store.entries()
        now = _timed("loaded", now)
        logbook_of(entries)
        _timed("folded", now)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
