"""Cars for the tests of ride: an ordinary hatchback, one that only heaves, and random ones."""

import numpy as np
from hypothesis import strategies as st

from tintop.physics.ride_frequency import RideCar

HATCHBACK = RideCar(
    sprung_mass=900.0,
    pitch_inertia=1300.0,
    roll_inertia=330.0,
    cg_to_front=1.05,
    cg_to_rear=1.50,
    track_front=1.48,
    track_rear=1.46,
    unsprung_front=40.0,
    unsprung_rear=38.0,
    wheel_rate_front=26e3,
    wheel_rate_rear=24e3,
    bar_front=9e3,
    bar_rear=12e3,
    tyre_rate_front=2.2e5,
    tyre_rate_rear=2.1e5,
    tyre_damping_front=80.0,
    tyre_damping_rear=60.0,
)
EVEN = HATCHBACK._replace(
    cg_to_front=1.25,
    cg_to_rear=1.25,
    unsprung_front=38.0,
    unsprung_rear=38.0,
    wheel_rate_front=25e3,
    wheel_rate_rear=25e3,
    tyre_rate_front=2.1e5,
    tyre_rate_rear=2.1e5,
    tyre_damping_front=0.0,
    tyre_damping_rear=0.0,
    track_front=1.46,
)


@st.composite
def cars(draw: st.DrawFn) -> RideCar:
    """Any saloon."""
    between = lambda low, high: draw(st.floats(low, high))  # noqa: E731
    return RideCar(
        sprung_mass=between(600, 1500),
        pitch_inertia=between(700, 2500),
        roll_inertia=between(200, 700),
        cg_to_front=between(0.9, 1.5),
        cg_to_rear=between(0.9, 1.6),
        track_front=between(1.3, 1.6),
        track_rear=between(1.3, 1.6),
        unsprung_front=between(25, 60),
        unsprung_rear=between(25, 60),
        wheel_rate_front=between(12e3, 9e4),
        wheel_rate_rear=between(12e3, 9e4),
        bar_front=between(0, 4e4),
        bar_rear=between(0, 4e4),
        tyre_rate_front=between(1.5e5, 3e5),
        tyre_rate_rear=between(1.5e5, 3e5),
        tyre_damping_front=between(0, 300),
        tyre_damping_rear=between(0, 300),
    )


def quarter_car(frequency, mass, unsprung, rate, damping, tyre):
    """Body and wheel per road height: J. Y. Wong, Theory of Ground Vehicles, quarter car (from memory)."""
    s = 2j * np.pi * frequency
    spring = rate + damping * s
    whole = (mass * s**2 + spring) * (unsprung * s**2 + spring + tyre) - spring**2
    return spring * tyre / whole, (mass * s**2 + spring) * tyre / whole


def state_matrices(car: RideCar, front: float, rear: float):
    """Seven motions from forces, corner by corner: another way round than the product's two halves."""
    mass = np.diag([
        car.sprung_mass, car.pitch_inertia, car.roll_inertia,
        car.unsprung_front, car.unsprung_front, car.unsprung_rear, car.unsprung_rear,
    ])  # fmt: skip
    stiffness, damping = np.zeros((7, 7)), np.zeros((7, 7))
    places = [
        (car.cg_to_front, 0.5 * car.track_front), (car.cg_to_front, -0.5 * car.track_front),
        (-car.cg_to_rear, 0.5 * car.track_rear), (-car.cg_to_rear, -0.5 * car.track_rear),
    ]  # fmt: skip
    levers = []
    for wheel, (x, y) in enumerate(places):
        lever = np.zeros(7)
        lever[:3] = -1.0, x, -y
        lever[3 + wheel] = 1.0
        levers.append(lever)
        is_front = wheel < 2
        hub = np.zeros(7)
        hub[3 + wheel] = 1.0
        rate, damper = (car.wheel_rate_front, front) if is_front else (car.wheel_rate_rear, rear)
        stiffness += rate * np.outer(lever, lever)
        damping += damper * np.outer(lever, lever)
        tyre = (
            (car.tyre_rate_front, car.tyre_damping_front)
            if is_front
            else (car.tyre_rate_rear, car.tyre_damping_rear)
        )
        stiffness += tyre[0] * np.outer(hub, hub)
        damping += tyre[1] * np.outer(hub, hub)
    for first, bar, track in ((0, car.bar_front, car.track_front), (2, car.bar_rear, car.track_rear)):
        twist = (levers[first] - levers[first + 1]) / track
        stiffness += bar * np.outer(twist, twist)
    return mass, damping, stiffness
