"""Brakes from the pedal to the pad, per axle, with heat and wear."""

from dataclasses import dataclass

import numpy as np

from tintop.checks import require, within


@dataclass(frozen=True, slots=True, kw_only=True)
class Pad:
    """Pad friction by temperature (°C rising, friction coefficient), friction material left, wear.

    `wear_rate` is depth lost per joule of friction work per m² of pad [m³/J] at `wear_temp`; it doubles
    every `wear_doubling` K above it. Thickness is friction material only, without the backing plate.
    """

    temps: tuple[float, ...]
    frictions: tuple[float, ...]
    area: float  # one pad [m²]
    thickness: float
    thickness_minimum: float
    wear_rate: float
    wear_temp: float
    wear_doubling: float

    def __post_init__(self) -> None:
        require(
            len(self.temps) == len(self.frictions) >= 2
            and all(b > a for a, b in zip(self.temps, self.temps[1:], strict=False)),
            "brakes pad friction table",
            f"{len(self.temps)} temperatures, {len(self.frictions)} frictions",
            "two or more rising temperatures, each with its friction",
        )
        require(
            all(0.02 <= f <= 1.0 for f in self.frictions),
            "brakes pad friction table",
            ", ".join(f"{f:g}" for f in self.frictions),
            "friction coefficients from 0.02 to 1.0",
        )
        within(self.area, 5e-4, 3e-2, "brakes pad area", "m2")
        within(self.thickness, 0.0, 0.04, "brakes pad thickness", "m")
        within(self.thickness_minimum, 0.0, 0.04, "brakes pad thickness_minimum", "m")
        require(
            self.thickness > self.thickness_minimum,
            "brakes pad thickness",
            f"{self.thickness * 1e3:g} mm",
            f"more than the minimum of {self.thickness_minimum * 1e3:g} mm",
            "Fit new pads before asking for a forecast.",
        )
        within(self.wear_rate, 0.0, 1e-12, "brakes pad wear_rate", "m3/J")
        within(self.wear_temp, 50.0, 900.0, "brakes pad wear_temp", "°C")
        within(self.wear_doubling, 10.0, 2000.0, "brakes pad wear_doubling", "K")

    def friction_at(self, temp: float) -> float:
        """Friction at a temperature of its surface [°C]; beyond the table that of its end."""
        return float(np.interp(temp, self.temps, self.frictions))

    @property
    def window(self) -> tuple[float, float]:
        """Lowest and highest temperature [°C] at which it has nine tenths of its best friction.

        Source: common practice, no source; makers state theirs, each in his own way.
        """
        enough = 0.9 * max(self.frictions)
        temps = np.arange(self.temps[0], self.temps[-1] + 1.0)
        inside = temps[np.interp(temps, self.temps, self.frictions) >= enough - 1e-12]
        return float(inside[0]), float(inside[-1])


@dataclass(frozen=True, slots=True, kw_only=True)
class AxleBrake:
    """Disc, caliper and pads of one wheel (both wheels of the axle alike).

    `piston_area` is the pistons on ONE side of the disc, all of them [m²]; `air_cooling` is heat given
    to the air per kelvin at 30 m/s [W/K], growing with speed^0.8, duct included.
    """

    disc_diameter: float
    disc_mass: float
    disc_thickness: float
    disc_thickness_minimum: float
    disc_wear_rate: float  # thickness lost, both faces together, per joule [m/J]
    disc_temp_limit: float  # bulk [°C]
    effective_radius: float
    piston_area: float
    master_cylinder_area: float
    air_cooling: float
    heat_to_disc_share: float  # of the brake's work; the rest enters pads and caliper
    caliper_heat_capacity: float  # [J/K], caliper with its fluid
    pad_to_caliper: float  # [W/K]
    caliper_to_air: float  # at 30 m/s [W/K]
    pad: Pad

    def __post_init__(self) -> None:
        within(self.disc_diameter, 0.15, 0.45, "brakes disc_diameter", "m")
        within(self.disc_mass, 1.0, 25.0, "brakes disc_mass", "kg")
        within(self.disc_thickness, 0.004, 0.05, "brakes disc_thickness", "m")
        require(
            0.0 < self.disc_thickness_minimum < self.disc_thickness,
            "brakes disc_thickness",
            f"{self.disc_thickness * 1e3:g} mm",
            f"more than the minimum of {self.disc_thickness_minimum * 1e3:g} mm",
            "A disc at its minimum is replaced, not raced.",
        )
        within(self.disc_wear_rate, 0.0, 1e-9, "brakes disc_wear_rate", "m/J")
        within(self.disc_temp_limit, 200.0, 1100.0, "brakes disc_temp_limit", "°C")
        within(self.effective_radius, 0.05, 0.22, "brakes effective_radius", "m")
        require(
            self.effective_radius < 0.5 * self.disc_diameter,
            "brakes effective_radius",
            f"{self.effective_radius * 1e3:g} mm",
            "less than half the disc's diameter",
        )
        within(self.piston_area, 2e-4, 2e-2, "brakes piston_area", "m2")
        within(self.master_cylinder_area, 5e-5, 2e-3, "brakes master_cylinder_area", "m2")
        within(self.air_cooling, 0.5, 200.0, "brakes air_cooling", "W/K")
        within(self.heat_to_disc_share, 0.3, 1.0, "brakes heat_to_disc_share", "")
        within(self.caliper_heat_capacity, 300.0, 20000.0, "brakes caliper_heat_capacity", "J/K")
        within(self.pad_to_caliper, 0.0, 100.0, "brakes pad_to_caliper", "W/K")
        within(self.caliper_to_air, 0.1, 200.0, "brakes caliper_to_air", "W/K")


