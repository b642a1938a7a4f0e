"""A garage with the demo's car, circuit and race and one event ahead, predicted once for all tests."""

from datetime import date
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

from fastapi.testclient import TestClient

from tintop.garage.keeper import Garage
from tintop.garage.predictions import Prediction
from tintop.logbook.entries import Area, Draft, MeetingPlanned, PartAdded
from tintop.settings import Settings
from tintop.store.demo import demo_path
from tintop.store.garage_store import Store
from tintop.web.app import make_app

TODAY = date(2026, 6, 1)
MEETING = MeetingPlanned(
    meeting="midsummer",
    name="Midsummer <Two Hours>",
    first_day=date(2026, 6, 20),
    last_day=date(2026, 6, 20),
    circuit="circuits/larkmoor.csv",
    document="events/midsummer.toml",
)
PADS = PartAdded(
    part="front pads A",
    name="front pads, endurance",
    family="front pads",
    area=Area.FRONT_AXLE,
    price_cents=14250,
    supplier="Fettle & Son",
)


def new_garage(folder: Path, *, is_planned: bool = True) -> Garage:
    for name, document in (
        ("car.toml", "car.toml"),
        ("circuit.csv", MEETING.circuit),
        ("event.toml", MEETING.document),
    ):
        path = folder / document
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(shorter(demo_path(name).read_text("utf-8")), encoding="utf-8", newline="")
    store = Store.create(folder, Settings(title="Lantern", owner="Sam"))
    garage = Garage(store, lambda: TODAY)
    if is_planned:
        garage.record(
            [
                Draft(key="plan", day=TODAY, who="Sam", matter=MEETING),
                Draft(key="pads", day=TODAY, who="Sam", matter=PADS),
            ]
        )
    return garage


def shorter(text: str) -> str:
    """Half the race, so that it is predicted in half the time."""
    return text.replace('duration = { value = "2 h"', 'duration = { value = "1 h"').replace(
        'at = { value = "62 min"', 'at = { value = "31 min"'
    )


@cache
def predicted_garage() -> Garage:
    garage = new_garage(Path(mkdtemp(prefix="tintop-test-")))
    garage.predict(MEETING)
    return garage


def prediction() -> Prediction:
    found = predicted_garage().prediction(MEETING)
    assert found is not None
    return found


def client_of(garage: Garage, host: str = "127.0.0.1") -> TestClient:
    """The laptop's own browser, or with another host a phone's."""
    return TestClient(
        make_app(garage, host_names=frozenset({"laptop"})),
        base_url="http://127.0.0.1" if host == "127.0.0.1" else "http://laptop",
        client=(host, 50000),
        headers={"Accept": "text/html"},
    )
