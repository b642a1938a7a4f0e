"""The car on a rough road and under its driver's hands, linear, by frequency; SI, ISO 8855.

Left and right alike: the body heaves and pitches on the mean of the two tracks, rolls on their difference,
and each wheel hangs between its tyre and the body. Every quantity may be an array: dampings [N·s/m at the
wheel] of any shape are answered in one go, with the frequencies along the last axis.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tintop.physics.constants import STANDARD_GRAVITY
from tintop.physics.road_profile import displacement_spectrum, track_coherence

FloatArray = NDArray[np.float64]
ComplexArray = NDArray[np.complex128]

FREQUENCIES: FloatArray = np.geomspace(0.1, 80.0, 220)  # [Hz]


class RideCar(NamedTuple):
    """The car as it rides: masses [kg], inertias of the body [kg·m²], lengths [m], rates at one wheel [N/m].

    `unsprung` is one wheel's; `bar` what the axle holds in roll beyond its wheel rates [N·m/rad]: its
    anti-roll bar, less what springs inboard of a solid axle's wheels lose.
    """

    sprung_mass: float
    pitch_inertia: float
    roll_inertia: float
    cg_to_front: float  # of the sprung mass
    cg_to_rear: float
    track_front: float
    track_rear: float
    unsprung_front: float
    unsprung_rear: float
    wheel_rate_front: float
    wheel_rate_rear: float
    bar_front: float
    bar_rear: float
    tyre_rate_front: float
    tyre_rate_rear: float
    tyre_damping_front: float
    tyre_damping_rear: float

    @property
    def wheelbase(self) -> float:
        """Wheelbase [m]."""
        return self.cg_to_front + self.cg_to_rear

    @property
    def corner_mass_front(self) -> float:
        """Sprung mass on one front wheel [kg]."""
        return 0.5 * self.sprung_mass * self.cg_to_rear / self.wheelbase

    @property
    def corner_mass_rear(self) -> float:
        """Sprung mass on one rear wheel [kg]."""
        return 0.5 * self.sprung_mass * self.cg_to_front / self.wheelbase

    @property
    def static_load_front(self) -> float:
        """Load of one front tyre at rest [N]."""
        return (self.corner_mass_front + self.unsprung_front) * STANDARD_GRAVITY

    @property
    def static_load_rear(self) -> float:
        """Load of one rear tyre at rest [N]."""
        return (self.corner_mass_rear + self.unsprung_rear) * STANDARD_GRAVITY

    @property
    def static_share_front(self) -> float:
        """Share of the weight on the front wheels."""
        return self.static_load_front / (self.static_load_front + self.static_load_rear)


@dataclass(frozen=True, slots=True, kw_only=True)
class Response:
    """How the car answers one input: complex amplitudes per amplitude of it, front and rear one wheel each.

    Tyre loads [N]; suspension travel [m], bump positive; body accelerations about its centre of gravity
    [m/s², rad/s²]; those that the input does not move are zero.
    """

    load_front: ComplexArray
    load_rear: ComplexArray
    travel_front: ComplexArray
    travel_rear: ComplexArray
    heave: ComplexArray
    pitch: ComplexArray
    roll: ComplexArray


class _Axle(NamedTuple):
    """One wheel of an axle at each frequency, and what it passes on."""

    suspension: ComplexArray  # dynamic stiffness of spring, bar and damper [N/m]
    tyre: ComplexArray
    wheel: ComplexArray  # tyre less the wheel's inertia
    from_road: ComplexArray  # force on the body per road height, body held
    from_body: ComplexArray  # force on the body downwards per its rise, road flat


def _axle(
    rate: float,
    damping: FloatArray,
    unsprung: float,
    tyre_rate: float,
    tyre_damping: float,
    omega: FloatArray,
) -> _Axle:
    suspension = np.asarray(rate + 1j * omega * damping, dtype=np.complex128)
    tyre = np.asarray(tyre_rate + 1j * omega * tyre_damping, dtype=np.complex128)
    wheel: ComplexArray = tyre - omega**2 * unsprung
    whole: ComplexArray = wheel + suspension
    return _Axle(suspension, tyre, wheel, suspension * tyre / whole, suspension * wheel / whole)


def _moved(axle: _Axle, body: ComplexArray, road: ComplexArray | float) -> tuple[ComplexArray, ComplexArray]:
    """Tyre load and suspension travel where the body rises by `body` on a road raised by `road`."""
    hub = (axle.tyre * road + axle.suspension * body) / (axle.wheel + axle.suspension)
    return axle.tyre * (road - hub), hub - body


def _both(
    car: RideCar, front: FloatArray, rear: FloatArray, omega: FloatArray, is_rolling: bool
) -> tuple[_Axle, _Axle]:
    bars = (car.bar_front, car.bar_rear) if is_rolling else (0.0, 0.0)
    return (
        _axle(
            car.wheel_rate_front + 2.0 * bars[0] / car.track_front**2,
            front,
            car.unsprung_front,
            car.tyre_rate_front,
            car.tyre_damping_front,
            omega,
        ),
        _axle(
            car.wheel_rate_rear + 2.0 * bars[1] / car.track_rear**2,
            rear,
            car.unsprung_rear,
            car.tyre_rate_rear,
            car.tyre_damping_rear,
            omega,
        ),
    )


def both_sides_alike(
    car: RideCar,
    damping_front: FloatArray,
    damping_rear: FloatArray,
    frequencies: FloatArray,
    road_front: ComplexArray | float = 0.0,
    road_rear: ComplexArray | float = 0.0,
    moment: float = 0.0,
) -> Response:
    """Heave and pitch under road heights alike left and right and a pitching moment on the body [N·m]."""
    omega = 2.0 * np.pi * frequencies
    front, rear = _both(car, _wide(damping_front), _wide(damping_rear), omega, is_rolling=False)
    a, b = car.cg_to_front, car.cg_to_rear
    heave_force = 2.0 * (front.from_road * road_front + rear.from_road * road_rear)
    pitch_moment = moment - 2.0 * (a * front.from_road * road_front - b * rear.from_road * road_rear)
    zz = 2.0 * (front.from_body + rear.from_body) - omega**2 * car.sprung_mass
    zp = -2.0 * (a * front.from_body - b * rear.from_body)
    pp = 2.0 * (a**2 * front.from_body + b**2 * rear.from_body) - omega**2 * car.pitch_inertia
    share = zz * pp - zp * zp
    heave = (heave_force * pp - pitch_moment * zp) / share
    pitch = (pitch_moment * zz - heave_force * zp) / share
    load_front, travel_front = _moved(front, heave - a * pitch, road_front)
    load_rear, travel_rear = _moved(rear, heave + b * pitch, road_rear)
    return Response(
        load_front=load_front,
        load_rear=load_rear,
        travel_front=travel_front,
        travel_rear=travel_rear,
        heave=-(omega**2) * heave,
        pitch=-(omega**2) * pitch,
        roll=np.zeros_like(heave),
    )


def one_side_against_the_other(
    car: RideCar,
    damping_front: FloatArray,
    damping_rear: FloatArray,
    frequencies: FloatArray,
    road_front: ComplexArray | float = 0.0,
    road_rear: ComplexArray | float = 0.0,
    moment: float = 0.0,
) -> Response:
    """Roll, left wheels: heights +road on the left and −road on the right, and a moment on the body [N·m]."""
    omega = 2.0 * np.pi * frequencies
    front, rear = _both(car, _wide(damping_front), _wide(damping_rear), omega, is_rolling=True)
    half_front, half_rear = 0.5 * car.track_front, 0.5 * car.track_rear
    roll_moment = moment + 2.0 * (
        half_front * front.from_road * road_front + half_rear * rear.from_road * road_rear
    )
    resists = 2.0 * (half_front**2 * front.from_body + half_rear**2 * rear.from_body)
    roll = roll_moment / (resists - omega**2 * car.roll_inertia)
    load_front, travel_front = _moved(front, half_front * roll, road_front)
    load_rear, travel_rear = _moved(rear, half_rear * roll, road_rear)
    return Response(
        load_front=load_front,
        load_rear=load_rear,
        travel_front=travel_front,
        travel_rear=travel_rear,
        heave=np.zeros_like(roll),
        pitch=np.zeros_like(roll),
        roll=-(omega**2) * roll,
    )


def _wide(damping: FloatArray) -> FloatArray:
    return np.asarray(damping, dtype=float)[..., None]


@dataclass(frozen=True, slots=True, kw_only=True)
class RoadAnswer:
    """R.m.s. of one wheel or the body on a road; `seat` is the spectrum at the seat's floor [(m/s²)²/Hz].

    Loads [N], travel [m], speed of suspension travel [m/s], accelerations [m/s², rad/s²].
    """

    load_front: FloatArray
    load_rear: FloatArray
    travel_front: FloatArray
    travel_rear: FloatArray
    speed_front: FloatArray
    speed_rear: FloatArray
    heave: FloatArray
    pitch: FloatArray
    roll: FloatArray
    seat: FloatArray


def on_road(
    car: RideCar,
    damping_front: FloatArray,
    damping_rear: FloatArray,
    roughness: float,
    speed: float,
    seat: tuple[float, float] = (0.0, 0.0),
    frequencies: FloatArray = FREQUENCIES,
) -> RoadAnswer:
    """R.m.s. on a road of Gd(n0) = `roughness` [m³] at a speed [m/s]; rear wheels follow the front.

    `seat` lies (forward, left) of the sprung mass's centre of gravity [m]. Source: random vibration of linear
    systems, M. Mitschke and H. Wallentowitz, Dynamik der Kraftfahrzeuge, 2004 (from memory).
    """
    spatial = frequencies / speed
    whole = displacement_spectrum(spatial, roughness) / speed
    coherence = track_coherence(spatial, 0.5 * (car.track_front + car.track_rear))
    delay = np.exp(-2j * np.pi * frequencies * car.wheelbase / speed)
    alike = both_sides_alike(car, damping_front, damping_rear, frequencies, 1.0, delay)
    against = one_side_against_the_other(car, damping_front, damping_rear, frequencies, 1.0, delay)
    share_alike, share_against = 0.5 * (1.0 + coherence) * whole, 0.5 * (1.0 - coherence) * whole

    def spectrum(one: ComplexArray, other: ComplexArray) -> FloatArray:
        power: FloatArray = share_alike * _square(one) + share_against * _square(other)
        return power

    omega = 2.0 * np.pi * frequencies
    travel_front = spectrum(alike.travel_front, against.travel_front)
    travel_rear = spectrum(alike.travel_rear, against.travel_rear)
    return RoadAnswer(
        load_front=_rms(spectrum(alike.load_front, against.load_front), frequencies),
        load_rear=_rms(spectrum(alike.load_rear, against.load_rear), frequencies),
        travel_front=_rms(travel_front, frequencies),
        travel_rear=_rms(travel_rear, frequencies),
        speed_front=_rms(omega**2 * travel_front, frequencies),
        speed_rear=_rms(omega**2 * travel_rear, frequencies),
        heave=_rms(share_alike * _square(alike.heave), frequencies),
        pitch=_rms(share_alike * _square(alike.pitch), frequencies),
        roll=_rms(share_against * _square(against.roll), frequencies),
        seat=spectrum(alike.heave - seat[0] * alike.pitch, seat[1] * against.roll),
    )


class Handling(NamedTuple):
    """What the driver asks of the car: r.m.s. accelerations [m/s²], how often and how fast it changes.

    `changes` is how often a second the demand changes at random, `lag` the time it takes to build up [s].
    """

    along: float
    across: float
    changes: float
    lag: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Swing:
    """R.m.s. of what the tyre loads swing beyond the steady transfer [N], and of the travel's speed [m/s]."""

    load_front: FloatArray
    load_rear: FloatArray
    speed_front: FloatArray
    speed_rear: FloatArray


