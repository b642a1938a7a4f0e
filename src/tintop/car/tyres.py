"""A tyre of one axle, with its grip, its heat and its wear."""

from dataclasses import dataclass
from enum import StrEnum

from tintop.checks import require, within


class TyreKind(StrEnum):
    """Classes of tyre with defaults of their own."""

    ROAD = "road"
    SEMI_SLICK = "semi_slick"
    SLICK = "slick"
    WET = "wet"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tyre:
    """One tyre, both of an axle alike.

    Peak grip coefficient at load Fz: friction × (1 + load_sensitivity × (Fz − reference_load) /
    reference_load), lateral and longitudinal; × (1 − camber_loss × (camber − camber_best)²);
    × (1 − ((T − temp_best) / temp_span)²) by tread temperature T, never below `friction_floor` of its best.
    `camber_best` is the inclination of the loaded outer wheel to the road (negative = top towards the
    corner's inside).
    `slide_slip` is the tangent of the slip at which the whole contact slides (brush model).
    `wear_rate`: tread depth lost per joule of slip work [m/J] at temp_best; doubles every
    `wear_doubling` K above it. `pressure_hot` is the owner's target [Pa gauge] or None = unknown.
    """

    kind: TyreKind
    friction_lateral: float
    friction_longitudinal: float
    friction_wet_share: float  # of the dry grip, on a wet road
    reference_load: float
    load_sensitivity: float
    camber_best: float
    camber_loss: float
    temp_best: float
    temp_span: float
    friction_floor: float
    slide_slip: float
    rolling_resistance: float
    radius: float
    inertia: float  # wheel, tyre and disc about the axle, one wheel [kg·m²]
    tread_depth: float
    tread_depth_minimum: float
    wear_rate: float
    wear_doubling: float
    tread_heat_capacity: float  # [J/K]
    carcass_heat_capacity: float
    tread_to_road: float  # heat conductance while rolling [W/K]
    tread_to_air: float  # at 30 m/s, grows with speed^0.8 [W/K]
    tread_to_carcass: float  # [W/K]
    carcass_to_air: float  # at 30 m/s [W/K]
    slip_heat_share: float  # of slip work that stays in the tyre, the rest goes to the road
    pressure_cold: float  # [Pa gauge]
    pressure_hot: float | None

    def __post_init__(self) -> None:
        within(self.friction_lateral, 0.1, 2.5, "tyre.friction_lateral", "")
        within(self.friction_longitudinal, 0.1, 2.5, "tyre.friction_longitudinal", "")
        within(self.friction_wet_share, 0.1, 1.0, "tyre.friction_wet_share", "")
        within(self.reference_load, 500.0, 15000.0, "tyre.reference_load", "N")
        within(self.load_sensitivity, -0.5, 0.0, "tyre.load_sensitivity", "")
        within(self.camber_best, -0.15, 0.1, "tyre.camber_best", "rad")
        within(self.camber_loss, 0.0, 60.0, "tyre.camber_loss", "1/rad2")
        within(self.temp_best, 10.0, 150.0, "tyre.temp_best", "°C")
        within(self.temp_span, 20.0, 1000.0, "tyre.temp_span", "K")
        within(self.friction_floor, 0.1, 1.0, "tyre.friction_floor", "")
        within(self.slide_slip, 0.02, 0.6, "tyre.slide_slip", "")
        within(self.rolling_resistance, 0.0, 0.06, "tyre.rolling_resistance", "")
        within(self.radius, 0.15, 0.6, "tyre.radius", "m")
        within(self.inertia, 0.0, 10.0, "tyre.inertia", "kg·m2")
        within(self.tread_depth, 0.0, 0.02, "tyre.tread_depth", "m")
        within(self.tread_depth_minimum, 0.0, 0.02, "tyre.tread_depth_minimum", "m")
        require(
            self.tread_depth >= self.tread_depth_minimum,
            "tyre.tread_depth",
            f"{self.tread_depth * 1e3:g} mm",
            f"at least the minimum of {self.tread_depth_minimum * 1e3:g} mm",
        )
        within(self.wear_rate, 0.0, 1e-8, "tyre.wear_rate", "m/J")
        within(self.wear_doubling, 1.0, 500.0, "tyre.wear_doubling", "K")
        within(self.tread_heat_capacity, 500.0, 60000.0, "tyre.tread_heat_capacity", "J/K")
        within(self.carcass_heat_capacity, 500.0, 60000.0, "tyre.carcass_heat_capacity", "J/K")
        within(self.tread_to_road, 0.0, 500.0, "tyre.tread_to_road", "W/K")
        within(self.tread_to_air, 0.0, 500.0, "tyre.tread_to_air", "W/K")
        within(self.tread_to_carcass, 0.0, 500.0, "tyre.tread_to_carcass", "W/K")
        within(self.carcass_to_air, 0.0, 500.0, "tyre.carcass_to_air", "W/K")
        within(self.slip_heat_share, 0.0, 1.0, "tyre.slip_heat_share", "")
        within(self.pressure_cold, 2e4, 6e5, "tyre.pressure_cold", "Pa")
        if self.pressure_hot is not None:
            within(self.pressure_hot, 2e4, 7e5, "tyre.pressure_hot", "Pa")
