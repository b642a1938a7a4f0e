"""The worked example of docs/theory/dampers_and_ride.md: its figures are read there and found again."""

import math
import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from setups_by_hand import car_by_hand
from tintop.car.ride_quality import grip_kept
from tintop.physics.damper_curves import critical_damping
from tintop.physics.ride import ride_frequency, ride_rate
from tintop.physics.ride_frequency import FREQUENCIES, RideCar, both_sides_alike
from tintop.physics.road_profile import RoadClass, displacement_spectrum

PAGE = Path(__file__).parents[2] / "docs" / "theory" / "dampers_and_ride.md"
EXAMPLE = PAGE.read_text("utf-8").split("## By hand: one corner")[1]
BOLD = [float(each) for each in re.findall(r"\*\*(\d[\d.]*)", EXAMPLE)]
MASS, UNSPRUNG, RATE, DAMPING, TYRE = 240.0, 38.0, 25e3, 1500.0, 2e5
CAR = RideCar(
    4.0 * MASS, 4.0 * MASS * 1.25**2, 540.0, 1.25, 1.25, 1.5, 1.5, UNSPRUNG, UNSPRUNG, RATE, RATE, 0.0, 0.0,
    TYRE, TYRE, 0.0, 0.0,
)  # fmt: skip


def test_the_page_states_these_figures():
    for words in ("240 kg", "38 kg", "25 kN/m", "1,500 N·s/m", "200 kN/m"):
        assert words in EXAMPLE
    assert len(BOLD) == 6


def test_ratio_and_frequencies():
    ratio, body, hop = BOLD[:3]
    assert DAMPING / critical_damping(RATE, MASS) == pytest.approx(ratio, abs=5e-4)
    assert ride_frequency(ride_rate(RATE, TYRE), MASS) == pytest.approx(body, abs=5e-3)
    assert ride_frequency(RATE + TYRE, UNSPRUNG) == pytest.approx(hop, abs=0.05)


def test_body_by_road_at_one_and_a_half_hertz():
    frequency = np.array([1.5])
    found = both_sides_alike(CAR, np.array(DAMPING), np.array(DAMPING), frequency, 1.0, 1.0)
    assert abs(found.heave[0]) / (2.0 * math.pi * 1.5) ** 2 == pytest.approx(BOLD[3], abs=5e-3)


def test_body_acceleration_on_class_c():
    road = displacement_spectrum(FREQUENCIES / 30.0, RoadClass.C.roughness) / 30.0
    found = both_sides_alike(CAR, np.array(DAMPING), np.array(DAMPING), FREQUENCIES, 1.0, 1.0)
    rms = math.sqrt(np.trapezoid(np.abs(found.heave) ** 2 * road, FREQUENCIES))
    assert rms == pytest.approx(BOLD[4], abs=0.01)


def test_grip_kept():
    tyre = replace(car_by_hand().tyre_front, load_sensitivity=-0.1, reference_load=3000.0)
    load = (MASS + UNSPRUNG) * 9.80665
    assert grip_kept(tyre, load, 0.2) == pytest.approx(BOLD[5], abs=5e-5)
