"""What a race forecast takes off pads, discs and treads, for the logbook to set beside its own rates."""

import numpy as np
from numpy.typing import NDArray

from tintop.car.described import DescribedCar
from tintop.logbook.entries import Measure
from tintop.logbook.wear import ForecastWear, Four
from tintop.race.march import RaceTrace

FloatArray = NDArray[np.float64]
_RATES = {
    Measure.PAD_THICKNESS: ("brakes.front.pad.wear_rate", "brakes.rear.pad.wear_rate"),
    Measure.DISC_THICKNESS: ("brakes.front.disc_wear_rate", "brakes.rear.disc_wear_rate"),
    Measure.TREAD_DEPTH: ("tyre_front.wear_rate", "tyre_rear.wear_rate"),
}


def forecast_wear(described: DescribedCar, trace: RaceTrace) -> ForecastWear:
    """Thickness used by wheel in the race [m], new parts fitted at stops counted with the old ones.

    The doubt is the standard uncertainty of the car's wear rates as a share of them; other doubts of the
    forecast are left out, which makes the range narrower than it is.
    """
    car = described.car
    front, rear = car.brakes.front, car.brakes.rear
    begins = {
        Measure.PAD_THICKNESS: (trace.pad_thickness, front.pad.thickness, rear.pad.thickness),
        Measure.DISC_THICKNESS: (trace.disc_thickness, front.disc_thickness, rear.disc_thickness),
        Measure.TREAD_DEPTH: (trace.tread_depth, car.tyre_front.tread_depth, car.tyre_rear.tread_depth),
    }
    renewed = {
        Measure.PAD_THICKNESS: {lap for lap, stop in trace.stops_made if stop.new_pads},
        Measure.DISC_THICKNESS: set[int](),
        Measure.TREAD_DEPTH: {lap for lap, stop in trace.stops_made if stop.new_tyres},
    }
    return ForecastWear(
        running=float(np.sum(trace.lap_time)),
        used={
            measure: _used(left, np.array([first, first, last, last]), renewed[measure])
            for measure, (left, first, last) in begins.items()
        },
        doubt={measure: _doubt(described, paths) for measure, paths in _RATES.items()},
    )


def _used(left: FloatArray, new: FloatArray, renewed: set[int]) -> Four:
    """Sum of what each lap took: from the end of the lap before, or from new parts after a stop for them."""
    before = np.vstack((new, left[:-1]))
    for lap in renewed:
        if lap < left.shape[0]:
            before[lap] = new
    used = np.sum(np.maximum(before - left, 0.0), axis=0)
    return float(used[0]), float(used[1]), float(used[2]), float(used[3])


def _doubt(described: DescribedCar, paths: tuple[str, str]) -> Four:
    front, rear = (
        known.uncertainty / known.value if (known := described.known[path]).value > 0.0 else 0.0
        for path in paths
    )
    return front, front, rear, rear
