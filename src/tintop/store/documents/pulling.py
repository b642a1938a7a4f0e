"""Gearing that cannot move the car."""

from tintop.car.car import Car, DrivenAxle
from tintop.store.documents.numbers import Numbers
from tintop.units import format_quantity

_GRAVITY = 9.80665
_STEEPEST_START = 0.15  # push over weight needed to leave a hilly pit lane; common practice, no source
_LEAST_TOP_SPEED = 20.0  # [m/s]
_FASTEST_CREEP = 12.0  # idle in first gear [m/s]


def refuse_what_cannot_pull(car: Car, numbers: Numbers) -> None:
    """Note a problem if first gear is too long to start, or top gear too short to race."""
    tyre = car.tyre_rear if car.driven_axle is DrivenAxle.REAR else car.tyre_front
    first, top = (
        ratio * car.gearbox.final_drive for ratio in (car.gearbox.ratios[0], car.gearbox.ratios[-1])
    )
    push = max(car.engine.torques) * first * car.gearbox.efficiency / tyre.radius
    weight = car.masses.without_fuel * _GRAVITY
    creep = car.engine.idle_speed / first * tyre.radius
    fastest = car.engine.limiter_speed / top * tyre.radius
    problem = numbers.document.problem
    if push < _STEEPEST_START * weight:
        numbers.problems.append(
            problem(
                "gearbox.ratios",
                f"a first gear that pushes with {100 * push / weight:.0f} % of the car's weight",
                f"{100 * _STEEPEST_START:.0f} % or more, to pull away",
                "Check the ratios, the final drive and the tyre's radius.",
            )
        )
    if creep > _FASTEST_CREEP:
        numbers.problems.append(
            problem(
                "gearbox.ratios",
                f"a first gear that idles at {format_quantity(creep, 'km/h')}",
                f"{format_quantity(_FASTEST_CREEP, 'km/h')} at most",
            )
        )
    if fastest < _LEAST_TOP_SPEED:
        numbers.problems.append(
            problem(
                "gearbox.ratios",
                f"a top gear that reaches the limiter at {format_quantity(fastest, 'km/h')}",
                f"{format_quantity(_LEAST_TOP_SPEED, 'km/h')} or more",
                "Check the ratios, the final drive and the tyre's radius.",
            )
        )
