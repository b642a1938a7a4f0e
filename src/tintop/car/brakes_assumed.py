"""Which of the numbers behind the brakes' balance nobody measured or looked up."""

from collections.abc import Iterator

from tintop.car.brake_balance import engine_braking_rear
from tintop.car.chassis import BiasDevice
from tintop.car.front_first import SetBrakes
from tintop.known import Origin

_OF_AXLE = {
    "brakes.{}.pad.frictions": "pad friction",
    "brakes.{}.piston_area": "caliper pistons",
    "brakes.{}.effective_radius": "effective radius",
    "brakes.{}.master_cylinder_area": "brake cylinder",
    "tyre_{}.radius": "tyre radius",
}
_OF_CAR = {
    "brakes.rear_valve_share": "rear valve (taken as none, the less safe side)",
    "brakes.pedal_ratio": "pedal ratio",
    "brakes.boost": "servo",
    "brakes.pedal_force": "hardest push",
    "masses.front_share": "front share of the weight",
    "masses.cg_height": "height of the centre of gravity",
}
_GRIP, _BAR, _ENGINE = "tyre_{}.friction_longitudinal", "brakes.bar_front_share", "engine.friction_pressure"


def assumed_inputs(brakes: SetBrakes, are_temps_assumed: bool, is_grip_typed: bool) -> tuple[str, ...]:
    """Their names in words, the pads' temperatures among them; those of cold and hot pads always are."""
    temps = "cold, working and hot" if are_temps_assumed else "cold and hot"
    return *_assumed(brakes, is_grip_typed), f"temperatures of {temps} pads"


def _assumed(brakes: SetBrakes, is_grip_typed: bool) -> Iterator[str]:
    def is_assumed(path: str) -> bool:
        return path in brakes.known and brakes.known[path].origin is Origin.ASSUMED

    by_axle = _OF_AXLE if is_grip_typed else {**_OF_AXLE, _GRIP: "grip of the tyres"}
    for path, words in by_axle.items():
        ends = [end for end in ("front", "rear") if is_assumed(path.format(end))]
        if ends:
            yield f"{words} {' and '.join(ends)}"
    of_car = dict(_OF_CAR)
    if brakes.bias.device is BiasDevice.BAR:
        of_car[_BAR] = "balance bar"
    if engine_braking_rear(brakes.car):
        of_car[_ENGINE] = "friction of the engine"
    yield from (words for path, words in of_car.items() if is_assumed(path))
