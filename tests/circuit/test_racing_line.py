"""Racing lines: in bounds, better than the centre, and right where the answer is known."""

from pathlib import Path as File

import numpy as np
import pytest
from shapes import circle, circuit_of

import tintop
from shared_data import shared
from tintop.circuit.circuit import Circuit, Path
from tintop.circuit.path import path_along
from tintop.circuit.racing_line import minimum_curvature, quickest, room_beside, shortest
from tintop.errors import BadInput
from tintop.store.circuits import read_circuit

CAR = 1.75


def demo() -> Circuit:
    return read_circuit(File(tintop.__path__[0]) / "data/demo/circuit.csv")


def bending(path: Path) -> float:
    return float(np.sum(path.lateral_curvature**2 * path.step))


def time_by_grip(path: Path) -> float:
    """Lap time of a car that only knows 11 m/s² sideways and 55 m/s."""
    slowness = np.sqrt(np.maximum(np.abs(path.lateral_curvature) / 11.0, 1 / 55.0**2))
    return float(np.sum(path.step * slowness))


def stays_in(circuit: Circuit, offset: np.ndarray) -> bool:
    right, left = room_beside(circuit, CAR)
    return bool(np.all(offset >= right - 1e-9) and np.all(offset <= left + 1e-9))


def test_least_curvature_of_a_ring_is_its_outer_edge_and_the_shortest_its_inner() -> None:
    circuit = circuit_of(*circle(100.0), width=12.0)
    room = 6.0 - CAR / 2 - 0.3
    assert minimum_curvature(circuit, CAR) == pytest.approx(np.full(circuit.x.size, -room), abs=0.02)
    assert shortest(circuit, CAR) == pytest.approx(np.full(circuit.x.size, room), abs=0.02)


def test_the_quickest_line_round_a_ring_by_grip_alone_is_the_inner_edge() -> None:
    """Time round a circle at constant lateral acceleration a is 2 pi sqrt(radius / a): least inside."""
    circuit = circuit_of(*circle(100.0), width=12.0)
    room = 6.0 - CAR / 2 - 0.3
    offset = quickest(circuit, CAR, time_by_grip, budget=60)
    assert time_by_grip(path_along(circuit, offset)) == pytest.approx(
        2 * np.pi * np.sqrt((100.0 - room) / 11.0), rel=2e-3
    )


def test_on_the_demo_least_curvature_bends_less_and_stays_on_the_road() -> None:
    circuit = demo()
    offset = minimum_curvature(circuit, CAR)
    assert stays_in(circuit, offset)
    assert bending(path_along(circuit, offset)) < 0.8 * bending(path_along(circuit))


def test_on_the_demo_the_quickest_line_is_no_slower_than_least_curvature() -> None:
    circuit = demo()
    told: list[float] = []
    offset = quickest(circuit, CAR, time_by_grip, told.append, budget=60)
    least = time_by_grip(path_along(circuit, minimum_curvature(circuit, CAR)))
    assert stays_in(circuit, offset)
    assert time_by_grip(path_along(circuit, offset)) <= least - 0.05
    assert told[-1] == 1.0 and told == sorted(told)


@pytest.mark.parametrize("name", ["BrandsHatch", "Norisring", "IMS"])
def test_real_circuits(name: str) -> None:
    circuit = read_circuit(shared(f"circuits_csv_widths/{name}.csv"))
    offset = minimum_curvature(circuit, CAR)
    assert stays_in(circuit, offset)
    assert bending(path_along(circuit, offset)) < bending(path_along(circuit))


def test_a_car_wider_than_the_road_is_refused() -> None:
    with pytest.raises(BadInput, match="wide"):
        minimum_curvature(circuit_of(*circle(), width=2.0), CAR)
