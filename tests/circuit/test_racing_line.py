"""Racing lines: in bounds, better than the centre, and right where the answer is known."""

from pathlib import Path as File

import numpy as np
import pytest
from shapes import circle, circuit_of

import tintop
from shared_data import shared
from tintop.circuit.circuit import Circuit, Path
from tintop.circuit.path import path_along
from tintop.circuit.racing_line import minimum_curvature, room_beside, shortest
from tintop.errors import BadInput
from tintop.store.circuits import read_circuit

CAR = 1.75


def demo() -> Circuit:
    return read_circuit(File(tintop.__path__[0]) / "data/demo/circuit.csv")


def bending(path: Path) -> float:
    return float(np.sum(path.lateral_curvature**2 * path.step))


def stays_in(circuit: Circuit, offset: np.ndarray) -> bool:
    right, left = room_beside(circuit, CAR)
    return bool(np.all(offset >= right - 1e-9) and np.all(offset <= left + 1e-9))


def test_least_curvature_of_a_ring_is_its_outer_edge_and_the_shortest_its_inner() -> None:
    circuit = circuit_of(*circle(100.0), width=12.0)
    room = 6.0 - CAR / 2 - 0.3
    assert minimum_curvature(circuit, CAR) == pytest.approx(np.full(circuit.x.size, -room), abs=0.02)
    assert shortest(circuit, CAR) == pytest.approx(np.full(circuit.x.size, room), abs=0.02)


def test_on_the_demo_least_curvature_bends_less_and_stays_on_the_road() -> None:
    circuit = demo()
    offset = minimum_curvature(circuit, CAR)
    assert stays_in(circuit, offset)
    assert bending(path_along(circuit, offset)) < 0.8 * bending(path_along(circuit))


@pytest.mark.parametrize("name", ["BrandsHatch", "Norisring", "IMS"])
def test_real_circuits(name: str) -> None:
    circuit = read_circuit(shared(f"circuits_csv_widths/{name}.csv"))
    offset = minimum_curvature(circuit, CAR)
    assert stays_in(circuit, offset)
    assert bending(path_along(circuit, offset)) < bending(path_along(circuit))


def test_a_car_wider_than_the_road_is_refused() -> None:
    with pytest.raises(BadInput, match="wide"):
        minimum_curvature(circuit_of(*circle(), width=2.0), CAR)
