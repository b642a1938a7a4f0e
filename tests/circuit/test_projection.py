"""Metres on the ellipsoid against geographiclib and the radii of curvature of WGS84."""

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st

from tintop.circuit.projection import local_metres
from tintop.errors import BadInput


def test_a_pair_at_the_scale_of_a_circuit() -> None:
    """C.F.F. Karney, geographiclib 2.1, inverse geodesic: 130.7554619 m; a sphere gives 130.58 m."""
    x, y = local_metres(np.array([-1.0, -0.999]), np.array([52.0, 52.001]))
    assert np.hypot(x[1] - x[0], y[1] - y[0]) == pytest.approx(130.7554619, abs=1e-6)


@pytest.mark.parametrize(
    ("latitude", "north", "east"),
    [
        (0.0, 110574.276, 111319.491),
        (41.57, 111064.941, 83406.195),
        (50.44, 111237.533, 71039.289),
        (52.07, 111268.683, 68570.843),
    ],
)
def test_metres_per_degree(latitude: float, north: float, east: float) -> None:
    """Meridian and prime-vertical radii of curvature of WGS84 (closed form)."""
    d = 5e-4
    _, y = local_metres(np.array([7.0, 7.0]), np.array([latitude - d, latitude + d]))
    x, _ = local_metres(np.array([7.0 - d, 7.0 + d]), np.array([latitude, latitude]))
    assert (y[1] - y[0]) / (2 * d) == pytest.approx(north, rel=1e-6)
    assert (x[1] - x[0]) / (2 * d) == pytest.approx(east, rel=1e-6)


@given(st.floats(-70, 70), st.floats(-180, 180), st.floats(-0.03, 0.03), st.floats(-0.03, 0.03))
def test_distances_agree_with_geodesics(latitude: float, longitude: float, north: float, east: float) -> None:
    x, y = local_metres(np.array([longitude, longitude + east]), np.array([latitude, latitude + north]))
    true = Geodesic.WGS84.Inverse(latitude, longitude, latitude + north, longitude + east)["s12"]
    assert np.hypot(x[1] - x[0], y[1] - y[0]) == pytest.approx(true, rel=1e-6, abs=1e-6)


def test_a_circuit_on_the_date_line() -> None:
    x, _ = local_metres(np.array([179.999, -179.999]), np.array([0.0, 0.0]))
    assert x[1] - x[0] == pytest.approx(0.002 * 111319.491, rel=1e-6)


def test_positions_too_far_apart_or_off_the_earth_are_refused() -> None:
    with pytest.raises(BadInput, match="50 km"):
        local_metres(np.array([0.0, 2.0]), np.array([50.0, 50.0]))
    with pytest.raises(BadInput, match="latitude"):
        local_metres(np.array([500000.0, 500010.0]), np.array([50.0, 50.0]))
