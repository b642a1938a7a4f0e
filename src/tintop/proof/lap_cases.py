"""Published laps and closed forms driven through the lap's own kernels.

A point mass is the four-wheel car with its centre of gravity on the road, the same friction at every load,
and tyres that give their force without slip.
"""

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from tintop.physics.fastest_lap import fastest_lap
from tintop.physics.four_wheels import POWER, Axle, Driveline, Road, Vehicle, tyres
from tintop.physics.lap_report import report
from tintop.proof.figures import Inputs, Results, Run

FloatArray = NDArray[np.float64]

_MESH = 0.1  # [m]
_STRAIGHT_MESH = 0.02  # where the change from traction to power is read off the mesh [m]
_SPEED_STEP = 0.1  # of the drive table [m/s]
_NO_LIMIT = 1e9  # force [N] or friction that never holds the car back
_FIRST_STEP = 0.001  # from and to rest, where the sharp point takes part of the grip [m]


def point_mass(
    *,
    mass: float,
    friction: float,
    pull: float = _NO_LIMIT,
    power: float = math.inf,
    brake_force: float = _NO_LIMIT,
    drag: float = 0.0,
    downforce: float = 0.0,
    rolling_resistance: float = 0.0,
    side_friction: float | None = None,
    rear_share: float = 0.5,
    rear_drive_share: float | None = None,
    top_speed: float = 150.0,
) -> tuple[Vehicle, Driveline]:
    """Give the kernels' numbers of a car that is one point with a friction circle.

    mass [kg]; pull and brake_force [N]; power [W]; drag and downforce = force per speed² [N/(m/s)²];
    `rear_share` of the weight, `rear_drive_share` of the drive (None = as the weight); top_speed [m/s].
    """
    side = friction if side_friction is None else side_friction
    drive = rear_share if rear_drive_share is None else rear_drive_share

    def axle(share: float, drive_share: float) -> Axle:
        return Axle(
            track=1.5,
            transfer=0.0,
            lift=-downforce * share,
            friction_x_left=friction,
            friction_x_right=friction,
            friction_y_left=side,
            friction_y_right=side,
            grip_offset=1.0,
            grip_slope=0.0,
            camber=0.0,
            camber_per_acceleration=0.0,
            camber_best=0.0,
            camber_loss=0.0,
            slide_slip=0.0,
            rolling_resistance=rolling_resistance,
            drive_share=drive_share,
            brake_share=share,
        )

    speeds = np.arange(0.0, top_speed + 3.0 * _SPEED_STEP, _SPEED_STEP)
    force = np.minimum(power / np.maximum(speeds, _SPEED_STEP), pull)
    vehicle = Vehicle(
        mass=mass,
        wheelbase=2.5,
        rear_load_share=rear_share,
        height_share=0.0,
        drag=drag,
        front=axle(1.0 - rear_share, 1.0 - drive),
        rear=axle(rear_share, drive),
        lock_share=1.0,
        lock_force=0.0,
        brake_force=brake_force,
        rolling_mass=0.0,
        shift_time=0.0,
        lowest_friction=side,
    )
    driveline = Driveline(
        speed_step=_SPEED_STEP,
        force=force[None, :].copy(),
        best_gear=np.zeros(speeds.size),
        gear_mass=np.zeros(1),
        engine_ratio=np.ones(1),
        top_speed=top_speed,
        efficiency=1.0,
        fuel_per_work=1e-7,
        friction_work=0.0,
        idle_speed=0.0,
    )
    return vehicle, driveline


def level_road(parts: Sequence[tuple[float, float]], gravity: float, mesh: float = _MESH) -> Road:
    """Give a level closed road of (length [m], curvature [1/m]) parts, every joint on the mesh.

    A joint has the larger curvature of its two parts, so that an arc is as long as it should be.
    """
    counts = [max(round(length / mesh), 1) for length, _ in parts]
    step = np.concatenate([np.full(n, length / n) for n, (length, _) in zip(counts, parts, strict=True)])
    curvature = np.concatenate([np.full(n, bend) for n, (_, bend) in zip(counts, parts, strict=True)])
    before = np.roll(curvature, 1)
    curvature = np.where(np.abs(before) > np.abs(curvature), before, curvature)
    return road_with(step, curvature, gravity)


