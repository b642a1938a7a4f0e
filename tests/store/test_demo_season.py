"""The demo's season: does it hold together as a real book would?"""

import calendar
import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from datetime import date
from functools import cache
from math import hypot
from pathlib import Path

import pytest

from tintop.circuit.path import path_along
from tintop.circuit.racing_line import minimum_curvature
from tintop.handwriting import Understood, read_value
from tintop.known import Origin
from tintop.lap.flying_lap import flying_lap
from tintop.logbook.book import Logbook, logbook_of
from tintop.logbook.build import build_on
from tintop.logbook.entries import (
    Basis,
    CostPaid,
    Draft,
    Entry,
    Fate,
    JobDone,
    JobOpened,
    Measure,
    MeetingClosed,
    MeetingPlanned,
    PaperAdded,
    PartAdded,
    PartFailed,
    PartFitted,
    PartInspected,
    PartRemoved,
    Reading,
    Remark,
    SessionRun,
    SetupChanged,
    SupportReceived,
    SupportReturned,
)
from tintop.logbook.jobs import jobs_on
from tintop.logbook.lives import LifeState, lives
from tintop.logbook.mass_ledger import mass_ledger
from tintop.logbook.support import SupportState, supporters
from tintop.store.circuits import read_circuit
from tintop.store.demo import demo_path
from tintop.store.demo_garage import (
    DOCUMENTS,
    demo_drafts,
    demo_garage,
    suppliers_of,
)
from tintop.store.documents import read_car, read_event

TODAY = date(2026, 6, 9)
INVENTED = {
    "Anvil Row Tools",
    "Beckfoot Tyre Depot",
    "Cinder Lane Fabrications",
    "Cobblegate Wheels",
    "Drover Mutual",
    "Fell Lane Brake Supplies",
    "Ginnel Motor Factors",
    "Harrow Down Touring Club",
    "Hollow Road Breakers",
    "Lamplight Auto Electrics",
    "Larchbank Suspension",
    "Millrace Garage",
    "Old Kiln Engines",
    "Pinfold Radiators",
    "Quernstone Oils",
    "Tarnside Race Safety",
    "Wether Moor Motor Club",
}
NO_NAMES = {"filling station", "own work", "private sale"}
FIELDS = {
    Measure.PRESSURE_COLD: ("tyre pressure cold", None),
    Measure.PRESSURE_HOT: ("tyre pressure hot", None),
    Measure.TREAD_TEMP_INNER: ("tyre temperature", None),
    Measure.TREAD_TEMP_MIDDLE: ("tyre temperature", None),
    Measure.TREAD_TEMP_OUTER: ("tyre temperature", None),
    Measure.TREAD_DEPTH: ("tread depth", None),
    Measure.PAD_THICKNESS: ("pad thickness", "mm without plate"),
    Measure.DISC_THICKNESS: ("disc thickness", None),
    Measure.OIL_PRESSURE: ("oil pressure", None),
    Measure.TORQUE: ("torque", None),
    Measure.MASS: ("car mass", None),
}
SETUP_FIELDS = {
    "spring": "spring rate",
    "camber": "camber",
    "toe": "toe",
    "rear bar": "anti-roll bar hole",
    "damper, bump": "damper clicks",
    "damper, rebound": "damper clicks",
}


@cache
def drafts() -> tuple[Draft, ...]:
    return demo_drafts()


@cache
def entries() -> tuple[Entry, ...]:
    return demo_garage(TODAY).entries


@cache
def book() -> Logbook:
    return logbook_of(entries())


def matters(kind: type) -> list:
    return [matter for _, matter in book().of(kind)]


def added() -> dict[str, PartAdded]:
    return {part.part: part for part in matters(PartAdded)}


# -- does it hold together -------------------------------------------------------------------------


