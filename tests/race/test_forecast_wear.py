from dataclasses import replace

import numpy as np
import pytest

from cars import front_driven_hatchback
from events import twenty_minutes
from paths import club_circuit
from tintop.car.described import DescribedCar
from tintop.car.numbers import numbers_of
from tintop.event import Stop
from tintop.known import Known, Origin
from tintop.logbook.entries import Measure
from tintop.race.forecast_wear import forecast_wear
from tintop.race.march import march

CAR = front_driven_hatchback()
DESCRIBED = DescribedCar(
    car=CAR,
    known={
        path: Known(value=value, uncertainty=0.25 * abs(value), origin=Origin.ASSUMED)
        for path, value in numbers_of(CAR).items()
    },
    assumed_choices={},
)


@pytest.fixture(scope="module")
def trace():
    return march(CAR, club_circuit(step=4.0), twenty_minutes())


def test_what_is_used_is_what_is_gone_at_the_end(trace):
    used = forecast_wear(DESCRIBED, trace).used
    front, rear = CAR.brakes.front, CAR.brakes.rear
    pads = np.array([front.pad.thickness] * 2 + [rear.pad.thickness] * 2)
    discs = np.array([front.disc_thickness] * 2 + [rear.disc_thickness] * 2)
    treads = np.array([CAR.tyre_front.tread_depth] * 2 + [CAR.tyre_rear.tread_depth] * 2)
    np.testing.assert_allclose(used[Measure.PAD_THICKNESS], pads - trace.pad_thickness[-1], rtol=1e-9)
    np.testing.assert_allclose(used[Measure.DISC_THICKNESS], discs - trace.disc_thickness[-1], rtol=1e-9)
    np.testing.assert_allclose(used[Measure.TREAD_DEPTH], treads - trace.tread_depth[-1], rtol=1e-9)
    assert min(used[Measure.PAD_THICKNESS]) > 0.0


def test_running_is_the_laps_without_the_stops(trace):
    assert forecast_wear(DESCRIBED, trace).running == pytest.approx(trace.lap_time.sum())


def test_doubt_is_that_of_the_wear_rates(trace):
    assert forecast_wear(DESCRIBED, trace).doubt[Measure.TREAD_DEPTH] == pytest.approx((0.25,) * 4)


def test_new_pads_at_a_stop_are_counted_with_the_old():
    """Three laps by hand: 12 to 11 mm, new pads, 12 to 10.5 and to 10 mm: 3 mm in all at the front left."""
    event = twenty_minutes()
    trace = march(CAR, club_circuit(step=4.0), event)
    new = CAR.brakes.front.pad.thickness
    left = np.tile(np.array([[new - 0.001], [new - 0.0015], [new - 0.002]]), (1, 4))
    made = replace(
        trace,
        pad_thickness=left,
        disc_thickness=trace.disc_thickness[:3],
        tread_depth=trace.tread_depth[:3],
        stops_made=((1, Stop(at=60.0, standing=300.0, new_pads=True)),),
    )
    assert forecast_wear(DESCRIBED, made).used[Measure.PAD_THICKNESS][0] == pytest.approx(0.003)
