"""The demo's garage on the ninth Monday of its season, opened once, and a short race predicted for it."""

import pytest
from printed import TODAY

from demo_cars import demo_lane
from events import twenty_minutes
from tintop.event import DescribedEvent, Stop
from tintop.garage.keeper import Garage
from tintop.known import Known, Origin
from tintop.papers.card_fuel import RaceForecast
from tintop.race.lasting import lasting
from tintop.race.march import march
from tintop.race.odds import odds
from tintop.store.demo_garage import write_demo_garage


@pytest.fixture(scope="session")
def demo(tmp_path_factory):
    """The open garage of the demo; nobody writes to it."""
    store = write_demo_garage(tmp_path_factory.mktemp("papers") / "garage", TODAY)
    garage = Garage(store, today=lambda: TODAY)
    yield garage
    garage.close()


@pytest.fixture(scope="session")
def forecast(demo) -> RaceForecast:
    """Twenty minutes with a stop for fuel, marched with the demo's car."""
    described = demo.car()
    event = twenty_minutes(stops=(Stop(at=600.0, standing=60.0, fuel_volume=0.005),), start_fuel_volume=0.012)
    lane = demo_lane(3.0)
    trace = march(described.car, lane, event)
    chances = odds(described.car, lane, event, {}, races=40)
    note = Known(value=600.0, uncertainty=0.0, origin=Origin.DOCUMENTED, note="window 5 to 15 min, article 9")
    return RaceForecast(
        described=described,
        event=DescribedEvent(event=event, known={"race.stops.1.at": note}),
        trace=trace,
        judged=lasting(described.car, event, trace, chances),
        odds=chances,
    )
