"""Perches, spring lengths and track rods: what a spanner turns when springs, heights and toe change."""


def loaded_length(free_length: float, wheel_load: float, motion_ratio: float, rate: float) -> float:
    """Give the length of a coil spring that carries a sprung load at the wheel [m].

    free_length [m], wheel_load [N], rate of the spring [N/m]; motion_ratio = spring travel per wheel travel.
    Source: virtual work; a straight spring.
    """
    return free_length - wheel_load / motion_ratio / rate


def body_over_wheel(ride_height: float, tyre_radius: float, load: float, tyre_rate: float) -> float:
    """Give how high the body's reference point stands over the wheel's centre [m], the tyre pressed down.

    ride_height above the road [m]; tyre_radius unloaded [m]; load on the tyre [N]; tyre_rate [N/m].
    Source: geometry.
    """
    return ride_height - tyre_radius + load / tyre_rate


def perch_rise(motion_ratio: float, body_rise: float, longer: float) -> float:
    """Give how far a perch goes up [m] for the body to rise so far over the wheel on a spring so much longer.

    body_rise, longer [m]. Source: geometry; the perch and the spring stand on one another.
    """
    return motion_ratio * body_rise - longer


def rod_growth(arm: float, toe: float) -> float:
    """Give how much longer a track rod gets [m] for a wheel to turn inwards by a small angle [rad].

    arm from the steering axis back to the rod's outer end [m], negative in front of it. Source: geometry,
    small angles.
    """
    return arm * toe