def road_with(step: FloatArray, curvature: FloatArray, gravity: float) -> Road:
    """Give a level road from its steps [m] and curvatures [1/m], both (n,)."""
    zero = np.zeros_like(step)
    return Road(
        step=step,
        lateral_curvature=curvature,
        normal_curvature=zero,
        gravity_x=zero,
        gravity_y=zero,
        gravity_z=np.full_like(step, gravity),
    )


def circle(radius: float, gravity: float, mesh: float = _MESH) -> Road:
    """Give a level circle."""
    return level_road([(2.0 * math.pi * radius, 1.0 / radius)], gravity, mesh)


def oval(straight: float, radius: float, gravity: float, mesh: float = _MESH) -> Road:
    """Give a level oval of two straights and two semicircles."""
    half = (math.pi * radius, 1.0 / radius)
    return level_road([(straight, 0.0), half, (straight, 0.0), half], gravity, mesh)


def straight_from_rest(length: float, gravity: float) -> Road:
    """Give a straight that starts and ends at one point where only a crawl holds the road."""
    n = round(length / _STRAIGHT_MESH)
    inner = (length - 2.0 * _FIRST_STEP) / n
    step = np.concatenate(([_FIRST_STEP], np.full(n, inner), [_FIRST_STEP]))
    curvature = np.zeros_like(step)
    curvature[0] = 1e18
    return road_with(step, curvature, gravity)


def segment_times(road: Road, speed: FloatArray) -> FloatArray:
    """Time from each point to the next [s], (n,), at a steady acceleration between them."""
    return np.asarray(2.0 * road.step / (speed + np.roll(speed, -1)))


def _driven(car: tuple[Vehicle, Driveline], road: Road) -> tuple[FloatArray, float]:
    speed, _ = fastest_lap(*car, road)
    return speed, float(np.sum(segment_times(road, speed)))


def _circle_laps(given: Inputs) -> Results:
    """Steady speed and lap on circles (V8-01)."""
    found = [
        _driven(point_mass(mass=1000.0, friction=friction), circle(radius, given["g"]))
        for friction, radius in given["cases_mu_R"]
    ]
    return {"v_m_s": [float(speed.min()) for speed, _ in found], "lap_s": [time for _, time in found]}


def _circle_with_downforce(given: Inputs) -> Results:
    """Circle with downforce, without and with drag (V8-02)."""
    computed: dict[str, float] = {}
    for name in ("A", "B"):
        one = given[name]
        car = point_mass(
            mass=one["m"], friction=one["mu"], downforce=one["half_rho_ClA"], drag=one["half_rho_CdA"]
        )
        speed, time = _driven(car, circle(one["R"], given["g"]))
        computed[f"{name}_v"] = float(speed.min())
        if name == "A":
            computed["A_lap_s"] = time
    return computed


def _straight_constant(given: Inputs) -> Results:
    """Rest to rest at constant acceleration and braking (V8-03)."""
    mass = 1000.0
    car = point_mass(
        mass=mass, friction=_NO_LIMIT, pull=mass * given["a_acc"], brake_force=mass * given["a_brk"]
    )
    road = straight_from_rest(given["L_m"], 9.81)
    speed, time = _driven(car, road)
    switch = float(np.sum(road.step[: int(np.argmax(speed))]))
    return {"v_peak": float(speed.max()), "t_s": time, "s_switch_m": switch}


def _straight_power(given: Inputs) -> Results:
    """Rest to rest: one driven axle's traction, then power, then all the grip in braking (V8-04)."""
    car = point_mass(
        mass=given["m"],
        friction=given["mu"],
        power=given["P_W"],
        rear_share=given["driven_axle_share"],
        rear_drive_share=1.0,
    )
    road = straight_from_rest(given["L_m"], given["g"])
    speed, limit = fastest_lap(*car, road)
    along = np.cumsum(road.step) - road.step
    peak = int(np.argmax(speed))
    powered = int(np.argmax(limit[:peak] == POWER))
    spent = segment_times(road, speed)
    return {
        "v1": float(speed[powered]),
        "t1": float(np.sum(spent[:powered])),
        "s1": float(along[powered]),
        "v_peak": float(speed[peak]),
        "brake_distance_m": float(np.sum(road.step) - along[peak]),
        "t_total_s": float(np.sum(spent)),
    }


