"""What changes from lap to lap while the car itself stays the same."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Conditions:
    """Fuel aboard, grip of each tyre, pad friction, power and pace on this lap.

    `grip` multiplies the peak grip of FL FR RL RR at their best temperature (temperature, wear, wetness);
    `pad_friction` is front and rear, None = the pad's friction at its best temperature; `power` multiplies
    the drive; `grip_used` is the driver's share of the grip there is; `pace` scales the speed of the whole
    lap (1 = racing; less = neutralised).
    """

    fuel_mass: float = 0.0
    grip: tuple[float, float, float, float] = (1.0, 1.0, 1.0, 1.0)
    pad_friction: tuple[float, float] | None = None
    power: float = 1.0
    grip_used: float = 1.0
    pace: float = 1.0
