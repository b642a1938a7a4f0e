"""Radiator, oil cooler and the heat the engine sends to them."""

from dataclasses import dataclass

from tintop.checks import within


@dataclass(frozen=True, slots=True, kw_only=True)
class Cooling:
    """Lumped coolant and oil circuits.

    Air through the radiator: face area × the greater of speed × `air_speed_share` and the fan's speed; the
    fan does not blow through the oil cooler. Core conductance is
    given at `core_reference_speed` of air [m/s] and grows with its square root. An `oil_core_conductance`
    of 0 means no oil cooler: the sump alone sheds heat.
    """

    coolant_heat_capacity: float  # engine block, coolant and radiator [J/K]
    coolant_flow: float  # at peak power [kg/s]
    coolant_specific_heat: float  # [J/(kg·K)]
    heat_to_coolant_share: float  # of the fuel's energy
    radiator_face_area: float  # [m²]
    radiator_conductance: float  # UA at core_reference_speed [W/K]
    air_speed_share: float  # air speed through the core ÷ road speed
    core_reference_speed: float
    fan_air_speed: float  # through the radiator core at standstill [m/s]
    thermostat_temp: float
    coolant_limit: float  # boiling at the cap's pressure, or the owner's own limit [°C]
    oil_heat_capacity: float  # [J/K]
    oil_flow: float  # through the cooler [kg/s]
    oil_specific_heat: float
    heat_to_oil_share: float
    oil_core_face_area: float
    oil_core_conductance: float
    sump_conductance: float  # sump to air at 30 m/s [W/K]
    oil_to_coolant: float  # through the block [W/K]
    oil_limit: float
    traffic_air_share: float  # air speed left behind another car
    traffic_air_warmer: float  # intake air warmer behind another car [K]

    def __post_init__(self) -> None:
        within(self.coolant_heat_capacity, 5e3, 5e5, "cooling.coolant_heat_capacity", "J/K")
        within(self.coolant_flow, 0.05, 10.0, "cooling.coolant_flow", "kg/s")
        within(self.coolant_specific_heat, 2000.0, 4300.0, "cooling.coolant_specific_heat", "J/(kg·K)")
        within(self.heat_to_coolant_share, 0.02, 0.6, "cooling.heat_to_coolant_share", "")
        within(self.radiator_face_area, 0.02, 1.5, "cooling.radiator_face_area", "m2")
        within(self.radiator_conductance, 50.0, 20000.0, "cooling.radiator_conductance", "W/K")
        within(self.air_speed_share, 0.01, 0.8, "cooling.air_speed_share", "")
        within(self.core_reference_speed, 0.5, 40.0, "cooling.core_reference_speed", "m/s")
        within(self.fan_air_speed, 0.0, 15.0, "cooling.fan_air_speed", "m/s")
        within(self.thermostat_temp, 40.0, 110.0, "cooling.thermostat_temp", "°C")
        within(self.coolant_limit, 90.0, 150.0, "cooling.coolant_limit", "°C")
        within(self.oil_heat_capacity, 2e3, 2e5, "cooling.oil_heat_capacity", "J/K")
        within(self.oil_flow, 0.01, 5.0, "cooling.oil_flow", "kg/s")
        within(self.oil_specific_heat, 1500.0, 3000.0, "cooling.oil_specific_heat", "J/(kg·K)")
        within(self.heat_to_oil_share, 0.0, 0.3, "cooling.heat_to_oil_share", "")
        within(self.oil_core_face_area, 0.0, 0.5, "cooling.oil_core_face_area", "m2")
        within(self.oil_core_conductance, 0.0, 3000.0, "cooling.oil_core_conductance", "W/K")
        within(self.sump_conductance, 0.0, 500.0, "cooling.sump_conductance", "W/K")
        within(self.oil_to_coolant, 0.0, 3000.0, "cooling.oil_to_coolant", "W/K")
        within(self.oil_limit, 90.0, 170.0, "cooling.oil_limit", "°C")
        within(self.traffic_air_share, 0.1, 1.0, "cooling.traffic_air_share", "")
        within(self.traffic_air_warmer, 0.0, 40.0, "cooling.traffic_air_warmer", "K")
