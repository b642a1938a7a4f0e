"""Moving the top of a strut: the camber it gives, the toe that comes with it, and what mends that."""

import math
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from tintop.car.chassis import End
from tintop.car.wheel_motion import WheelPose, wheel_at
from tintop.car.wheel_paths import Strut, WheelPath
from tintop.checks import require
from tintop.physics.toe import toe_over_rim

TRACK_ROD_PITCH = 1.5e-3  # [m] a turn of the track rod's thread; common practice, no source: M12 to M14, fine


@dataclass(frozen=True, slots=True, kw_only=True)
class TopMove:
    """What moving a strut's top inwards does to one wheel at ride height.

    `toe_at_rim` [m] is across the rim, positive with the front inwards; `turns` is how far the track rod
    is turned to bring the toe back, positive = rod longer, each turn a `pitch` [m].
    `camber_with_toe_back` is the change of camber [rad] left when the toe is back.
    """

    inward: float
    camber: float
    toe: float
    toe_at_rim: float
    rod_longer: float
    turns: float
    pitch: float
    camber_with_toe_back: float


def top_moved(
    path: Strut, inward: float, rim_diameter: float = 0.42, pitch: float = TRACK_ROD_PITCH
) -> TopMove:
    """Give what moving the strut's top `inward` [m] does at ride height, and the track rod that mends toe.

    The wheel stays at its height. Toe is measured across `rim_diameter` [m]; `pitch` is the rise of the
    track rod's thread a turn [m]. BadInput as wheel_at.
    """
    moved = wheel_at(path, 0.0, 0.0, inward)
    turned = _toe_back(path, inward, moved)
    inner = np.array(path.track_rod_inner)
    outer = np.array(dict(turned.points)["track rod outer"])
    was = math.dist(path.track_rod_inner, path.track_rod_outer)
    longer = float(np.linalg.norm(outer - inner)) - was
    return TopMove(
        inward=inward,
        camber=moved.camber,
        toe=moved.toe,
        toe_at_rim=toe_over_rim(moved.toe, rim_diameter),
        rod_longer=longer,
        turns=longer / pitch,
        pitch=pitch,
        camber_with_toe_back=turned.camber,
    )


@lru_cache(maxsize=64)
def top_for_camber(path: Strut, change: float) -> float:
    """Give how far inwards [m] the strut's top goes for a change of camber [rad], toe as it comes.

    BadInput where the links cannot meet on the way. Solved by secants to a thousandth of a millimetre.
    """
    last, lean_last = 0.0, 0.0
    now = 1e-3 if change < 0.0 else -1e-3
    for _ in range(20):
        lean = wheel_at(path, 0.0, 0.0, now).camber
        last, lean_last, now = now, lean, now + (change - lean) * (now - last) / (lean - lean_last)
        if abs(now - last) < 1e-6:
            break
    return now


@lru_cache(maxsize=64)
def strut_as_set(path: Strut, camber: float) -> Strut:
    """Give the strut with its top moved for a change of camber [rad] from the measured one, toe put back.

    All points are where they then stand at ride height, the slots what is left of them, none below nothing.
    BadInput as wheel_at.
    """
    inward = top_for_camber(path, camber)
    stands = _toe_back(path, inward, wheel_at(path, 0.0, 0.0, inward))
    points = dict(stands.points)
    return replace(
        path,
        camber=path.camber + stands.camber,
        toe=path.toe + stands.toe,
        top=points["strut top"],
        strut_axis=points["strut axis"],
        ball_joint=points["ball joint"],
        track_rod_outer=points["track rod outer"],
        wheel_centre=points["wheel centre"],
        slots_inward=max(path.slots_inward - inward, 0.0),
        slots_outward=max(path.slots_outward + inward, 0.0),
    )


def _toe_back(path: Strut, inward: float, moved: WheelPose) -> WheelPose:
    """The wheel pointing straight again by its track rod: its outer joint stands as if the rack had moved."""
    rack, toe = 0.0, moved.toe
    tried, turned = 1e-3, wheel_at(path, 0.0, 1e-3, inward)
    for _ in range(20):
        if abs(turned.toe) < 1e-11 or turned.toe == toe:
            break
        rack, toe, tried = tried, turned.toe, tried - turned.toe * (tried - rack) / (turned.toe - toe)
        turned = wheel_at(path, 0.0, tried, inward)
    return turned


def require_slots(path: WheelPath, end: End, top_inward: float) -> None:
    """Raise BadInput for a top moved [m] beyond its slots; only a strut has one."""
    if not isinstance(path, Strut) or top_inward == 0.0:
        return
    require(
        -path.slots_outward - 1e-9 <= top_inward <= path.slots_inward + 1e-9,
        f"{end.value} strut top",
        f"{top_inward * 1e3:g} mm inwards",
        f"{-path.slots_outward * 1e3:g} to {path.slots_inward * 1e3:g} mm, by its slots",
    )
