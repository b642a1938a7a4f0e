"""A set-up, its differences and its jobs in the words and units of who holds the spanner."""

import math
from collections.abc import Iterator, Mapping, Sequence

from tintop.car.changeover_job import Check, Job
from tintop.car.changeover_steps import Step
from tintop.car.chassis import CORNERS, Chassis, End, Item
from tintop.car.setup_differences import Value
from tintop.car.strut_top import TRACK_ROD_PITCH
from tintop.car.wheel_paths import Strut
from tintop.owner_units import MINUS, in_owner_units
from tintop.physics.toe import toe_over_rim

_LITTLE_TURN = 0.05  # below it nothing is turned
_LITTLE_HEIGHT = 5e-4  # [m] below what a rule reads between sill and floor
_LITTLE_MOVE = 5e-5  # [m] below what a rule reads
_PARTS = {Item.TYRES, Item.PADS, Item.SPRINGS, Item.DAMPERS}


def value_words(item: Item, value: Value, rim_diameter: float, units: Mapping[str, str]) -> str:
    """One value as it stands on a sheet; toe across the rim [m]."""
    if isinstance(value, str):
        return value
    match item:
        case Item.RIDE_HEIGHT:
            return in_owner_units(value, "length", units, 0)
        case Item.CAMBER:
            return in_owner_units(value, "angle", units, 2)
        case Item.TOE:
            return toe_words(value, rim_diameter, units)
        case Item.BUMP | Item.REBOUND:
            return f"{value:.0f} from full soft"
        case Item.BRAKE_BIAS:
            return bias_words(value)
        case Item.FINAL_DRIVE:
            return f"{value:.3g}"
        case Item.FUEL:
            return in_owner_units(value, "volume", units)
        case Item.PRESSURE:
            return in_owner_units(value, "pressure", units)
    return f"{value:g}"


def toe_words(toe: float, rim_diameter: float, units: Mapping[str, str]) -> str:
    """One wheel's toe across its rim, and as an angle."""
    if abs(toe) < 1e-7:
        return "none"
    way = "in" if toe > 0.0 else "out"
    across = in_owner_units(abs(toe_over_rim(toe, rim_diameter)), "length", units)
    return f"{across} {way} ({abs(math.degrees(toe)) * 60.0:.0f}′)"


def bias_words(turns: float) -> str:
    """Where the brake balance stands."""
    if not turns:
        return "base setting (0 turns)"
    return f"{_turns(turns)} to the {'front' if turns > 0.0 else 'rear'} of base"


def job_words(job: Job, chassis: Chassis, units: Mapping[str, str]) -> tuple[str, ...]:
    """What to do, step by step; left and right in one line where they are alike."""
    lines = [(step.place, _step(job, step, chassis, units)) for step in job.steps]
    words = list(_together(lines))
    if abs(job.height_by_tyre) > _LITTLE_HEIGHT:
        words.append(_by_tyre(job, units))
    if job.toe_moves is not None and job.end is not None:
        words += [toe_moves_words(job.toe_moves, job.end, chassis, units)]
    elif job.item is Item.CAMBER:
        words.append("The toe moves with it by what only a measurement tells.")
    return tuple(words)


def _by_tyre(job: Job, units: Mapping[str, str]) -> str:
    """What of a change of height the tyres do, and how surely their radius is known."""
    moved = job.steps[0].move or 0.0
    much = in_owner_units(abs(job.height_by_tyre), "length", units, 0)
    tyre = "larger" if job.height_by_tyre > 0.0 else "smaller"
    known = " (radius assumed: measure both)" if job.is_radius_assumed else ""
    if moved * job.height_by_tyre > 0.0:
        return f"{much} of it by the {tyre} tyre{known}."
    return f"The {tyre} tyre moves it {much} the other way{known}."


def toe_moves_words(toe: float, end: End, chassis: Chassis, units: Mapping[str, str]) -> str:
    """What camber and height do to the toe by themselves, and what brings it back."""
    axle = chassis.at(end)
    across = toe_over_rim(toe, axle.rim_diameter)
    if abs(across) < _LITTLE_MOVE:
        return "The toe stays."
    moved = in_owner_units(abs(across), "length", units)
    way = "in" if across > 0.0 else "out"
    return f"The toe of each wheel moves by {moved} towards {way} at the rim: set it again after this."


def check_words(check: Check, units: Mapping[str, str]) -> str:
    """What has to hold after a job."""
    words = check.words[:1].upper() + check.words[1:]
    if check.torque is not None:
        words += f"; torque {in_owner_units(check.torque, 'torque', units)}"
    if check.again_after is not None:
        words += (
            f", and again after the first session or {in_owner_units(check.again_after, 'distance', units)}"
        )
    return f"{words}."


