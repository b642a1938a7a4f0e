"""Discs and pads of one choice through a race: peaks and limits, the pads' window, wear, balance."""

from dataclasses import dataclass

import numpy as np

from tintop.car.brake_balance import BrakeAsk, brake_balance
from tintop.car.car import Car
from tintop.race.march import RaceTrace


@dataclass(frozen=True, slots=True, kw_only=True)
class AxleHeat:
    """One axle, its harder used wheel: °C, friction by work, mm of pad [m] left above its least."""

    disc_peak: float
    disc_limit: float
    disc_mean: float
    pad_window: tuple[float, float]
    friction_first: float
    friction_hottest: float
    pad_left: float

    @property
    def words(self) -> str:
        """What is to be said of it."""
        low, high = self.pad_window
        faults = []
        if self.disc_peak > self.disc_limit:
            faults.append("disc over its limit")
        if self.disc_mean > high:
            faults.append("pads above their window")
        elif self.disc_mean < low:
            faults.append("pads below their window")
        if self.pad_left <= 0.0:
            faults.append("pads worn out before the end")
        return ", ".join(faults) or "within limits"

    @property
    def is_within(self) -> bool:
        """Whether disc and pads last and stay below their limits; pads too cool are no fault of this kind."""
        return (
            self.disc_peak <= self.disc_limit and self.pad_left > 0.0 and self.disc_mean <= self.pad_window[1]
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class BrakeHeat:
    """A choice of pads or discs through the race; front share of the brake force at first and hottest."""

    name: str
    front: AxleHeat
    rear: AxleHeat
    share_first: float
    share_hottest: float
    rear_first: bool
    temps: tuple[float, float]
    lap_time: float
    fluid_peak: float
    fluid_boiling: float


def brake_heat(name: str, car: Car, trace: RaceTrace, ask: BrakeAsk) -> BrakeHeat:
    """Judge a marched race's brakes; `rear_first` on the road asked about, the pads at their hottest."""
    hottest = trace.hot_lap_number - 1
    front, rear = (_axle(car, trace, hottest, end) for end in (0, 2))
    temps = front.disc_mean, rear.disc_mean
    cool = BrakeAsk(
        friction=ask.friction,
        front_temp=float(trace.disc_temp_mean[0, :2].max()),
        rear_temp=float(trace.disc_temp_mean[0, 2:].max()),
        fuel_mass=ask.fuel_mass,
        valve_knee=ask.valve_knee,
    )
    hot = BrakeAsk(
        friction=ask.friction, front_temp=temps[0], rear_temp=temps[1], fuel_mass=ask.fuel_mass,
        valve_knee=ask.valve_knee,
    )  # fmt: skip
    first, last = brake_balance(car, cool), brake_balance(car, hot)
    return BrakeHeat(
        name=name,
        front=front,
        rear=rear,
        share_first=first.at_limit.front_share,
        share_hottest=last.at_limit.front_share,
        rear_first=last.margin < 0.0,
        temps=temps,
        lap_time=float(np.median(trace.lap_time[trace.kind == 0.0]))
        if (trace.kind == 0.0).any()
        else float("nan"),
        fluid_peak=float(trace.fluid_temp_peak.max()),
        fluid_boiling=car.brakes.fluid_boiling,
    )


def _axle(car: Car, trace: RaceTrace, hottest: int, start: int) -> AxleHeat:
    brake = car.brakes.front if start == 0 else car.brakes.rear
    wheels = slice(start, start + 2)
    return AxleHeat(
        disc_peak=float(trace.disc_temp_peak[:, wheels].max()),
        disc_limit=brake.disc_temp_limit,
        disc_mean=float(trace.disc_temp_mean[hottest, wheels].max()),
        pad_window=brake.pad.window,
        friction_first=float(trace.pad_friction[0, wheels].mean()),
        friction_hottest=float(trace.pad_friction[hottest, wheels].mean()),
        pad_left=float(trace.pad_thickness[:, wheels].min()) - brake.pad.thickness_minimum,
    )
