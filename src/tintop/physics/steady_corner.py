"""A steady corner at a steady speed on a flat road: when each axle slides, and how far it slips before.

Equations and symbols: docs/theory/springs_and_bars.md. Loads, grip and slip are those of `four_wheels`.
"""

from tintop.physics.compiled import kernel
from tintop.physics.four_wheels import Vehicle, Wheels, corner_drag, resistance_force, slip, tyres

_MOST = 60.0  # beyond any tyre and downforce on wheels [m/s²]
_HALVINGS = 52
_SETTLED = 1e-9  # of the weight


@kernel
def steady_wheels(vehicle: Vehicle, speed: float, lateral: float, gravity: float) -> tuple[Wheels, Wheels]:
    """Front and rear wheels while the drive just holds the speed [m/s] at a lateral acceleration [m/s²].

    The drive overcomes drag, rolling resistance and the tyres' own drag in the corner; what the engine could
    give is not asked.
    """
    resistance = resistance_force(vehicle, speed, gravity, 0.0)
    most_slip = max(vehicle.front.slide_slip, vehicle.rear.slide_slip)
    low, high = resistance, resistance + 2.0 * vehicle.mass * abs(lateral) * most_slip
    force = resistance
    front, rear = tyres(vehicle, speed, force, lateral, gravity)
    while high - low > _SETTLED * vehicle.mass * gravity:
        force = 0.5 * (low + high)
        front, rear = tyres(vehicle, speed, force, lateral, gravity)
        if resistance + corner_drag(vehicle, front, rear) > force:
            low = force
        else:
            high = force
    return front, rear


@kernel
def axle_limit(vehicle: Vehicle, speed: float, gravity: float, is_front: bool) -> float:
    """Lateral acceleration [m/s²] at which one axle slides, the other taken to hold; 0 if it never holds."""
    low, high = 0.0, _MOST
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        front, rear = steady_wheels(vehicle, speed, middle, gravity)
        if (front.used_square if is_front else rear.used_square) > 1.0:
            high = middle
        else:
            low = middle
    return low


@kernel
def axle_slips(vehicle: Vehicle, speed: float, lateral: float, gravity: float) -> tuple[float, float]:
    """Tangents of the front and the rear slip angle at a lateral acceleration [m/s²]."""
    front, rear = steady_wheels(vehicle, speed, lateral, gravity)
    return slip(vehicle.front.slide_slip, front.share_y), slip(vehicle.rear.slide_slip, rear.share_y)
