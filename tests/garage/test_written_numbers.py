import pytest

from tintop.garage.written_numbers import written_number


def plain(path: str, value: float, uncertainty: float, **units: str) -> tuple[str, str]:
    written, doubt = written_number(
        path, value, uncertainty, {k.replace("_", " "): v for k, v in units.items()}
    )
    return written.replace("\u202f", " "), doubt.replace("\u202f", " ")


@pytest.mark.parametrize(
    ("path", "value", "doubt", "words"),
    [
        ("race.duration", 7200.0, 5.0, ("2 h", "±0.0014 h")),
        ("race.start_fuel_volume", 0.051, 0.0005, ("51 L", "±0.5 L")),
        ("race.stops.1.at", 3720.0, 240.0, ("62 min", "±4 min")),
        ("race.safety_car_length", 480.0, 180.0, ("8 min", "±3 min")),
        ("race.stops.1.standing", 120.0, 3.0, ("120 s", "±3 s")),
        ("suspension.roll_stiffness_rear", 63598.0, 7450.0, ("1110 N·m/deg", "±130 N·m/deg")),
        ("tyre_front.camber_best", -0.02618, 0.00873, ("−1.5 deg", "±0.5 deg")),
        ("brakes.front.pad.thickness", 0.0079, 0.0002, ("7.9 mm", "±0.2 mm")),
        ("dimensions.wheelbase", 2.6, 0.01, ("2.6 m", "±0.01 m")),
        ("weather.air_temp", 25.0, 3.0, ("25 °C", "±3 °C")),
        ("cooling.traffic_air_warmer", 5.0, 2.0, ("5 K", "±2 K")),
        ("race.traffic_share", 0.18, 0.07, ("18 %", "±7 %")),
        ("engine.torques", 1.0, 0.03, ("100 %", "±3 %")),
        ("gearbox.ratios.3", 1.36, 0.0, ("1.36", "±0")),
        ("engine.limiter_speed", 733.0383, 5.2360, ("7000 rpm", "±50 rpm")),
        ("tyre_rear.carcass_heat_capacity", 11000.0, 2500.0, ("11000 J/K", "±2500 J/K")),
    ],
)
def test_every_kind_of_number_in_its_unit(path, value, doubt, words):
    assert plain(path, value, doubt) == words


def test_the_owners_units_and_a_difference_without_its_offset():
    assert plain("weather.air_temp", 25.0, 5.0, temperature="°F") == ("77 °F", "±9 °F")
    assert plain("masses.car", 1000.0, 1.0, mass="lb") == ("2205 lb", "±2.2 lb")
