"""The predicted lap driven again with a few numbers changed, on the path found for the car as it is."""

from tintop.garage.predictions import Prediction
from tintop.lap.flying_lap import flying_lap
from tintop.lap.trace import LapTrace
from tintop.lap.what_if import Gain, Levers, changed_car, what_steps_buy


def drive_with(prediction: Prediction, levers: Levers) -> LapTrace:
    """The lap of the car with its levers elsewhere; BadInput where the car may not be so."""
    quick = prediction.quick
    return flying_lap(changed_car(quick.described.car, levers), quick.path, quick.weather)


def steps_buy(prediction: Prediction) -> tuple[Gain, ...]:
    """What 10 kg, 10 hp and 0.1 of grip buy."""
    quick = prediction.quick
    return what_steps_buy(
        quick.described.car, quick.path, quick.weather, worth=quick.worth, known=quick.described.known
    )
