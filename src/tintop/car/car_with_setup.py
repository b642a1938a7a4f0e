"""The car with a set-up on it: springs, bars, tyres, camber and balance put into the numbers of the lap."""

from dataclasses import replace

from tintop.car.brakes import Brakes
from tintop.car.car import Car, Masses
from tintop.car.chassis import AxleChassis, BiasDevice, Chassis, End
from tintop.car.setup import CornerSetup, Setup
from tintop.car.tyres import Tyre
from tintop.checks import require
from tintop.errors import refuse
from tintop.event import Weather
from tintop.physics.ride import roll_stiffness_of_springs, wheel_rate
from tintop.physics.tyre_pressure import pressure_gauge_at

_WET = 0.5  # of the road's wetness, from which tyres warm as in the rain


def car_with_setup(car: Car, chassis: Chassis, setup: Setup, weather: Weather) -> Car:
    """Give the car as the set-up has it on such a day; BadInput naming what is not there.

    Left and right are taken at their mean, for the lap knows one camber and one pressure an axle. Toe, caster
    and clicks do not move these numbers: `lap.setup_effect` knows what they do.
    """
    suspension = car.suspension
    dimensions = car.dimensions
    tyres, pads = chassis.tyres(setup.tyres), chassis.pads(setup.pads)
    return replace(
        car,
        masses=_masses(car, chassis, setup),
        suspension=replace(
            suspension,
            roll_stiffness_front=roll_stiffness(chassis, setup, End.FRONT, dimensions.track_front),
            roll_stiffness_rear=roll_stiffness(chassis, setup, End.REAR, dimensions.track_rear),
            camber_front=mean(setup, End.FRONT, "camber"),
            camber_rear=mean(setup, End.REAR, "camber"),
        ),
        tyre_front=_tyre(tyres.front, chassis.front, setup, End.FRONT, weather),
        tyre_rear=_tyre(tyres.rear, chassis.rear, setup, End.REAR, weather),
        gearbox=replace(car.gearbox, final_drive=setup.final_drive),
        brakes=replace(
            _biased(car.brakes, chassis, setup),
            front=replace(car.brakes.front, pad=pads.front),
            rear=replace(car.brakes.rear, pad=pads.rear),
        ),
    )


def roll_stiffness(chassis: Chassis, setup: Setup, end: End, track: float) -> float:
    """An axle's roll stiffness [N·m/rad]: springs and bar side by side, the tyres in series with both."""
    axle, chosen = chassis.at(end), setup.at(end)
    hung = springs_in_roll(axle, setup, end, track) + axle.bar(chosen.bar).stiffness(chosen.bar_hole)
    tyres = roll_stiffness_of_springs(axle.tyre_rate, track)
    return hung * tyres / (hung + tyres)


def springs_in_roll(axle: AxleChassis, setup: Setup, end: End, track: float) -> float:
    """An axle's roll stiffness by its springs [N·m/rad]: at their base on a solid axle, else at the track.

    Source: T. D. Gillespie, Fundamentals of Vehicle Dynamics, SAE 1992, ch. 7 (from memory).
    """
    rate = wheel_rate(axle.spring(setup.at(end).spring).rate, axle.motion_ratio)
    return roll_stiffness_of_springs(rate, axle.spring_base or track)


def beyond_the_wheels(axle: AxleChassis, setup: Setup, end: End, track: float) -> float:
    """What an axle holds in roll beyond its rates at the wheels [N·m/rad]: its bar, less what a solid axle's
    springs lose by standing nearer together than its wheels.
    """
    chosen = setup.at(end)
    at_wheels = roll_stiffness_of_springs(
        wheel_rate(axle.spring(chosen.spring).rate, axle.motion_ratio), track
    )
    bar = axle.bar(chosen.bar).stiffness(chosen.bar_hole)
    return bar + springs_in_roll(axle, setup, end, track) - at_wheels