def minutes_words(minutes: float | None) -> str:
    """Minutes as a person says them."""
    if minutes is None:
        return "not written down"
    if minutes < 60.0:
        return f"{minutes:.0f} min"
    hours, rest = divmod(round(minutes), 60)
    return f"{hours} h {rest:02d} min"


def _together(lines: Sequence[tuple[str, str]]) -> Iterator[str]:
    alike: dict[str, list[str]] = {}
    for place, words in lines:
        alike.setdefault(words, []).append(place)
    for words, places in alike.items():
        named = " and ".join(place for place in places if place in CORNERS)
        yield f"{named}: {words}" if named else f"{words[:1].upper()}{words[1:]}"


def _step(job: Job, step: Step, chassis: Chassis, units: Mapping[str, str]) -> str:
    item = job.item
    assert item is not None
    rim = chassis.at(job.end).rim_diameter if job.end else 0.0
    before, after = (value_words(item, each, rim, units) for each in (step.before, step.after))
    from_to = f"{before} to {after}" if before != after else f"{after}, as before"
    match item:
        case Item.RIDE_HEIGHT:
            return f"{_perch(job, step, chassis, units)}; {from_to}."
        case Item.CAMBER:
            return f"{_top(job, step, chassis, units)}; {from_to}."
        case Item.TOE:
            return f"{_toe(job, step, chassis, units)}; {from_to}."
        case Item.BUMP | Item.REBOUND:
            if step.turns is None:
                return f"to {after}, counted afresh: the dampers are others."
            clicks = abs(step.turns)
            way = "stiffer" if step.turns > 0.0 else "softer"
            return f"{clicks:.0f} click{'s' if clicks != 1.0 else ''} {way}: to {after}."
        case Item.BRAKE_BIAS:
            turns = step.turns or 0.0
            return f"{_turns(turns)} to the {'front' if turns > 0.0 else 'rear'}; {from_to}."
        case _ if item in _PARTS:
            return f"off: {before}; on: {after}."
        case Item.BAR:
            return f"{_holes(before, after)}."
    return f"{'from ' if before != after else ''}{from_to}."


def _holes(before: str, after: str) -> str:
    (bar, _, hole), (other, _, new) = before.rpartition(", "), after.rpartition(", ")
    return f"{hole} to {new} of {bar}" if bar == other else f"off: {before}; on: {after}"


def _perch(job: Job, step: Step, chassis: Chassis, units: Mapping[str, str]) -> str:
    assert job.end is not None
    pitch = chassis.at(job.end).perch_pitch
    if pitch is None:
        return "no perch that turns: by spacers or other springs"
    if step.turns is None:
        return "wind the perch until the height is right, the springs' free lengths are not written down"
    if abs(step.turns) < _LITTLE_TURN:
        return "the perch stays"
    way = "up" if step.turns > 0.0 else "down"
    return f"perch {_turns(step.turns)} {way} ({in_owner_units(pitch, 'length', units)} a turn)"


def _top(job: Job, step: Step, chassis: Chassis, units: Mapping[str, str]) -> str:
    assert job.end is not None
    if step.move is None:
        is_strut = isinstance(chassis.at(job.end).wheel_path, Strut)
        return (
            "strut top by measurement: further than the points tell"
            if is_strut
            else "by shims or bolts, measured"
        )
    if abs(step.move) < _LITTLE_MOVE:
        return "the strut top stays"
    way = "inwards" if step.move > 0.0 else "outwards"
    return f"strut top {in_owner_units(abs(step.move), 'length', units)} {way}"


def _toe(job: Job, step: Step, chassis: Chassis, units: Mapping[str, str]) -> str:
    assert job.end is not None
    if step.move is None:
        return "by strings: what moved it is not known"
    if abs(step.move) < _LITTLE_MOVE:
        return "stays: measure it"
    way = "in" if step.move > 0.0 else "out"
    words = f"{in_owner_units(abs(step.move), 'length', units)} towards {way} at the rim"
    if step.turns is None or abs(step.turns) < _LITTLE_TURN:
        return words
    longer = "longer" if step.turns > 0.0 else "shorter"
    pitch = in_owner_units(TRACK_ROD_PITCH, "length", units)
    return f"{words}: track rod about {_turns(step.turns)} {longer} (thread of {pitch} taken: measure yours)"


def _turns(turns: float) -> str:
    """So many turns, without their way."""
    number = f"{abs(turns):.1f}".removesuffix(".0").replace("-", MINUS)
    return f"{number} turn{'' if number == '1' else 's'}"
