"""Which axle slides first at a steady speed on a flat road, and how much steer the car asks for before."""

import math
from dataclasses import dataclass

from tintop.car.body_roll import body_roll
from tintop.car.car import Car
from tintop.event import Weather
from tintop.lap.conditions import Conditions
from tintop.lap.vehicle import GRAVITY, numbers_for
from tintop.physics.four_wheels import Vehicle
from tintop.physics.steady_corner import axle_limit, axle_slips

_GENTLE = 4.0  # where the understeer gradient is read [m/s²]; half the limit where that is less
_HALF_STEP = 0.1  # [m/s²]
_NEUTRAL = 0.005  # of the limit, either way; common practice, no source


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitBalance:
    """A steady corner at `speed` [m/s]: where front and rear slide [m/s²], and what that makes of the car.

    `balance` = (rear - front limit) ÷ the lower of the two, positive = understeer; `roll` of the body at the
    lower limit [rad]; `understeer_gradient` is the steer asked for per lateral acceleration [rad/(m/s²)] in
    gentle driving, positive = understeer.
    """

    speed: float
    front_limit: float
    rear_limit: float
    balance: float
    roll: float
    understeer_gradient: float

    @property
    def limit(self) -> float:
        """The most the car does [m/s²]: the lower of both axles."""
        return min(self.front_limit, self.rear_limit)

    @property
    def words(self) -> str:
        """The balance in a word of the paddock."""
        if abs(self.balance) <= _NEUTRAL:
            return "neutral"
        return "understeer" if self.balance > 0.0 else "oversteer"


def limit_balance(
    car: Car, weather: Weather, speed: float, conditions: Conditions | None = None
) -> LimitBalance:
    """Give the balance at a steady speed [m/s] with the lap's own tyres; BadInput as numbers_for.

    The rear's limit beyond the front's is what the rear would hold were the front to hold too, and the other
    way round. Source: four_wheels; slip as Pacejka's brush model (from memory).
    """
    conditions = conditions or Conditions()
    vehicle = numbers_for(car, weather, conditions).vehicle
    speed = float(speed)  # a kernel is compiled once for each kind of number
    front = axle_limit(vehicle, speed, GRAVITY, True)
    rear = axle_limit(vehicle, speed, GRAVITY, False)
    least = min(front, rear)
    return LimitBalance(
        speed=speed,
        front_limit=front,
        rear_limit=rear,
        balance=(rear - front) / least if least > 0.0 else 0.0,
        roll=body_roll(car, conditions.fuel_mass).roll_per_acceleration * least,
        understeer_gradient=_gradient(vehicle, speed, min(_GENTLE, 0.5 * least)),
    )


def _gradient(vehicle: Vehicle, speed: float, lateral: float) -> float:
    def steer_beyond_neutral(at: float) -> float:
        front, rear = axle_slips(vehicle, speed, at, GRAVITY)
        return math.atan(front) - math.atan(rear)

    step = min(_HALF_STEP, lateral)
    if step <= 0.0:
        return 0.0
    return (steer_beyond_neutral(lateral + step) - steer_beyond_neutral(lateral - step)) / (2.0 * step)