def mean(setup: Setup, end: End, name: str) -> float:
    """Mean of left and right of one number of an end's corners."""
    left, right = (float(getattr(corner, name)) for corner in setup.pair(end))
    return 0.5 * (left + right)


def hot_pressure(axle: AxleChassis, corner: CornerSetup, weather: Weather) -> float:
    """Gauge pressure [Pa] that a wheel's cold pressure comes to once its air has risen as usual.

    The cold pressure is taken as set at the day's air temperature. Source: as pressure_gauge_at.
    """
    rise = axle.tyre_air_rise_wet if weather.wetness >= _WET else axle.tyre_air_rise_dry
    return pressure_gauge_at(
        corner.pressure_cold, weather.air_temp, weather.air_temp + rise, weather.air_pressure
    )


def pressure_share(axle: AxleChassis, tyre: Tyre, hot: float) -> float:
    """Share of its best grip that a tyre keeps at a hot pressure off its target; 1 where no target is known.

    Source: common practice, no source: a few per cent lost a quarter off the target.
    """
    if tyre.pressure_hot is None:
        return 1.0
    return max(1.0 - axle.pressure_loss * (hot / tyre.pressure_hot - 1.0) ** 2, 0.5)


def _tyre(tyre: Tyre, axle: AxleChassis, setup: Setup, end: End, weather: Weather) -> Tyre:
    kept = [pressure_share(axle, tyre, hot_pressure(axle, corner, weather)) for corner in setup.pair(end)]
    share = 0.5 * sum(kept)
    return replace(
        tyre,
        friction_lateral=share * tyre.friction_lateral,
        friction_longitudinal=share * tyre.friction_longitudinal,
        pressure_cold=mean(setup, end, "pressure_cold"),
    )


def _masses(car: Car, chassis: Chassis, setup: Setup) -> Masses:
    """Ballast at its place, and the body at the set-up's ride heights."""
    masses, wheelbase = car.masses, car.dimensions.wheelbase
    raised = [
        share * (mean(setup, end, "ride_height") - chassis.at(end).ride_height)
        for end, share in ((End.FRONT, masses.front_share), (End.REAR, 1.0 - masses.front_share))
    ]
    sprung = masses.without_fuel - masses.unsprung_front - masses.unsprung_rear
    cg_height = masses.cg_height + sum(raised) * sprung / masses.without_fuel
    added = setup.ballast - masses.ballast
    if not added:
        return replace(masses, cg_height=cg_height)
    place = next((one for one in chassis.ballast_places if one.name == setup.ballast_place), None)
    if place is None:
        names = "; ".join(one.name for one in chassis.ballast_places) or "a place described in the chassis"
        raise refuse(f"set-up {setup.name}, ballast place", repr(setup.ballast_place), f"one of: {names}")
    require(
        setup.ballast <= place.most,
        f"set-up {setup.name}, ballast",
        f"{setup.ballast:g} kg",
        f"at most the {place.most:g} kg that {place.name} may carry",
    )
    whole = masses.without_fuel + added
    behind = ((1.0 - masses.front_share) * wheelbase * masses.without_fuel - place.x * added) / whole
    return replace(
        masses,
        ballast=setup.ballast,
        front_share=1.0 - behind / wheelbase,
        cg_height=(cg_height * masses.without_fuel + place.z * added) / whole,
    )


def _biased(brakes: Brakes, chassis: Chassis, setup: Setup) -> Brakes:
    bias, turns = chassis.bias, setup.brake_bias_turns
    require(
        bias.least_turns <= turns <= bias.most_turns,
        f"set-up {setup.name}, brake bias",
        f"{turns:g} turns",
        f"{bias.least_turns:g} to {bias.most_turns:g} turns of the {bias.device.value} from where it stands",
    )
    moved = turns * bias.share_per_turn
    if bias.device is BiasDevice.BAR:
        return replace(brakes, bar_front_share=brakes.bar_front_share + moved)
    if bias.device is BiasDevice.VALVE:
        return replace(brakes, rear_valve_share=brakes.rear_valve_share - moved)
    return brakes
