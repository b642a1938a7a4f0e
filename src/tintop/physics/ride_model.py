"""The car over a road in time: body and four wheels, damper curves, stops, and wheels off the ground.

Displacements count from rest on level ground; corners FL FR RL RR; SI, ISO 8855 (pitch positive nose down,
roll positive left side up). A tyre pushes and never pulls.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tintop.checks import require, within
from tintop.physics.compiled import kernel
from tintop.physics.ride_frequency import RideCar
from tintop.physics.road_profile import RoadProfile

FloatArray = NDArray[np.float64]

_LONGEST_STEP = 2.5e-4  # of the integration [s]
_SHARE_OF_FASTEST = 0.5  # a step by the quickest thing in the car: Runge and Kutta's fourth bears 2.7
_RECORD_STEP = 2e-3  # between records, about [s]
_MOST_STEPS = 3_000_000
_FREEDOMS = 7
_STATES = 2 * _FREEDOMS + 6  # and the work done by the road, taken up by four dampers and by the tyres


class Stops(NamedTuple):
    """Wheel travel [m] from rest to the stops, and their rate at the wheel [N/m]; the same one for droop."""

    bump_front: float
    bump_rear: float
    droop_front: float
    droop_rear: float
    rate_front: float
    rate_rear: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RideRecord:
    """What happened, a row a record: time [s]; body [m, rad, rad] and its accelerations, heave, pitch, roll.

    By wheel: loads [N], travel [m, bump positive], its speed [m/s], hub heights [m]. Energy [J]: `work_in` by
    the road on the tyres, `taken` by four dampers and the tyres, `stored` in springs and motion.
    """

    time: FloatArray
    body: FloatArray
    acceleration: FloatArray
    loads: FloatArray
    travel: FloatArray
    travel_speed: FloatArray
    hubs: FloatArray
    work_in: FloatArray
    taken: FloatArray
    stored: FloatArray

    @property
    def record_step(self) -> float:
        """Time between records [s]."""
        return float(self.time[1] - self.time[0])

    def seat(self, forward: float, left: float) -> FloatArray:
        """Vertical acceleration [m/s²] of a place on the floor, from the centre of gravity [m]."""
        felt: FloatArray = self.acceleration @ np.array([1.0, -forward, left])
        return felt

    def time_in_air(self) -> FloatArray:
        """How long each wheel carried nothing [s]."""
        lifted: FloatArray = np.sum(self.loads <= 0.0, axis=0) * self.record_step
        return lifted


@kernel
def _rates(
    state: FloatArray,
    out: FloatArray,
    loads: FloatArray,
    body: FloatArray,
    corners: FloatArray,
    tables: FloatArray,
    top_speed: float,
    heights: FloatArray,
    slopes: FloatArray,
) -> None:
    """Put the rates of the state into `out` and the tyre loads into `loads`.

    `body`: mass, pitch and roll inertia. `corners` a row a wheel: x, y, unsprung mass, wheel rate, bar rate
    by difference, tyre rate, tyre damping, static load, bump and droop travel, stop rate.
    """
    for i in range(7):
        out[i] = state[7 + i]
    count = tables.shape[1]
    grid = 2.0 * top_speed / (count - 1)
    heave = pitch = roll = work = tyre_loss = 0.0
    for i in range(4):
        x, y = corners[i, 0], corners[i, 1]
        other = i ^ 1
        travel = state[3 + i] - (state[0] - x * state[1] + y * state[2])
        across = state[3 + other] - (state[0] - corners[other, 0] * state[1] + corners[other, 1] * state[2])
        speed = state[10 + i] - (state[7] - x * state[8] + y * state[9])
        place = (speed + top_speed) / grid
        index = min(max(int(place), 0), count - 2)
        damper = tables[i, index] + (place - index) * (tables[i, index + 1] - tables[i, index])
        force = corners[i, 3] * travel + corners[i, 4] * (travel - across) + damper
        if travel > corners[i, 8]:
            force += corners[i, 10] * (travel - corners[i, 8])
        elif travel < -corners[i, 9]:
            force += corners[i, 10] * (travel + corners[i, 9])
        static, rate = corners[i, 7], corners[i, 5]
        squeezed = static / rate + heights[i] - state[3 + i]
        closing = slopes[i] - state[10 + i]
        load, elastic = 0.0, 0.0
        if squeezed > 0.0:
            elastic = rate * squeezed
            load = max(elastic + corners[i, 6] * closing, 0.0)
        loads[i] = load
        heave += force
        pitch -= x * force
        roll += y * force
        out[10 + i] = (load - static - force) / corners[i, 2]
        work += (load - static) * slopes[i]
        tyre_loss += (load - elastic) * closing
        out[15 + i] = damper * speed
    out[7] = heave / body[0]
    out[8] = pitch / body[1]
    out[9] = roll / body[2]
    out[14] = work
    out[19] = tyre_loss


@kernel
def _stored(state: FloatArray, body: FloatArray, corners: FloatArray, heights: FloatArray) -> float:
    """Energy [J] in motion, springs, bars, stops and tyres, above that at rest."""
    energy: float = 0.5 * (body[0] * state[7] ** 2 + body[1] * state[8] ** 2 + body[2] * state[9] ** 2)
    for i in range(4):
        travel = state[3 + i] - (state[0] - corners[i, 0] * state[1] + corners[i, 1] * state[2])
        energy += 0.5 * (corners[i, 2] * state[10 + i] ** 2 + corners[i, 3] * travel**2)
        beyond = max(travel - corners[i, 8], 0.0) + max(-corners[i, 9] - travel, 0.0)
        energy += 0.5 * corners[i, 10] * beyond**2
        if i % 2 == 0:
            other = state[4 + i] - (state[0] - corners[i + 1, 0] * state[1] + corners[i + 1, 1] * state[2])
            energy += 0.5 * corners[i, 4] * (travel - other) ** 2
        static, rate = corners[i, 7], corners[i, 5]
        closed = max(heights[i] - state[3 + i], -static / rate)
        energy += 0.5 * rate * closed**2 - static * (heights[i] - state[3 + i] - closed)
    return energy


@kernel
def _under(
    at: float,
    left: FloatArray,
    right: FloatArray,
    step: float,
    wheelbase: float,
    speed: float,
    heights: FloatArray,
    slopes: FloatArray,
) -> None:
    """Put the road's height [m] and rise [m/s] under the wheels, smooth between its points, level beyond."""
    last = len(left) - 1
    for i in range(4):
        track = left if i % 2 == 0 else right
        place = (at if i < 2 else at - wheelbase) / step
        if place <= 0.0 or place >= last:
            heights[i], slopes[i] = track[0] if place <= 0.0 else track[last], 0.0
            continue
        index = int(place)
        share = place - index
        low, high = track[index], track[min(index + 1, last)]
        rise = 0.5 * (high - track[max(index - 1, 0)])
        rise_on = 0.5 * (track[min(index + 2, last)] - low)
        square = 3.0 * (high - low) - 2.0 * rise - rise_on
        cube = 2.0 * (low - high) + rise + rise_on
        heights[i] = low + share * (rise + share * (square + share * cube))
        slopes[i] = (rise + share * (2.0 * square + 3.0 * share * cube)) / step * speed


