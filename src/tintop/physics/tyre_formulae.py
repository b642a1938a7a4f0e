"""Published tyre formulae: side force against slip, load, camber and combined use.

The lap's own tyre lives in `four_wheels`; these forms serve to check it and to read other people's tyre data.
"""

import math
from typing import NamedTuple


class MagicCurve(NamedTuple):
    """One curve of the Magic Formula: stiffness factor, shape, peak, curvature and its two shifts."""

    b: float
    c: float
    d: float
    e: float
    shift_x: float = 0.0
    shift_y: float = 0.0


class MagicFormula1987(NamedTuple):
    """Coefficients a1..a13 and shape factor of the side force, loads in kN, angles in degrees."""

    a1: float
    a2: float
    a3: float
    a4: float
    a5: float
    a6: float
    a7: float
    a8: float
    a9: float
    a10: float
    a11: float
    a12: float
    a13: float
    shape: float


def magic_force(curve: MagicCurve, slip: float) -> float:
    """Give the force of a Magic Formula curve at a slip, in the curve's own units.

    Source: E. Bakker, L. Nyborg and H. B. Pacejka, Tyre modelling for use in vehicle dynamics studies,
    SAE 870421 (1987).
    """
    moved = slip + curve.shift_x
    bent = (1.0 - curve.e) * moved + curve.e / curve.b * math.atan(curve.b * moved)
    return curve.d * math.sin(curve.c * math.atan(curve.b * bent)) + curve.shift_y


def magic_curve_1987(tyre: MagicFormula1987, load_kn: float, camber_deg: float = 0.0) -> MagicCurve:
    """Give the side-force curve (degrees, N) of a tyre at a load [kN] and a camber [deg].

    Camber that leans the wheel towards positive force is positive. Source: SAE 870421 (1987).
    """
    peak = tyre.a1 * load_kn**2 + tyre.a2 * load_kn
    stiffness = (
        tyre.a3 * math.sin(tyre.a4 * math.atan(tyre.a5 * load_kn)) * (1.0 - tyre.a12 * abs(camber_deg))
    )
    return MagicCurve(
        b=stiffness / (tyre.shape * peak),
        c=tyre.shape,
        d=peak,
        e=tyre.a6 * load_kn**2 + tyre.a7 * load_kn + tyre.a8,
        shift_x=tyre.a9 * camber_deg,
        shift_y=(tyre.a10 * load_kn**2 + tyre.a11 * load_kn) * camber_deg + tyre.a13,
    )


def magic_curve_1989(
    *, a0: float, a2: float, a3: float, a4: float, a6: float, a7: float, a9: float, a10: float, load_kn: float
) -> MagicCurve:
    """Give the side-force curve (degrees, N) of the 1989 form without camber terms at a load [kN].

    Source: G. Genta, Motor Vehicle Dynamics, 1997, tyre chapter.
    """
    peak = a2 * load_kn
    stiffness = a3 * math.sin(2.0 * math.atan(load_kn / a4))
    return MagicCurve(
        b=stiffness / (a0 * peak), c=a0, d=peak, e=a6 * load_kn + a7, shift_x=a9 * load_kn + a10
    )


def magic_peak_slip(curve: MagicCurve) -> float:
    """Give the slip at which a Magic Formula curve without shifts is highest, in the curve's units.

    The peak is where C·atan(...) reaches a quarter turn; solved by bisection. Source: SAE 870421 (1987).
    """
    target = math.tan(math.pi / (2.0 * curve.c))

    def excess(slip: float) -> float:
        x = curve.b * slip
        return (1.0 - curve.e) * x + curve.e * math.atan(x) - target

    low, high = 0.0, 1.0 / curve.b
    while excess(high) < 0.0:
        high *= 2.0
    for _ in range(80):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if excess(middle) < 0.0 else (low, middle)
    return 0.5 * (low + high)


def load_degressive_peak(friction: float, load: float, reference_load: float, degression: float) -> float:
    """Give the peak force [N] of a tyre whose friction changes by `degression` per reference load.

    Source: F. Christ et al., Vehicle System Dynamics 59 (2021) 588, tables A1 and A2.
    """
    return friction * load * (1.0 + degression * load / reference_load)


def linear_in_load(load: float, load_1: float, value_1: float, load_2: float, value_2: float) -> float:
    """Give a tyre quantity that is linear in load, known at two loads [N].

    Source: D. P. Kelly and R. S. Sharp, Vehicle System Dynamics 48 (2010) (from memory).
    """
    return value_1 + (load - load_1) * (value_2 - value_1) / (load_2 - load_1)


def peaked_shape(slip_share: float, shape: float) -> float:
    """Give the share of peak grip at a share of the peak slip: exactly 1 at 1, falling beyond.


    Source: G. Perantoni and D. J. N. Limebeer, Vehicle System Dynamics 52 (2014) (from memory).
    """
    scale = math.pi / (2.0 * math.atan(shape))
    return math.sin(scale * math.atan(shape * slip_share))


def ellipse_use(force_x: float, force_y: float, grip_x: float, grip_y: float) -> float:
    """Give the square of the grip used by two forces [N] against the grip each way [N]; 1 = the limit.

    Source: W. F. and D. L. Milliken, Race Car Vehicle Dynamics, SAE 1995, ch. 2 (from memory).
    """
    return (force_x / grip_x) ** 2 + (force_y / grip_y) ** 2


def ellipse_side_force(force_x: float, grip_x: float, grip_y: float) -> float:
    """Give the side force [N] left beside a longitudinal force [N], zero when that takes all grip.

    Source: as ellipse_use.
    """
    return grip_y * math.sqrt(max(0.0, 1.0 - (force_x / grip_x) ** 2))


def brush_slide_slip(stiffness: float, grip: float) -> float:
    """Give the tangent of slip from which the whole brush slides, from N/rad and N.

    Source: H. B. Pacejka, Tyre and Vehicle Dynamics, ch. 3 (from memory).
    """
    return 3.0 * grip / stiffness


def brush_force(stiffness: float, grip: float, slip_tangent: float) -> float:
    """Give the side force [N] of a brush tyre of uniform friction at a tangent of slip.

    stiffness [N/rad]; grip = friction × load [N].
    Source: Pacejka, Tyre and Vehicle Dynamics, ch. 3 (from memory).
    """
    share = min(abs(slip_tangent) / brush_slide_slip(stiffness, grip), 1.0)
    return math.copysign(grip * (1.0 - (1.0 - share) ** 3), slip_tangent)
