import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from published import check
from tintop.physics import single_track
from tintop.physics.single_track import SingleTrack

cars = st.builds(
    SingleTrack,
    st.floats(700.0, 2000.0),
    st.floats(800.0, 3500.0),
    st.floats(1.0, 1.6),
    st.floats(1.0, 1.6),
    st.floats(6e4, 2e5),
    st.floats(6e4, 2e5),
)


@pytest.mark.parametrize("case_id", ["V2-01", "V2-02", "V2-03", "V2-04"])
def test_published_case(case_id):
    check(case_id)


def _matrix(car: SingleTrack, speed: float) -> np.ndarray:
    front, rear = car.stiffness_front, car.stiffness_rear
    a, b = car.cg_to_front, car.cg_to_rear
    return np.array(
        [
            [-(front + rear) / (car.mass * speed), (b * rear - a * front) / (car.mass * speed) - speed],
            [
                (b * rear - a * front) / (car.yaw_inertia * speed),
                -(a * a * front + b * b * rear) / (car.yaw_inertia * speed),
            ],
        ]
    )


@given(cars, st.floats(5.0, 70.0))
def test_eigenvalues_are_those_of_the_two_state_matrix(car, speed):
    first, second = single_track.eigenvalues(car, speed)
    matrix = _matrix(car, speed)
    assert first.real >= second.real - 1e-9
    assert abs(first + second - np.trace(matrix)) < 1e-9 * abs(np.trace(matrix))
    for root in (first, second):
        residue = np.linalg.det(matrix - root * np.eye(2))
        assert abs(residue) < 1e-8 * (abs(root) ** 2 + np.trace(matrix) ** 2)


@given(cars)
def test_only_an_oversteering_car_has_a_critical_speed(car):
    gradient = single_track.gradient_of(car)
    speed = single_track.characteristic_speed(car.wheelbase, gradient)
    if gradient < -1e-6:
        assert single_track.eigenvalues(car, 1.02 * speed)[0].real > 0.0
        assert single_track.eigenvalues(car, 0.98 * speed)[0].real < 0.0
    elif gradient > 1e-6 and speed < 300.0:
        assert single_track.yaw_gain(car.wheelbase, speed, gradient) == pytest.approx(
            speed / car.wheelbase / 2.0
        )
        assert single_track.eigenvalues(car, 100.0)[0].real < 0.0


@given(cars)
def test_gradient_and_static_margin_have_one_sign(car):
    gradient = single_track.gradient_of(car)
    margin = single_track.static_margin(
        car.cg_to_front, car.wheelbase, car.stiffness_front, car.stiffness_rear
    )
    if abs(margin) > 1e-9:
        assert (gradient > 0.0) == (margin > 0.0)


@given(cars, st.floats(5.0, 50.0), st.floats(20.0, 300.0))
def test_steady_corner_balances_the_two_axles(car, speed, radius):
    """The steer and sideslip of the formulae put exactly the force of the corner on each axle."""
    gradient = single_track.gradient_of(car)
    side = speed**2 / radius
    steer = single_track.steer_angle(car.wheelbase, radius, gradient, side)
    load_rear = car.mass * 9.81 * car.cg_to_front / car.wheelbase
    slip = single_track.sideslip(radius, speed, car.cg_to_rear, load_rear, car.stiffness_rear, 9.81)
    yaw_rate = speed / radius
    front = car.stiffness_front * (steer - slip - car.cg_to_front * yaw_rate / speed)
    rear = car.stiffness_rear * (-slip + car.cg_to_rear * yaw_rate / speed)
    assert front + rear == pytest.approx(car.mass * side, rel=1e-6)
    assert car.cg_to_front * front == pytest.approx(car.cg_to_rear * rear, rel=1e-6)
