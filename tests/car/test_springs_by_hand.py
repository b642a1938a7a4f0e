"""The worked example of docs/theory/springs_and_bars.md, repeated by the product's own formulae."""

import math
import re
from pathlib import Path

import pytest

from tintop.physics.four_wheels import Axle, Vehicle
from tintop.physics.load_transfer import AxleMoments, axle_moments, cg_behind_front_axle
from tintop.physics.ride import (
    force_at_droop,
    ride_frequency,
    ride_rate,
    roll_stiffness_of_springs,
    spring_force,
    wheel_rate,
)
from tintop.physics.steady_corner import axle_limit

PAGE = Path(__file__).parents[2] / "docs" / "theory" / "springs_and_bars.md"
ROW = re.compile(r"^\| ([^|]+) \| [^|]+ \| ([\d.]+) (\S+) \|$", re.MULTILINE)
G, MASS, SHARE, WHEELBASE = 9.81, 1150.0, 0.60, 2.56
UNSPRUNG, TRACK, CENTRE, DROOP = (76.0, 62.0), (1.476, 1.468), (0.05, 0.11), (0.058, 0.050)
SPRING, BAR, RATIO, TYRE = (70e3, 78.8e3), (171.0, 300.0), 0.78, 200e3


def by_the_product() -> dict[str, float]:
    """Every result of the table, in the table's units."""
    sprung = MASS - sum(UNSPRUNG)
    behind = (MASS * cg_behind_front_axle(WHEELBASE, SHARE) - UNSPRUNG[1] * WHEELBASE) / sprung
    rear = behind / WHEELBASE
    shares = (1.0 - rear, rear)
    corners = [0.5 * sprung * share for share in shares]
    wheels = [wheel_rate(rate, RATIO) for rate in SPRING]
    rides = [ride_rate(rate, TYRE) for rate in wheels]
    springs = [roll_stiffness_of_springs(rate, track) for rate, track in zip(wheels, TRACK, strict=True)]
    bars = [math.degrees(one) for one in BAR]
    tyres = [roll_stiffness_of_springs(TYRE, track) for track in TRACK]
    axles = [ride_rate(s + b, t) for s, b, t in zip(springs, bars, tyres, strict=True)]
    height = (MASS * 0.45 - sum(UNSPRUNG) * 0.30) / sprung
    arm = height - sum(share * centre for share, centre in zip(shares, CENTRE, strict=True))
    lean = sprung * arm / (sum(axles) - sprung * G * arm)
    front, back = (
        axle_moments(
            roll_stiffness=axles[end],
            roll_per_acceleration=lean,
            sprung_mass=sprung * shares[end],
            roll_centre_height=CENTRE[end],
            unsprung_mass=UNSPRUNG[end],
            unsprung_height=0.30,
            track=TRACK[end],
        )
        for end in (0, 1)
    )
    hanging = [
        force_at_droop(spring_force(corners[end] * G, RATIO), SPRING[end], RATIO, DROOP[end])
        for end in (0, 1)
    ]
    return {
        "front wheel rate": 1e-3 * wheels[0],
        "front ride rate": 1e-3 * rides[0],
        "sprung mass": sprung,
        "its centre behind the front axle": behind,
        "front sprung corner": corners[0],
        "front ride frequency": ride_frequency(rides[0], corners[0]),
        "rear ride frequency": ride_frequency(rides[1], corners[1]),
        "front roll by springs": springs[0],
        "front roll by bar": bars[0],
        "front roll stiffness": axles[0],
        "rear roll stiffness": axles[1],
        "arm above the roll axis": arm,
        "lean per g": math.degrees(lean * G),
        "front load moved at 1 g": G * front.transfer,
        "rear load moved at 1 g": G * back.transfer,
        "front share of the load moved": 100.0 * front.transfer / (front.transfer + back.transfer),
        "front spring, wheel hanging": hanging[0],
        "rear spring loose": -1e3 * hanging[1] / SPRING[1],
        "rear axle slides, undriven": undriven_limit(back) / G,
    }


def undriven_limit(moments: AxleMoments) -> float:
    """Where the example's rear axle slides by the kernel, drag and pitch left out."""
    plain = Axle(
        track=moments.track,
        transfer=moments.transfer,
        lift=0.0,
        friction_x_left=1.2,
        friction_x_right=1.2,
        friction_y_left=1.2,
        friction_y_right=1.2,
        grip_offset=1.1,
        grip_slope=-0.1 / 3000.0,
        camber=0.0,
        camber_per_acceleration=0.0,
        camber_best=0.0,
        camber_loss=0.0,
        slide_slip=0.1,
        rolling_resistance=0.0,
        drive_share=0.0,
        brake_share=0.5,
    )
    car = Vehicle(
        mass=MASS,
        wheelbase=WHEELBASE,
        rear_load_share=1.0 - SHARE,
        height_share=0.0,
        drag=0.0,
        front=plain._replace(transfer=0.0, drive_share=1.0),
        rear=plain,
        lock_share=0.0,
        lock_force=0.0,
        brake_force=1e4,
        rolling_mass=0.0,
        shift_time=0.0,
        lowest_friction=1.2,
    )
    return axle_limit(car, 20.0, G, False)


def test_the_worked_example_comes_out_as_written() -> None:
    written = {name: value for name, value, _ in ROW.findall(PAGE.read_text("utf-8"))}
    computed = by_the_product()
    assert set(written) == set(computed)
    for name, value in written.items():
        decimals = len(value.partition(".")[2])
        half_a_digit = 0.5 * 10.0**-decimals
        assert computed[name] == pytest.approx(float(value), abs=1.01 * half_a_digit), name
