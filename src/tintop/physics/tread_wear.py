"""What a drive on the road takes off a tread, inner edge, middle and outer edge, from its camber and toe.

An estimate of ratios: a wheel upright and straight loses what road tyres are seen to lose, and camber and toe
add slip work to that of ordinary driving. Equations: docs/theory/camber_and_strut.md.
"""

from typing import NamedTuple

USUAL_SLIP = (
    0.0036  # r.m.s. slip of ordinary driving, 0.08 of the load sideways or along; estimated, no source
)
USUAL_WEAR = (
    0.15e-9  # [m/m] of a road tyre upright and straight; common practice, no source: 7 mm in 45,000 km
)
USUAL_WEAR_RATE = 20e-12  # [m/J] of that road tyre, as in data/tyres/road.toml
TREAD_WIDTH = 0.18  # [m] of the tread on the road; estimated, no source: 195 to 205 section
SPIN_KEPT = 0.3  # share of a leaning wheel's turn about the vertical that the contact feels


class TreadWear(NamedTuple):
    """Depth lost per metre driven [m/m] at the inner edge, in the middle and at the outer edge."""

    inner: float
    middle: float
    outer: float


def cornering_stiffness(friction: float, load: float, slide_slip: float) -> float:
    """Give the slope of side force over slip [N/rad] of a brush tyre that slides whole at `slide_slip`.

    Source: H. B. Pacejka, Tire and Vehicle Dynamics, ch. 3 (from memory).
    """
    return 3.0 * friction * load / slide_slip


def slip_work(
    stiffness: float,
    toe: float,
    camber: float,
    place: float,
    radius: float,
    usual_slip: float = USUAL_SLIP,
    spin_kept: float = SPIN_KEPT,
) -> tuple[float, float]:
    """Give slip work per metre [J/m] of usual driving with toe, and of the lean at a place across the tread.

    stiffness [N/rad]; toe, camber [rad]; `place` from the middle [m]; radius [m]. A wheel that leans would
    roll in a circle as a cone does, and the road holds it straight: rubber beside the middle slips along by
    the lean times place over radius, as far as the casing lets it. Camber thrust does no work on a wheel
    that runs straight; its work with the toe is left out. Source: as cornering_stiffness; the share kept 0.2
    to 0.5 for car tyres, ch. 2 there (from memory).
    """
    sideways = stiffness * (toe**2 + usual_slip**2)
    along = stiffness * (spin_kept * camber * place / radius) ** 2
    return sideways, along


def edge_load_share(camber: float, load: float, tyre_rate: float, width: float = TREAD_WIDTH) -> float:
    """Give by which share the inner edge is pressed harder than the middle (the outer less), at most 1.

    The tread is a row of springs: an edge goes half the width times the lean further into them.
    camber [rad], negative inwards; load [N]; tyre_rate [N/m]. Source: statics.
    """
    return min(max(-0.5 * width * camber * tyre_rate / load, -1.0), 1.0)


def road_wear(
    *,
    load: float,
    camber: float,
    toe: float,
    friction: float,
    slide_slip: float,
    wear_rate: float,
    radius: float,
    tyre_rate: float,
    width: float = TREAD_WIDTH,
    spin_kept: float = SPIN_KEPT,
) -> TreadWear:
    """Give what a metre on the road takes off a wheel's tread; an estimate, within a factor of two or three.

    load [N]; camber, toe [rad]; wear_rate [m/J]; radius, width [m]; tyre_rate [N/m].
    Source: as slip_work and edge_load_share; scaled to what road tyres are seen to lose.
    """
    stiffness = cornering_stiffness(friction, load, slide_slip)
    usual, _ = slip_work(stiffness, 0.0, 0.0, 0.0, radius)
    sideways, along = slip_work(stiffness, toe, camber, 0.5 * width, radius, spin_kept=spin_kept)
    edge = edge_load_share(camber, load, tyre_rate, width)
    per_work = USUAL_WEAR * wear_rate / USUAL_WEAR_RATE / usual
    return TreadWear(
        inner=per_work * (sideways * (1.0 + edge) + along),
        middle=per_work * sideways,
        outer=per_work * (sideways * (1.0 - edge) + along),
    )