@kernel
def _drive(
    body: FloatArray,
    corners: FloatArray,
    tables: FloatArray,
    top_speed: float,
    left: FloatArray,
    right: FloatArray,
    road_step: float,
    wheelbase: float,
    speed: float,
    step: float,
    records: int,
    every: int,
) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    """Drive over the road by Runge and Kutta's fourth; give states, their rates, loads, stored energy."""
    state = np.zeros(20)
    stages = np.zeros((4, 20))
    trial = np.zeros(20)
    loads, unused = np.zeros(4), np.zeros(4)
    heights, slopes = np.zeros(4), np.zeros(4)
    states, rates = np.zeros((records, 20)), np.zeros((records, 20))
    all_loads, stored = np.zeros((records, 4)), np.zeros(records)
    for number in range(records * every):
        at = number * step * speed
        _under(at, left, right, road_step, wheelbase, speed, heights, slopes)
        _rates(state, stages[0], loads, body, corners, tables, top_speed, heights, slopes)
        if number % every == 0:
            row = number // every
            states[row], rates[row], all_loads[row] = state, stages[0], loads
            stored[row] = _stored(state, body, corners, heights)
        for stage in range(1, 4):
            ahead = step if stage == 3 else 0.5 * step
            for i in range(20):
                trial[i] = state[i] + ahead * stages[stage - 1, i]
            _under(at + ahead * speed, left, right, road_step, wheelbase, speed, heights, slopes)
            _rates(trial, stages[stage], unused, body, corners, tables, top_speed, heights, slopes)
        for i in range(20):
            state[i] += step / 6.0 * (stages[0, i] + 2.0 * stages[1, i] + 2.0 * stages[2, i] + stages[3, i])
    return states, rates, all_loads, stored


