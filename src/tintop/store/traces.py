"""A lap written metre by metre as CSV, SI units in the column names."""

import csv
from pathlib import Path

import numpy as np

from tintop.errors import refuse
from tintop.lap.trace import CORNERS, FloatArray, LapTrace

_UNITS = {
    "x": "m",
    "y": "m",
    "lateral_curvature": "1_per_m",
    "engine_speed": "rad_per_s",
    "drive_force": "n",
    "brake_force": "n",
    "engine_power": "w",
    "fuel_flow": "kg_per_s",
    "drag_force": "n",
    "rolling_force": "n",
    "inertia_force": "n",
    "wheel_load": "n",
    "brake_power": "w",
    "tyre_slip_power": "w",
}


def write_trace(lap: LapTrace, path: Path) -> None:
    """Write one row per point; the file appears whole or not at all. BadInput where it cannot be written."""
    names = ["distance_m", "time_s", "speed_mps", "longitudinal_mps2", "lateral_mps2"]
    columns = [lap.distance, lap.time, lap.speed, lap.longitudinal_acceleration, lap.lateral_acceleration]
    for channel, values in lap.channels.items():
        unit = _UNITS.get(channel, "")
        for name, column in _columns(channel, values):
            names.append(f"{name}_{unit}" if unit else name)
            columns.append(column)
    part = path.with_name(path.name + ".part")
    try:
        with part.open("w", newline="", encoding="utf-8") as file:
            writer = csv.writer(file)
            writer.writerow(names)
            writer.writerows([f"{value:.8g}" for value in row] for row in np.column_stack(columns))
        part.replace(path)
    except OSError as error:
        part.unlink(missing_ok=True)
        raise refuse(
            str(path), f"a place that cannot be written ({error.strerror})", "a folder that exists"
        ) from None


def _columns(channel: str, values: FloatArray) -> list[tuple[str, FloatArray]]:
    if values.ndim == 1:
        return [(channel, values)]
    return [(f"{channel}_{corner.lower()}", values[:, place]) for place, corner in enumerate(CORNERS)]