def _oval_parts(car: tuple[Vehicle, Driveline], given: Inputs) -> Results:
    road = oval(given["L_straight"], given["R"], given["g"])
    speed, _ = fastest_lap(*car, road)
    spent = segment_times(road, speed)
    straight = round(given["L_straight"] / _MESH)
    return {
        "length_m": float(np.sum(road.step)),
        "v_corner": float(speed.min()),
        "v_peak": float(speed.max()),
        "t_straight": float(np.sum(spent[:straight])),
        "t_corner": float(np.sum(spent[straight : road.step.size // 2])),
        "lap_s": float(np.sum(spent)),
    }


def _oval_constant(given: Inputs) -> Results:
    """Oval with constant acceleration and braking (V8-05)."""
    mass = 1100.0
    car = point_mass(
        mass=mass, friction=given["mu"], pull=mass * given["a_acc"], brake_force=mass * given["a_brk"]
    )
    return _oval_parts(car, given)


def _oval_power(given: Inputs) -> Results:
    """Oval with constant power, and drag and rolling resistance where given (V8-06, V8-07)."""
    car = point_mass(
        mass=given["m"],
        friction=given["mu"],
        power=given["P_W"],
        drag=given.get("half_rho_CdA", 0.0),
        rolling_resistance=given.get("Crr", 0.0),
    )
    return _oval_parts(car, given)


def _circles_or_power(given: Inputs) -> Results:
    """Steady circles of a car with downforce, held by grip or by power (V8-09)."""
    computed: dict[str, float] = {}
    for radius in given["radii"]:
        for friction in given["mu"]:
            car = point_mass(
                mass=given["m"],
                friction=friction,
                power=given["P_W"],
                drag=given["kx_Ns2_m2"],
                downforce=given["kz_Ns2_m2"],
            )
            road = circle(radius, given["g"], mesh=1.0)
            speed, limit = fastest_lap(*car, road)
            name = f"R{radius:g}_mu{friction:g}".replace(".", "p")
            computed[name] = float(speed.min())
            computed[f"power_needed_kW_{name}"] = (
                float(np.mean(report(*car, road, speed, limit, 1.0).engine_power)) / 1e3
            )
    return computed


def _wheel_loads(given: Inputs) -> Results:
    """Wheel loads at states of speed, path and lateral acceleration (V8-10)."""
    car, _ = point_mass(mass=given["m"], friction=10.0)
    wheelbase = given["lf"] + given["lr"]
    pressure_area = 0.5 * given["rho"] * given["A"]
    moved = given["m"] * given["h"] / given["mean_track"]
    roll = given["k_roll"]
    front = car.front._replace(
        track=given["mean_track"], lift=-pressure_area * given["cLf"], transfer=roll * moved
    )
    rear = car.rear._replace(
        track=given["mean_track"], lift=-pressure_area * given["cLr"], transfer=(1.0 - roll) * moved
    )
    car = car._replace(
        wheelbase=wheelbase,
        rear_load_share=given["lf"] / wheelbase,
        height_share=given["h"] / wheelbase,
        front=front,
        rear=rear,
    )
    loads = []
    for speed, along, lateral in given["states_v_ax_ay"]:
        pair = tyres(car, float(speed), given["m"] * along, float(lateral), given["g"])
        loads.append([load for axle in pair for load in (axle.load_left, axle.load_right)])
    return {"Fz_fl_fr_rl_rr": loads, "sums": [sum(four) for four in loads]}


def _clothoid_time(given: Inputs) -> Results:
    """Time at the lateral limit through a curvature that grows with distance (V8-08 B)."""
    n = round(given["L"] / _MESH)
    middles = (np.arange(n) + 0.5) / n
    ramp = given["kappa0"] + (given["kappa1"] - given["kappa0"]) * middles
    tighter = np.concatenate((ramp, ramp[::-1]))
    # unlimited pull and brakes, so that the corner speed alone holds everywhere
    car = point_mass(mass=1000.0, friction=_NO_LIMIT, side_friction=given["mu"])
    road = road_with(np.full(2 * n, given["L"] / n), tighter, given["g"])
    _, time = _driven(car, road)
    return {"t_B": 0.5 * time}


RUNS: dict[str, Run] = {
    "driven_circle": _circle_laps,
    "driven_circle_with_downforce": _circle_with_downforce,
    "driven_straight_constant_limits": _straight_constant,
    "driven_straight_constant_power": _straight_power,
    "driven_oval_constant_limits": _oval_constant,
    "driven_oval_constant_power": _oval_power,
    "driven_circles_or_power": _circles_or_power,
    "driven_clothoid": _clothoid_time,
    "driven_wheel_loads": _wheel_loads,
}