def test_it_is_a_season_and_not_a_sample() -> None:
    assert len(entries()) >= 350
    assert len(matters(MeetingClosed)) == 4
    assert sum(run.session_kind == "race" for run in matters(SessionRun)) == 4
    assert 60 <= sum(not part.came_with_car for part in matters(PartAdded)) <= 95
    assert len(matters(Reading)) >= 150


def test_entries_are_in_the_order_things_happened_and_keys_come_once() -> None:
    assert [entry.number for entry in entries()] == list(range(1, len(entries()) + 1))
    days = [draft.day for draft in drafts()]
    assert days == sorted(days)
    assert len({entry.key for entry in entries()}) == len(entries())
    assert all(entry.day <= TODAY and entry.written_at[:10] == entry.day.isoformat() for entry in entries())


def test_every_name_leads_to_something() -> None:
    parts = set(added())
    sessions = {run.session for run in matters(SessionRun)}
    meetings = {plan.meeting for plan in matters(MeetingPlanned)}
    jobs = {job.job for job in matters(JobOpened)}
    helps = {help_.support for help_ in matters(SupportReceived)}
    for kind in (PartFitted, PartRemoved, PartInspected, PartFailed):
        assert {matter.part for matter in matters(kind)} <= parts
    assert {fitted.replaces for fitted in matters(PartFitted)} <= parts | {""}
    assert {run.tyres for run in matters(SessionRun)} <= parts
    for kind in (Reading, JobOpened, CostPaid, SupportReceived):
        assert {matter.part for matter in matters(kind)} <= parts | {""}
    for kind in (Reading, PartFailed):
        assert {matter.session for matter in matters(kind)} <= sessions | {""}
    for kind in (SessionRun, MeetingClosed, JobOpened, CostPaid):
        assert {matter.meeting for matter in matters(kind)} <= meetings | {""}
    assert {job.job for job in matters(JobDone)} <= jobs
    assert {given_.support for given_ in matters(SupportReturned)} <= helps
    assert {paper.about for paper in matters(PaperAdded)} <= parts | {"car"}
    assert {remark.about for remark in matters(Remark)} <= parts | meetings | {"car", ""}
    for plan in matters(MeetingPlanned):
        assert plan.circuit in DOCUMENTS
        assert plan.document in {*DOCUMENTS, ""}


def test_a_part_that_makes_way_was_on_the_car_and_one_fitted_was_not() -> None:
    assert build_on(book(), TODAY).unknown == ()
    on = {part.part for part in matters(PartAdded) if part.came_with_car}
    for entry in sorted(book().entries, key=lambda entry: (entry.day, entry.clock, entry.number)):
        match entry.matter:
            case PartFitted(part=part, replaces=replaces):
                assert part not in on, part
                on.add(part)
                on.discard(replaces)
            case PartRemoved(part=part, fate=Fate.FAILED | Fate.STRIPPED):
                assert part in on, part
                on.discard(part)
            case PartRemoved(part=part):
                on.discard(part)
    assert on == {each.part.part for each in build_on(book(), TODAY).fitted}


def test_the_ledger_of_mass_closes_by_hand_and_by_the_fold() -> None:
    """Bought less stripped plus fitted is the weighed race car, within the doubt of scales and parts."""
    weighed = [
        (entry.day, reading.value) for entry, reading in book().of(Reading) if reading.measure is Measure.MASS
    ]
    assert [mass for _, mass in weighed] == [1152.0, 983.5, 1038.0]
    last_day = weighed[-1][0]
    car, doubt = weighed[0][1], hypot(3.0, 3.0)  # four corner scales, ±3 kg each time
    stripped = kit = 0.0

    def change(part: str, sign: int) -> float:
        nonlocal car, doubt
        mass = added()[part].mass
        if mass is None:
            return 0.0
        car += sign * mass.value
        doubt = hypot(doubt, mass.uncertainty)
        return mass.value

    for entry in book().entries:
        if entry.day > last_day:
            break
        if isinstance(entry.matter, PartRemoved) and entry.day < weighed[1][0]:
            stripped += change(entry.matter.part, -1)
        elif isinstance(entry.matter, PartFitted):
            gained = change(entry.matter.part, 1)
            if entry.matter.replaces:
                change(entry.matter.replaces, -1)
            elif entry.day < date(2025, 12, 7):
                kit += gained
    assert car == pytest.approx(1038.0, abs=doubt)
    assert 100.0 <= stripped <= 170.0  # what a four-seat car commonly loses
    assert 60.0 <= kit <= 90.0  # what cage, seat, harness, fire kit and the like commonly put back
    ledger = mass_ledger(book(), last_day)
    assert ledger.weighings[-1].ledger == pytest.approx(car)
    for weighing in ledger.weighings[1:]:
        assert abs(weighing.difference) <= weighing.doubt
    assert read_car(_packaged("car.toml")).car.masses.car == weighed[-1][1]