def body_swing(
    car: RideCar,
    damping_front: FloatArray,
    damping_rear: FloatArray,
    handling: Handling,
    pitch_arm: float,
    roll_arm: float,
    frequencies: FloatArray = FREQUENCIES,
) -> Swing:
    """How far the body's over- and undershoot moves the tyre loads off the steady load transfer.

    The demand changes at random instants (a telegraph signal) through a lag of the first order; the moment is
    sprung mass × acceleration × arm [m] (pitch: height of the centre of gravity above what anti-dive carries;
    roll: above the roll axis). Source: S. O. Rice, Bell System Tech. J. 23 (1944), spectrum of the random
    telegraph signal (from memory).
    """
    omega = 2.0 * np.pi * frequencies
    turnover = 2.0 * handling.changes
    demand = 4.0 * turnover / (turnover**2 + omega**2) / (1.0 + (omega * handling.lag) ** 2)
    along = handling.along**2 * demand * (car.sprung_mass * pitch_arm) ** 2
    across = handling.across**2 * demand * (car.sprung_mass * roll_arm) ** 2
    pitched = both_sides_alike(car, damping_front, damping_rear, frequencies, moment=1.0)
    rolled = one_side_against_the_other(car, damping_front, damping_rear, frequencies, moment=1.0)
    at_rest = np.array([1e-4])
    pitched_steadily = both_sides_alike(car, damping_front, damping_rear, at_rest, moment=1.0)
    rolled_steadily = one_side_against_the_other(car, damping_front, damping_rear, at_rest, moment=1.0)

    def swing(
        pitch: ComplexArray, pitch_rest: ComplexArray, roll: ComplexArray, roll_rest: ComplexArray
    ) -> FloatArray:
        return _rms(along * _square(pitch - pitch_rest) + across * _square(roll - roll_rest), frequencies)

    def speed(pitch: ComplexArray, roll: ComplexArray) -> FloatArray:
        return _rms(omega**2 * (along * _square(pitch) + across * _square(roll)), frequencies)

    return Swing(
        load_front=swing(
            pitched.load_front, pitched_steadily.load_front, rolled.load_front, rolled_steadily.load_front
        ),
        load_rear=swing(
            pitched.load_rear, pitched_steadily.load_rear, rolled.load_rear, rolled_steadily.load_rear
        ),
        speed_front=speed(pitched.travel_front, rolled.travel_front),
        speed_rear=speed(pitched.travel_rear, rolled.travel_rear),
    )


def _square(amplitude: ComplexArray) -> FloatArray:
    power: FloatArray = amplitude.real**2 + amplitude.imag**2
    return power


def _rms(spectrum: FloatArray, frequencies: FloatArray) -> FloatArray:
    rms: FloatArray = np.sqrt(np.trapezoid(spectrum, frequencies, axis=-1))
    return rms
