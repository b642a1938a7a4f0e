"""From longitude and latitude on the WGS84 ellipsoid to metres east and north of a centre."""

import numpy as np

from tintop.circuit.circuit import FloatArray
from tintop.errors import refuse

WIDEST = 0.5  # [deg] of latitude: far beyond any circuit, near enough for a scale error below 1e-5


def local_metres(
    longitude: FloatArray, latitude: FloatArray, centre: tuple[float, float] | None = None
) -> tuple[FloatArray, FloatArray]:
    """Give x east and y north [m] of positions [deg] about their centre (or one given).

    A transverse Mercator projection of the WGS84 ellipsoid with scale 1 on its own central meridian: within
    5 km of the centre distances are true within 1 part in 3 million. `centre` is (longitude, latitude) [deg].
    Raises BadInput for positions off the Earth or spread wider than half a degree.
    Source: C.F.F. Karney, "Transverse Mercator with an accuracy of a few nanometers", Journal of Geodesy 85
    (2011), as implemented in PROJ.
    """
    from pyproj import Proj  # a slow import that only geographic files need

    if np.any(np.abs(latitude) > 89.0) or np.any(np.abs(longitude) > 360.0):
        raise refuse(
            "positions",
            f"latitude up to {np.max(np.abs(latitude)):.6g}, longitude up to {np.max(np.abs(longitude)):.6g}",
            "degrees: latitude within ±89, longitude within ±360",
        )
    longitude = np.unwrap(longitude, period=360.0)
    if np.ptp(latitude) > WIDEST or np.ptp(longitude) * np.cos(np.radians(np.mean(latitude))) > WIDEST:
        raise refuse(
            "positions",
            f"{np.ptp(latitude):.3g}° of latitude by {np.ptp(longitude):.3g}° of longitude",
            "one circuit, at most 50 km across",
        )
    if centre is None:
        centre = (
            float(longitude.min() + longitude.max()) / 2.0,
            float(latitude.min() + latitude.max()) / 2.0,
        )
    projection = Proj(proj="tmerc", lat_0=centre[1], lon_0=centre[0], k=1.0, ellps="WGS84")
    x, y = projection(longitude, latitude)
    return np.asarray(x, dtype=np.float64), np.asarray(y, dtype=np.float64)
