"""Whether a set-up can be put on the car: its parts are there, its clicks, holes and turns within room."""

import math

from tintop.car.chassis import CORNERS, Chassis, Damper, End
from tintop.car.setup import Setup
from tintop.errors import BadInput, Problem, did_you_mean

MOST_CAMBER = 1.5  # [deg] of a wheel that leans outwards; common practice, no source
MOST_ASKEW = 30.0  # [mm] between left and right; common practice, no source


def check_setup(setup: Setup, chassis: Chassis) -> None:
    """Raise BadInput with every problem of a set-up on this car."""
    problems = setup_problems(setup, chassis)
    if problems:
        raise BadInput(
            *(
                Problem(
                    where=f"set-up {setup.name}, {each.where}",
                    found=each.found,
                    expected=each.expected,
                    cure=each.cure,
                )
                for each in problems
            )
        )


def setup_problems(setup: Setup, chassis: Chassis) -> tuple[Problem, ...]:
    """Every problem of a set-up on this car; `where` is a field such as "front.springs" or "FL.bump"."""
    found = [
        *_names("tyres", setup.tyres, [one.name for one in chassis.tyre_sets]),
        *_names("pads", setup.pads, [one.name for one in chassis.pad_sets]),
    ]
    for end in End:
        found += _end(setup, chassis, end)
    if not any(abs(setup.final_drive - one) < 1e-6 for one in chassis.final_drives):
        there = ", ".join(f"{one:g}" for one in chassis.final_drives)
        found.append(_problem("final_drive", f"{setup.final_drive:g}", f"one there is: {there}"))
    bias = chassis.bias
    if not bias.least_turns <= setup.brake_bias_turns <= bias.most_turns:
        room = f"{bias.least_turns:g} to {bias.most_turns:g} turns of the {bias.device.value}"
        expected = room if bias.most_turns > bias.least_turns else "0: the chassis names nothing that turns"
        found.append(_problem("brake_bias_turns", f"{setup.brake_bias_turns:g} turns", expected))
    if setup.ballast or setup.ballast_place:
        found += _ballast(setup, chassis)
    return tuple(found)


def _end(setup: Setup, chassis: Chassis, end: End) -> list[Problem]:
    axle, chosen = chassis.at(end), setup.at(end)
    found = [
        *_names(f"{end.value}.springs", chosen.spring, [one.name for one in axle.springs]),
        *_names(f"{end.value}.bar", chosen.bar, [one.name for one in axle.bars]),
        *_names(f"{end.value}.dampers", chosen.damper, [one.name for one in axle.dampers]),
    ]
    found += _stance(setup, end)
    bar = next((one for one in axle.bars if one.name == chosen.bar), None)
    if bar is not None and not 0 <= chosen.bar_hole <= len(bar.roll_stiffness):
        expected = f"0 (unhooked) to {len(bar.roll_stiffness)}, softest first"
        found.append(_problem(f"{end.value}.hole", f"hole {chosen.bar_hole}", expected))
    damper = next((one for one in axle.dampers if one.name == chosen.damper), None)
    if damper is not None:
        found += _clicks(setup, damper, end)
    return found


def _stance(setup: Setup, end: End) -> list[Problem]:
    """Slips: a camber without its sign, a height with a digit wrong."""
    found = []
    corners = CORNERS[:2] if end is End.FRONT else CORNERS[2:]
    for name in corners:
        camber = math.degrees(setup.corner(name).camber)
        if camber > MOST_CAMBER:
            cure = f'Is it "{-camber:.2g} deg"?'
            expected = f"at most {MOST_CAMBER:g} deg, negative = top inwards"
            found.append(_problem(f"{name}.camber", f"{camber:+.2g} deg", expected, cure))
    left, right = (1e3 * setup.corner(name).ride_height for name in corners)
    if abs(left - right) > MOST_ASKEW:
        said = f"{left:.0f} mm beside {right:.0f} mm"
        expected = f"left and right within {MOST_ASKEW:g} mm"
        found.append(_problem(f"{corners[1]}.ride_height", said, expected, "Is a digit wrong?"))
    return found


def _clicks(setup: Setup, damper: Damper, end: End) -> list[Problem]:
    found = []
    corners = CORNERS[:2] if end is End.FRONT else CORNERS[2:]
    for name in corners:
        corner = setup.corner(name)
        if damper.is_linked and corner.bump != corner.rebound:
            said = f"{corner.bump} bump and {corner.rebound} rebound"
            found.append(_problem(f"{name}.bump", said, f"the same clicks: {damper.name} has one knob"))
        for way, clicks, most in (
            ("bump", corner.bump, damper.bump.most_clicks),
            ("rebound", corner.rebound, damper.rebound.most_clicks),
        ):
            if clicks > most:
                expected = f"0 to {most} clicks from full soft, all that {damper.name} has"
                found.append(_problem(f"{name}.{way}", f"{clicks} clicks", expected))
    return found


def _ballast(setup: Setup, chassis: Chassis) -> list[Problem]:
    names = [one.name for one in chassis.ballast_places]
    place = next((one for one in chassis.ballast_places if one.name == setup.ballast_place), None)
    if place is None:
        if setup.ballast_place or names:
            return _names("ballast_place", setup.ballast_place, names)
        return []
    if setup.ballast > place.most:
        expected = f"at most the {place.most:g} kg that {place.name} may carry"
        return [_problem("ballast", f"{setup.ballast:g} kg", expected)]
    return []


def _names(where: str, name: str, there: list[str]) -> list[Problem]:
    if name in there:
        return []
    expected = "one of: " + "; ".join(there) if there else "nothing: the chassis names none"
    return [_problem(where, repr(name), expected, did_you_mean(name, there))]


def _problem(where: str, found: str, expected: str, cure: str = "") -> Problem:
    return Problem(where=where, found=found, expected=expected, cure=cure)
