"""Every computation a published case may name."""

from tintop.proof import (
    anchor_cases,
    brake_cases,
    chassis_cases,
    frame_cases,
    heat_cases,
    lap_cases,
    point_mass_cases,
    race_cases,
    ride_cases,
    road_cases,
    spring_cases,
    strut_cases,
    tyre_cases,
    weighing_cases,
)
from tintop.proof.figures import Run

RUNS: dict[str, Run] = {
    **chassis_cases.RUNS,
    **tyre_cases.RUNS,
    **brake_cases.RUNS,
    **heat_cases.RUNS,
    **road_cases.RUNS,
    **point_mass_cases.RUNS,
    **lap_cases.RUNS,
    **race_cases.RUNS,
    **ride_cases.RUNS,
    **frame_cases.RUNS,
    **anchor_cases.RUNS,
    **spring_cases.RUNS,
    **strut_cases.RUNS,
    **weighing_cases.RUNS,
}
