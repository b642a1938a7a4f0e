"""The demo's cars, weather and circuit as the lap takes them."""

from dataclasses import replace
from functools import cache

import numpy as np

from tintop.car.car import Car
from tintop.circuit.circuit import Circuit, Path
from tintop.circuit.path import path_along
from tintop.event import Weather
from tintop.store.circuits import read_circuit
from tintop.store.demo import demo_path
from tintop.store.documents.car_reader import read_car
from tintop.store.documents.event_reader import read_event

CARS = ("car.toml", "second_car.toml")


@cache
def demo_car(name: str = "car.toml") -> Car:
    return read_car(demo_path(name)).car


@cache
def demo_circuit(step: float = 1.0) -> Circuit:
    return read_circuit(demo_path("circuit.csv"), step=step)


@cache
def demo_lane(step: float = 1.0) -> Path:
    """The centre line of the demo circuit, with its heights and banking."""
    return path_along(demo_circuit(step))


@cache
def demo_weather() -> Weather:
    return read_event(demo_path("event.toml")).event.weather


def mirrored(path: Path) -> Path:
    """The same path with left and right swapped."""
    return replace(
        path,
        y=-path.y,
        lateral_curvature=-path.lateral_curvature,
        gravity_y=-path.gravity_y,
        offset=-path.offset,
    )


def flat(path: Path) -> Path:
    """The same path without grade, banking and vertical curvature."""
    zero = np.zeros_like(path.z)
    return replace(
        path,
        z=zero,
        normal_curvature=zero,
        gravity_x=zero,
        gravity_y=zero,
        gravity_z=np.full_like(path.z, 9.80665),
    )
