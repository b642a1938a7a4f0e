"""The lap against an independent optimum of the same problem."""

import pytest

from oracle import GRAVITY, Stated, kernel_lap, optimised_lap
from tintop import garage
from tintop.circuit.path import path_along
from tintop.lap.vehicle import road_of
from tintop.physics.four_wheels import Road
from tintop.store.circuits import read_circuit

pytest.importorskip("casadi", reason="the oracle needs CasADi: install the extra named oracle")


def level(step: float) -> Road:
    """The demo circuit as if it were flat."""
    road = road_of(path_along(read_circuit(garage.demo_path("circuit.csv"), step=step)))
    nothing = 0.0 * road.step
    return road._replace(
        normal_curvature=nothing, gravity_x=nothing, gravity_y=nothing, gravity_z=nothing + GRAVITY
    )


@pytest.mark.parametrize(
    "car",
    [Stated.point(), Stated(), Stated(drive_front=0.0, rear_share=0.47, brake_front=0.64)],
    ids=["point mass", "single track, front drive", "single track, rear drive"],
)
def test_agrees_with_the_optimum_within_half_a_percent(car: Stated) -> None:
    road = level(3.0)
    ours, _ = kernel_lap(car, road)
    optimum, _ = optimised_lap(car, road)
    assert ours == pytest.approx(optimum, rel=5e-3)