def test_the_corner_loads_are_the_car_with_its_driver_and_the_document_s_share() -> None:
    (corners,) = mass_ledger(book(), TODAY).corners
    masses = read_car(_packaged("car.toml")).car.masses
    assert corners.total == pytest.approx(masses.car + masses.driver, abs=2.0)
    assert corners.front_share == pytest.approx(masses.front_share, abs=0.004)
    assert corners.cross_share == pytest.approx(0.5, abs=0.005)


def test_parts_lie_within_the_car() -> None:
    for part in matters(PartAdded):
        if part.position is not None:
            x, y, z = part.position
            assert -3.5 < x < 0.95, part.part
            assert abs(y) < 0.85, part.part
            assert 0.1 < z < 1.45, part.part
            if part.corner:
                assert (y > 0.0) == part.corner.endswith("L"), part.part
                assert (x > -1.28) == part.corner.startswith("F"), part.part
        if part.mass is not None:
            assert part.mass.uncertainty > 0.0
            assert part.mass.origin in (Origin.MEASURED, Origin.ESTIMATED)
            assert part.mass.note


# -- was it driven by this car ------------------------------------------------------------------------


def _packaged(name: str) -> Path:
    import tintop

    return Path(tintop.__path__[0]) / "data" / "demo" / name


@cache
def model_lap(circuit: str) -> float:
    car = read_car(_packaged("car.toml")).car
    course = read_circuit(_packaged(DOCUMENTS[circuit]))
    path = path_along(course, minimum_curvature(course, car.dimensions.width))
    return flying_lap(car, path, read_event(_packaged("event.toml")).event.weather).lap_time


def test_laps_add_up_and_are_near_the_model() -> None:
    plans = {plan.meeting: plan for plan in matters(MeetingPlanned)}
    for run in matters(SessionRun):
        assert len(run.lap_times) == run.laps, run.session
        assert sum(run.lap_times) == pytest.approx(run.duration, abs=0.1), run.session
        assert min(run.lap_times) == run.best_lap, run.session
        planned = plans[run.meeting]
        expected = model_lap(planned.circuit)
        length = read_circuit(_packaged(DOCUMENTS[planned.circuit])).length
        assert run.distance == pytest.approx(run.laps * length, rel=0.001), run.session
        slowest = 1.20 if run.is_wet else 1.10
        assert 0.99 * expected <= run.best_lap <= slowest * expected, run.session
        (session,) = [one for one in planned.sessions if one.name == run.name]
        assert run.duration <= session.duration + 1.3 * expected, run.session


def test_fuel_is_of_a_car_of_this_power_and_never_ran_out() -> None:
    """15 to 42 L an hour: two-litre cars from a saving pace to flat out."""
    tank = read_car(_packaged("car.toml")).car.tank
    for run in matters(SessionRun):
        used = run.fuel_before + (run.fuel_added or 0.0) - run.fuel_after
        assert 15e-3 <= used / (run.duration / 3600.0) <= 42e-3, run.session
        assert tank.unusable_volume < run.fuel_after < run.fuel_before + (run.fuel_added or 0.0)
        assert run.fuel_before <= tank.volume


