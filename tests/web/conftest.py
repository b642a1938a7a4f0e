"""A small garage in a folder of its own, and the page on it: as the owner, as crew, as a reader."""

from datetime import date
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from tintop.garage.keeper import Garage
from tintop.logbook.entries import (
    Area,
    Basis,
    CostKind,
    CostPaid,
    Counter,
    Draft,
    JobOpened,
    LifeLimit,
    Matter,
    Measure,
    MeetingClosed,
    MeetingPlanned,
    PartAdded,
    PartFitted,
    PlannedSession,
    Reading,
    SessionRun,
    SupportReceived,
)
from tintop.settings import Settings
from tintop.store.demo import demo_path
from tintop.store.garage_store import Store
from tintop.web.app import make_app
from tintop.web.security import COOKIE, sign

TODAY = date(2026, 6, 15)


def small_season() -> list[tuple[date, Matter]]:
    """A past event with one race, the next event, pads that wear, a job, two costs and a supporter."""
    race = PlannedSession(name="Race", kind="race", duration=7200.0)
    practice = PlannedSession(name="Practice", kind="practice", duration=1200.0)
    spring = MeetingPlanned(
        meeting="spring",
        name="Spring Two Hours",
        first_day=date(2026, 4, 18),
        last_day=date(2026, 4, 18),
        circuit="circuits/larkmoor.csv",
        sessions=(race,),
        road_distance=180e3,
    )
    midsummer = MeetingPlanned(
        meeting="midsummer",
        name="Midsummer Two Hours",
        first_day=date(2026, 6, 20),
        last_day=date(2026, 6, 20),
        circuit="circuits/larkmoor.csv",
        sessions=(practice, race),
        road_distance=180e3,
    )
    pads = PartAdded(
        part="front-pads-1",
        name="Front pads, endurance",
        family="front pads",
        area=Area.FRONT_AXLE,
        price_cents=14250,
        thickness_new=0.011,
        thickness_least=0.004,
        limits=(LifeLimit(counter=Counter.RUNNING, limit=4 * 3600.0, basis=Basis.OWN_HISTORY),),
    )
    belt = PartAdded(
        part="cam-belt-1",
        name="Cam belt",
        family="cam belt",
        area=Area.ENGINE_BAY,
        price_cents=6200,
        limits=(LifeLimit(counter=Counter.RUNNING, limit=1.5 * 3600.0, basis=Basis.MAKER),),
    )
    tyres = PartAdded(
        part="tyres-a", name="Tyres, set A", family="tyres", area=Area.OUTSIDE, thickness_new=0.008
    )
    run = SessionRun(
        session="spring-race",
        meeting="spring",
        name="Race",
        session_kind="race",
        duration=7200.0,
        laps=69,
        distance=69 * 2600.0,
        driver="Robin",
        best_lap=102.4,
        lap_times=(104.0, 102.4, 103.1),
        fuel_before=0.05,
        fuel_after=0.012,
        tyres="tyres-a",
    )
    return [
        (date(2026, 1, 10), pads),
        (date(2026, 1, 10), PartFitted(part="front-pads-1")),
        (date(2026, 1, 10), belt),
        (date(2026, 1, 10), PartFitted(part="cam-belt-1")),
        (date(2026, 1, 10), tyres),
        (date(2026, 1, 10), PartFitted(part="tyres-a")),
        (date(2026, 1, 12), spring),
        (date(2026, 1, 12), midsummer),
        (date(2026, 4, 18), run),
        (
            date(2026, 4, 18),
            Reading(
                measure=Measure.PRESSURE_HOT,
                value=231000.0,
                written="33.5",
                corner="FL",
                session="spring-race",
                is_guessed_unit=True,
            ),
        ),
        (date(2026, 4, 18), MeetingClosed(meeting="spring", result="Fourth of twenty-one")),
        (
            date(2026, 4, 18),
            CostPaid(cost_kind=CostKind.ENTRY, cents=31000, what="Entry fee", meeting="spring"),
        ),
        (
            date(2026, 6, 1),
            CostPaid(
                cost_kind=CostKind.ENTRY, cents=32000, what="Entry fee", meeting="midsummer", is_planned=True
            ),
        ),
        (
            date(2026, 6, 1),
            JobOpened(job="bleed", title="Bleed the brakes", meeting="midsummer", stops_running=True),
        ),
        (
            date(2026, 3, 1),
            SupportReceived(
                support="oil",
                supporter="Marlow Lubricants",
                what="20 L of engine oil",
                list_price_cents=18000,
                paid_cents=4000,
                owed="Name on the rear windows",
                owed_by=date(2026, 5, 1),
            ),
        ),
    ]


@pytest.fixture
def garage(tmp_path: Path):
    """An open garage with a small season in it; it is the 15th of June 2026 there."""
    folder = tmp_path / "garage"
    Store.create(folder, Settings(title="Lantern", owner="Robin", currency="£")).close()
    for name in ("circuits", "events"):
        (folder / name).mkdir(exist_ok=True)
    for source, target in (
        ("car.toml", "car.toml"),
        ("circuit.csv", "circuits/larkmoor.csv"),
        ("event.toml", "events/midsummer.toml"),
    ):
        (folder / target).write_bytes(demo_path(source).read_bytes())
    found = Garage(Store.open(folder), today=lambda: TODAY)
    found.record(
        [
            Draft(key=f"season {place}", day=day, who="Robin", matter=matter)
            for place, (day, matter) in enumerate(small_season())
        ]
    )
    yield found
    found.close()


def _client(garage: Garage, **headers: str) -> TestClient:
    return TestClient(
        make_app(garage),
        base_url="http://127.0.0.1:8080",
        client=("127.0.0.1", 50000),
        headers={"Accept": "text/html", "Origin": "http://127.0.0.1:8080", **headers},
        follow_redirects=False,
    )


@pytest.fixture
def page(garage: Garage) -> TestClient:
    """The page as the owner sees it on the laptop; redirects are not followed."""
    return _client(garage)


def _phone(garage: Garage, name: str, role: str) -> TestClient:
    device = garage.store.add_device(name, role)
    client = TestClient(
        make_app(garage, host_names=frozenset({"shed.local"})),
        base_url="http://shed.local:8080",
        client=("192.168.4.20", 50000),
        headers={"Accept": "text/html", "Origin": "http://shed.local:8080"},
        follow_redirects=False,
    )
    client.cookies.set(COOKIE, sign(device.identifier, garage.secret))
    return client


@pytest.fixture
def crew(garage: Garage) -> TestClient:
    """The page on a phone that was paired as crew."""
    return _phone(garage, "Kim's phone", "crew")


@pytest.fixture
def reader(garage: Garage) -> TestClient:
    """The page on a phone that was paired as a reader."""
    return _phone(garage, "Sam's phone", "reader")
