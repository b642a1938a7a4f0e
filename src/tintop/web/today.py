"""Readiness as it stands today, folded once and kept until the book changes."""

from tintop.garage.keeper import Garage
from tintop.logbook.readiness import Readiness, readiness_on
from tintop.logbook.wear import ForecastWear
from tintop.web.kept import kept


def readiness_today(garage: Garage, forecast: ForecastWear | None = None) -> Readiness:
    """What readiness stands on today, with the race forecast's own wear if there is one."""
    found = kept(garage, "readiness", lambda _book, _day: dict[str, Readiness]())
    key = repr(forecast)
    if key not in found:
        found[key] = readiness_on(garage.book, garage.today(), forecast)
    return found[key]