def ride_over(
    car: RideCar,
    stops: Stops,
    tables: FloatArray,
    top_speed: float,
    road: RoadProfile,
    speed: float,
    duration: float,
) -> RideRecord:
    """Drive from rest on the level over a road at a steady speed [m/s] for `duration` [s].

    `tables` (4, odd): damper force at the wheel at even steps from −top to +top speed. The front wheels start
    at the road's beginning. The step is fixed: a quarter of a millisecond, or less where something in the car
    is quicker. BadInput for a drive of more steps than can be waited for.
    Source: Runge–Kutta of the fourth order; half-car and full-car models, T. D. Gillespie, Fundamentals of
    Vehicle Dynamics, SAE 1992, ch. 5 (from memory).
    """
    within(speed, 0.5, 100.0, "speed on the road", "m/s")
    corners = _corners(car, stops)
    step = step_for(corners, tables, top_speed)
    every = max(1, round(_RECORD_STEP / step))
    records = int(duration / (step * every)) + 1
    require(
        records * every <= _MOST_STEPS,
        "time on the road",
        f"{duration:g} s in {records * every:,} steps",
        f"at most {_MOST_STEPS:,} steps: less time, or softer stops and dampers",
    )
    body = np.array([car.sprung_mass, car.pitch_inertia, car.roll_inertia])
    states, rates, loads, stored = _drive(
        body,
        corners,
        np.ascontiguousarray(tables, dtype=float),
        top_speed,
        np.ascontiguousarray(road.left, dtype=float),
        np.ascontiguousarray(road.right, dtype=float),
        road.step,
        car.wheelbase,
        speed,
        step,
        records,
        every,
    )
    geometry = np.stack([np.ones(4), -corners[:, 0], corners[:, 1]])
    return RideRecord(
        time=np.arange(records, dtype=float) * (step * every),
        body=states[:, :3],
        acceleration=rates[:, 7:10],
        loads=loads,
        travel=states[:, 3:7] - states[:, :3] @ geometry,
        travel_speed=states[:, 10:14] - states[:, 7:10] @ geometry,
        hubs=states[:, 3:7],
        work_in=states[:, 14],
        taken=states[:, 15:20],
        stored=stored,
    )


def step_for(corners: FloatArray, tables: FloatArray, top_speed: float) -> float:
    """Step [s] at which the quickest wheel on its stop and its steepest damping is still followed."""
    grid = 2.0 * top_speed / (tables.shape[1] - 1)
    steepest = np.max(np.abs(np.diff(tables, axis=1)), axis=1) / grid
    stiffness = corners[:, 3] + 2.0 * corners[:, 4] + corners[:, 5] + corners[:, 10]
    quickest = (steepest + corners[:, 6]) / corners[:, 2] + np.sqrt(stiffness / corners[:, 2])
    return float(min(_LONGEST_STEP, _SHARE_OF_FASTEST / np.max(quickest)))


def _corners(car: RideCar, stops: Stops) -> FloatArray:
    """The rows that the kernel reads, a wheel each."""
    rows = []
    for is_front in (True, False):
        track = car.track_front if is_front else car.track_rear
        for side in (0.5, -0.5):
            rows.append(
                [
                    car.cg_to_front if is_front else -car.cg_to_rear,
                    side * track,
                    car.unsprung_front if is_front else car.unsprung_rear,
                    car.wheel_rate_front if is_front else car.wheel_rate_rear,
                    (car.bar_front if is_front else car.bar_rear) / track**2,
                    car.tyre_rate_front if is_front else car.tyre_rate_rear,
                    car.tyre_damping_front if is_front else car.tyre_damping_rear,
                    car.static_load_front if is_front else car.static_load_rear,
                    stops.bump_front if is_front else stops.bump_rear,
                    stops.droop_front if is_front else stops.droop_rear,
                    stops.rate_front if is_front else stops.rate_rear,
                ]
            )
    return np.array(rows)