@dataclass(frozen=True, slots=True, kw_only=True)
class Brakes:
    """Pedal, fluid and the two axles.

    `bar_front_share` is the share of the pedal's push that the balance bar sends to the front cylinder;
    0.5 for a tandem cylinder, where both circuits see the full push. `rear_valve_share` is what a
    pressure valve lets through to the rear (1 = no valve).
    """

    pedal_ratio: float
    boost: float  # servo multiplication, 1 = none
    pedal_force: float  # the hardest the driver pushes for two hours [N]
    bar_front_share: float
    is_tandem_cylinder: bool
    rear_valve_share: float
    fluid_boiling_dry: float  # [°C]
    fluid_boiling_wet: float
    fluid_wetness: float  # 0 = fresh, 1 = at the standard's wet point
    front: AxleBrake
    rear: AxleBrake

    def __post_init__(self) -> None:
        within(self.pedal_ratio, 1.5, 10.0, "brakes.pedal_ratio", "")
        within(self.boost, 1.0, 12.0, "brakes.boost", "")
        within(self.pedal_force, 50.0, 2000.0, "brakes.pedal_force", "N")
        within(self.bar_front_share, 0.1, 0.9, "brakes.bar_front_share", "")
        within(self.rear_valve_share, 0.0, 1.0, "brakes.rear_valve_share", "")
        within(self.fluid_boiling_dry, 180.0, 400.0, "brakes.fluid_boiling_dry", "°C")
        within(self.fluid_boiling_wet, 100.0, 350.0, "brakes.fluid_boiling_wet", "°C")
        within(self.fluid_wetness, 0.0, 1.0, "brakes.fluid_wetness", "")
        require(
            self.fluid_boiling_wet <= self.fluid_boiling_dry,
            "brakes.fluid_boiling_wet",
            f"{self.fluid_boiling_wet:g} °C",
            "no more than the dry boiling point",
        )

    @property
    def fluid_boiling(self) -> float:
        """Boiling point of the fluid as it is [°C], between the dry and the wet point."""
        return self.fluid_boiling_dry - self.fluid_wetness * (self.fluid_boiling_dry - self.fluid_boiling_wet)

    @property
    def torque_gain_front(self) -> float:
        """Brake torque of both front wheels per newton at the pedal and unit pad friction [m]."""
        push = 1.0 if self.is_tandem_cylinder else self.bar_front_share
        return self._axle_gain(self.front, push)

    @property
    def torque_gain_rear(self) -> float:
        """Brake torque of both rear wheels per newton at the pedal and unit pad friction [m]."""
        push = 1.0 if self.is_tandem_cylinder else 1.0 - self.bar_front_share
        return self._axle_gain(self.rear, push * self.rear_valve_share)

    def _axle_gain(self, axle: AxleBrake, push_share: float) -> float:
        pressure = self.pedal_ratio * self.boost * push_share / axle.master_cylinder_area
        clamp = pressure * axle.piston_area
        return 2.0 * 2.0 * clamp * axle.effective_radius
