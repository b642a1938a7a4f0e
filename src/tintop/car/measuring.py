"""What tells a number of the car better, by the kind of number; common practice, no source."""

from fnmatch import fnmatchcase

_GRIP = "log a session with a satellite logger and note the steady cornering g"
_BRAKING = "log a session with a satellite logger and note the braking g"
_SCALES = "weigh the car on corner scales, driver and fuel aboard"
_SHEET = "get a rolling-road sheet"
_GAUGES = "write down the highest coolant and oil temperature of each session"
_DISCS = "put temperature paint on the discs and note how hot they were after each session"
_DEEDS = (
    ("tyre_*.friction_longitudinal", _BRAKING),
    ("tyre_*.slide_slip", _BRAKING),
    (
        "tyre_*.friction_wet_share",
        "log a wet session with a satellite logger and note the steady cornering g",
    ),
    ("tyre_*.friction_*", _GRIP),
    ("tyre_*.load_sensitivity", f"{_GRIP} in a slow and in a fast corner"),
    ("tyre_*.camber_*", f"{_GRIP} with two settings of camber"),
    ("tyre_*.temp_*", "take tread temperatures as the car comes in, and the lap times with them"),
    ("tyre_*.wear_*", "measure the tread before and after a session"),
    ("tyre_*.tread_depth*", "measure the tread with a depth gauge"),
    ("tyre_*.pressure_*", "read cold and hot pressures in every session"),
    ("tyre_*.radius", "roll the car one turn of the wheel and measure the way"),
    ("tyre_*.rolling_resistance", "coast down from 60 km/h on a level road and note the seconds"),
    ("masses.cg_height", "weigh the car level, and again with the rear raised"),
    ("masses.tank_*", "measure where the tank sits"),
    ("masses.*", _SCALES),
    ("dimensions.*", "measure it with a tape"),
    ("aero.drag_area", "coast down from 120 km/h on a level road, both ways, and note the seconds"),
    ("aero.*", "log damper travel at two steady speeds on the straight"),
    ("engine.torques", _SHEET),
    ("engine.specific_consumption", "fill up before and after a session and divide the litres by the laps"),
    ("engine.*", _SHEET),
    ("gearbox.shift_time", "log a session and read from it how long the drive is gone in a gear change"),
    ("gearbox.efficiency", f"{_SHEET} with the run-down"),
    ("gearbox.differential.*", "turn one driven wheel with a torque wrench, the other on the ground"),
    ("gearbox.*", "count the turns of the engine for one turn of the wheels in every gear"),
    ("suspension.camber_recovery_*", "measure the camber at three ride heights"),
    ("suspension.camber_*", "measure the camber with a gauge, driver aboard"),
    ("suspension.roll_centre_*", "measure where the suspension is mounted, from the floor up"),
    ("suspension.*", "have the springs rated and measure the bars and their levers"),
    ("brakes.*.pad.thickness*", "measure the pads"),
    ("brakes.*.pad.wear_*", "measure the pads before and after a session"),
    ("brakes.*.disc_wear_rate", "measure the discs before and after an event"),
    ("brakes.*.disc_thickness*", "measure the discs with a micrometer"),
    ("brakes.*.pad.*", "ask the maker of the pads for their friction against temperature"),
    ("brakes.fluid_*", "have the boiling point of the fluid tested"),
    ("brakes.*.air_cooling", _DISCS),
    ("brakes.*.heat_*", _DISCS),
    ("brakes.*.caliper_*", _DISCS),
    ("brakes.*", "measure pistons, cylinders and discs"),
    ("cooling.*", _GAUGES),
    ("tank.*", "run the tank dry in the paddock and fill it from a measured can"),
    ("fuel.*", "ask for the data sheet of the fuel"),
)


def deed_for(path: str) -> str:
    """What would tell a number, such as "measure the tread with a depth gauge"."""
    return next(
        (deed for pattern, deed in _DEEDS if fnmatchcase(path, pattern)),
        "find it in the papers of the car, or measure it",
    )


def words_of_path(path: str) -> str:
    """Say a number's path in words, the part first: "front tyre, friction lateral"."""
    steps = path.split(".")
    if steps[0].startswith("tyre_"):
        steps[0] = f"{steps[0].removeprefix('tyre_')} tyre"
    if len(steps) > 2 and steps[0] == "brakes" and steps[1] in ("front", "rear"):
        steps[:2] = [f"{steps[1]} brakes"]
    return ", ".join(step.replace("_", " ") for step in steps)