def test_pads_discs_and_tread_only_get_thinner_from_what_they_were_new() -> None:
    seen: dict[tuple[str, str, str], float] = {}
    for _, reading in book().of(Reading):
        if reading.measure in (Measure.PAD_THICKNESS, Measure.DISC_THICKNESS, Measure.TREAD_DEPTH):
            key = reading.part, reading.corner, reading.place
            part = added()[reading.part]
            assert reading.value <= seen.get(key, part.thickness_new), key
            assert part.thickness_least < reading.value, key
            seen[key] = reading.value
    assert len(seen) >= 30


def test_tyres_warm_up_as_a_gas_does() -> None:
    """Cold and hot absolute pressures are in the ratio of absolute temperatures, 8 to 90 °C warmer."""
    for run in matters(SessionRun):
        read = {
            (reading.measure, reading.corner): reading.value
            for reading in matters(Reading)
            if reading.session == run.session
        }
        for corner in ("FL", "FR", "RL", "RR"):
            cold, hot = (read.get((one, corner)) for one in (Measure.PRESSURE_COLD, Measure.PRESSURE_HOT))
            if cold is None or hot is None:
                continue
            warmer = (run.air_temp + 273.15) * ((hot + 101_325.0) / (cold + 101_325.0) - 1.0)
            assert 8.0 <= warmer <= (35.0 if run.is_wet else 90.0), (run.session, corner, warmer)


def test_what_was_written_reads_as_the_value_kept() -> None:
    read = 0
    for reading in matters(Reading):
        if reading.measure not in FIELDS:
            continue
        field, usual = FIELDS[reading.measure]
        found = read_value(reading.written, field, usual_unit=usual)
        assert isinstance(found, Understood), reading
        assert found.value == pytest.approx(reading.value, rel=1e-4), reading
        assert found.is_guessed == reading.is_guessed_unit, reading
        read += 1
    for change in matters(SetupChanged):
        if change.item in SETUP_FIELDS:
            found = read_value(change.written, SETUP_FIELDS[change.item])
            assert isinstance(found, Understood), change
            assert found.value == pytest.approx(change.value, rel=1e-6), change
            assert found.quantity == change.quantity, change
            read += 1
    assert read >= 200


def test_the_set_up_ends_where_the_car_s_document_has_it() -> None:
    described = read_car(_packaged("car.toml")).car.suspension
    last = {(change.item, change.corner): change.value for change in matters(SetupChanged)}
    for corner in ("FL", "FR"):
        assert last["camber", corner] == pytest.approx(described.camber_front)
    for corner in ("RL", "RR"):
        assert last["camber", corner] == pytest.approx(described.camber_rear)


# -- the story it tells -------------------------------------------------------------------------------


def test_one_life_is_overdue_some_end_before_the_event_does_and_one_job_stops_the_car() -> None:
    found = lives(book(), TODAY)
    assert {life.part for life in found if life.state is LifeState.OVERDUE} == {"gearbox-oil-1"}
    due = {life.part for life in found if life.state is LifeState.DUE_BEFORE_END}
    assert {"studs-front", "brake-fluid-1"} <= due
    assert not [life for life in found if life.state is LifeState.UNKNOWN]
    stopping = [job.job.job for job in jobs_on(book(), TODAY).open if job.job.stops_running]
    assert stopping == ["hose-front-left"]


def test_the_bearing_that_broke_gave_its_successors_a_limit_of_own_history() -> None:
    (failure,) = [one for one in matters(PartFailed) if one.part == "bearing-front-right"]
    ended = {closed.meeting: closed for closed in matters(MeetingClosed)}
    (race,) = [run for run in matters(SessionRun) if run.session == failure.session]
    assert not ended[race.meeting].is_finished
    assert sum(closed.is_finished for closed in ended.values()) == 3
    lasted = sum(run.duration for entry, run in book().of(SessionRun) if entry.day <= date(2026, 5, 16))
    for side in ("left", "right"):
        limits = added()[f"bearing-front-{side}-2"].limits
        assert any(one.basis is Basis.OWN_HISTORY and one.limit < lasted for one in limits)


