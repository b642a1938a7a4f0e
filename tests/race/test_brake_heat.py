from dataclasses import replace

from cars import front_driven_hatchback
from paths import oval
from tintop.car.brake_balance import BrakeAsk
from tintop.event import Event, Race, Weather
from tintop.race.brake_heat import AxleHeat, brake_heat
from tintop.race.march import march_regardless

CAR = front_driven_hatchback()
EVENT = Event(
    name="sprint",
    date="2026-06-20",
    weather=Weather(),
    race=Race(duration=420.0, start_fuel_volume=0.02, formation_laps=1),
)
ASK = BrakeAsk(friction=1.0, front_temp=20.0, rear_temp=20.0)
TRACE = march_regardless(CAR, oval(600.0, 40.0, 10.0), EVENT)


def test_the_balance_follows_the_pads_as_they_heat():
    found = brake_heat("as fitted", CAR, TRACE, ASK)
    assert found.temps[0] > found.temps[1] > EVENT.weather.air_temp
    assert 0.5 < found.share_first < 0.9 and 0.5 < found.share_hottest < 0.9
    assert found.front.disc_peak >= found.front.disc_mean
    assert 0.0 < found.front.pad_left < CAR.brakes.front.pad.thickness
    assert found.fluid_peak < found.fluid_boiling
    assert 20.0 < found.lap_time < 200.0


def test_a_limit_passed_is_said():
    axle = AxleHeat(
        disc_peak=600.0, disc_limit=650.0, disc_mean=450.0, pad_window=(200.0, 600.0),
        friction_first=0.40, friction_hottest=0.42, pad_left=0.003,
    )  # fmt: skip
    assert axle.words == "within limits" and axle.is_within
    assert replace(axle, disc_peak=700.0).words == "disc over its limit"
    assert replace(axle, disc_mean=150.0).words == "pads below their window"
    both = replace(axle, disc_mean=620.0, pad_left=-0.001)
    assert both.words == "pads above their window, pads worn out before the end" and not both.is_within