def test_of_three_supporters_one_waits_too_long_and_one_is_settled() -> None:
    found = {each.name: {item.state for item in each.items} for each in supporters(book(), TODAY)}
    assert len(found) == 3
    assert SupportState.OVERDUE in found["Millrace Garage"]
    assert found["Quernstone Oils"] == {SupportState.SETTLED}
    assert found["Beckfoot Tyre Depot"] == {SupportState.OWED}
    for help_ in matters(SupportReceived):
        assert help_.paid_cents < help_.list_price_cents


def test_costs_hold_what_the_parts_cost() -> None:
    paid = sum(part.price_cents or 0 for part in matters(PartAdded))
    by_supplier: dict[str, int] = {}
    for cost in matters(CostPaid):
        if not cost.is_planned and cost.cents > 0 and cost.cost_kind.value not in ("entry", "work by others"):
            by_supplier[cost.supplier] = by_supplier.get(cost.supplier, 0) + cost.cents
    for supplier in {part.supplier for part in matters(PartAdded) if part.price_cents}:
        bought = sum(part.price_cents or 0 for part in matters(PartAdded) if part.supplier == supplier)
        assert by_supplier[supplier] >= bought, supplier
    assert paid > 500_000
    assert any(cost.cents < 0 for cost in matters(CostPaid))
    assert {cost.meeting for cost in matters(CostPaid) if cost.is_planned} >= {
        "larkmoor",
        "ottersgill",
        "last-lamps",
    }


def test_corrections_stand_in_the_place_of_what_they_correct() -> None:
    corrected = [entry for entry in entries() if entry.corrects is not None]
    assert len(corrected) == 2
    for entry in corrected:
        before = book().entry(entry.corrects)
        assert type(before.matter) is type(entry.matter)
        assert not book().stands(before.number)
        assert book().stands(entry.number)


def test_every_trade_name_is_an_invented_one() -> None:
    assert suppliers_of(drafts()) <= INVENTED | NO_NAMES


BELIED = re.compile(
    r"\b((?<!-)20[1-9]\d|(mid)?summer|winter|autumn|harvest|easter|christmas|last (year|season)|"
    r"(in|into|this|last|next|by) spring|spring (two|ninety|hundred|trophy|race|meeting)|"
    + "|".join(set(calendar.month_name) - {"", "May"})  # May is also a word
    + r")\b",
    re.IGNORECASE,
)


def words_of(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for each in value:
            yield from words_of(each)
    elif is_dataclass(value):
        for field in fields(value):
            yield from words_of(getattr(value, field.name))


@pytest.mark.parametrize("belied", ["Midsummer Two Hours", "Spring Two Hours", "in June", "last season"])
def test_the_pattern_finds_what_the_shift_would_belie(belied: str) -> None:
    assert BELIED.search(belied)
    assert not BELIED.search("spring 70 N/mm, front strut and spring, left")


def test_no_text_names_a_year_a_month_or_a_season_that_the_shift_would_belie() -> None:
    for draft in drafts():
        for words in words_of(draft):
            assert not BELIED.search(words), draft
    for name, text in demo_garage(TODAY).documents.items():
        if name.endswith(".toml"):
            assert not BELIED.search(re.sub(r"(?m)^(date|valid_from|valid_to) = .*$", "", text)), name
            assert not BELIED.search(name)


def test_the_fluid_of_the_car_s_document_is_the_fluid_that_was_tested() -> None:
    brakes = read_car(demo_path("car.toml")).car.brakes
    read = [each for each in matters(Reading) if each.measure is Measure.FLUID_BOILING]
    assert read and all(abs(each.value - brakes.fluid_boiling) < 5.0 for each in read)
