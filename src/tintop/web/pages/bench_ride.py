"""Dampers and ride: clicks turned on the page, how the car rides with them, and which to take."""

from collections.abc import Mapping
from dataclasses import replace

from fastapi import APIRouter
from fastapi.responses import Response

from tintop.car.chassis import End
from tintop.car.damping import damper_of
from tintop.car.ride_in_time import SPEEDS, KerbStrike, kerb_strike
from tintop.car.ride_quality import ROAD_FOR, ROADS, Road
from tintop.car.setup import Setup
from tintop.charts.car_words import owner_unit
from tintop.charts.four_corners import four_corners_svg
from tintop.charts.trade_off import trade_off_svg
from tintop.errors import TintopError, refuse
from tintop.garage.bench import Bench
from tintop.owner_units import require_between
from tintop.physics.road_profile import Kerb
from tintop.questions.which_clicks import Choice, ClicksAnswer, choices_for, which_clicks
from tintop.reports.ride_sheet import ride_tables
from tintop.reports.sheet import Table
from tintop.web.bench_page import Asked, DrawnTwice, cited, open_bench, show_bench
from tintop.web.page import Visit, Visitor

router = APIRouter()
_KNOBS = tuple((end, knob) for end in End for knob in ("bump", "rebound"))
_KERBS = ("", "30", "60", "90")  # [mm]


@router.get("/bench/ride")
def ride(visit: Visitor) -> Response:
    """Which clicks, and how does it ride?"""
    opened = open_bench(visit, "bench_ride.html", found=None)
    if isinstance(opened, Response):
        return opened
    bench, name, standing = opened
    query = visit.request.query_params
    asked = Asked(query, _standing(name, standing))
    most = _most(bench, standing)
    unit = owner_unit("speed", visit.garage.settings.units)
    turned, road, kerb = _turned(asked, standing, most), _road(asked, unit), _kerb(asked)
    found = None
    if not asked.problems:
        try:
            found = _answered(visit, bench, name, turned, road, kerb)
        except TintopError as error:
            asked.refuse(error, "")
    return show_bench(
        visit,
        "bench_ride.html",
        asked,
        found=found,
        answer=cited(found.answer) if found else None,
        name=name,
        setups=bench.setups,
        most=most,
        roads=[(each.name, _road_words(each)) for each in ROADS.values()],
        kerbs=[(each, f"{each} mm" if each else "none") for each in _KERBS],
        corners=_corners(found) if found and found.now else None,
        trade=_trade(found) if found and found.now else None,
        tables=_tables(found) if found else [],
        speed_unit=unit,
    )


def _standing(name: str, setup: Setup) -> dict[str, str]:
    clicks = {f"{end}_{knob}": str(getattr(setup.pair(end)[0], knob)) for end, knob in _KNOBS}
    road = ROAD_FOR[setup.purpose]
    return {"setup": name, "road": road.name, "speed": "", "kerb": "", **clicks}


def _most(bench: Bench, setup: Setup) -> dict[str, int]:
    """Clicks each knob has; a knob that turns with the rebound's is left out."""
    found = {}
    for end, knob in _KNOBS:
        damper = damper_of(bench.chassis, setup, end)
        if damper is not None and not (damper.is_linked and knob == "bump"):
            found[f"{end}_{knob}"] = (damper.bump if knob == "bump" else damper.rebound).most_clicks
    return found


def _turned(asked: Asked, setup: Setup, most: Mapping[str, int]) -> Setup:
    for end, knob in _KNOBS:
        name = f"{end}_{knob}"
        if name not in most:
            continue
        value = asked.needed(name, "number", "")
        if value is None:
            continue
        if value != int(value) or not 0 <= value <= most[name]:
            asked.refuse(refuse(name, repr(asked.text(name)), f"whole clicks from 0 to {most[name]}"))
            continue
        if asked.is_changed(name):
            setup = setup.with_pair(end, **{knob: int(value)})
    return setup


def _road(asked: Asked, unit: str) -> Road:
    road = ROADS[asked.choice("road", tuple(ROADS))]
    speed = asked.value("speed", "speed", unit)
    if speed is None:
        return road
    asked.attempt(lambda: require_between(speed, *SPEEDS, "speed", "speed", {"speed": unit}), "speed")
    return replace(road, speed=speed)


def _kerb(asked: Asked) -> Kerb | None:
    height = asked.choice("kerb", _KERBS)
    return Kerb(height=1e-3 * float(height)) if height else None


def _answered(
    visit: Visit, bench: Bench, name: str, setup: Setup, road: Road, kerb: Kerb | None
) -> ClicksAnswer:
    """The answer; what was found for each purpose is kept, for the clicks turned do not change it."""
    car, chassis, known = bench.described.car, bench.chassis, bench.chassis_known
    struck: KerbStrike | None = None
    choices: tuple[Choice, ...] | None = None
    if all(damper_of(chassis, setup, end) is not None for end in End):
        if kerb is not None:
            struck = kerb_strike(car, chassis, setup, kerb, road.speed)
        choices = visit.garage.remember(
            f"clicks {name}", (id(bench),), lambda: (bench, choices_for(car, chassis, setup))
        )[1]
    return which_clicks(car, chassis, setup, road=road, known=known, choices=choices, kerb=struck)


def _road_words(road: Road) -> str:
    return f"{road.name}, class {road.road_class}, {3.6 * road.speed:.0f} km/h"


def _tables(found: ClicksAnswer) -> list[Table]:
    """The sheet's tables but the figures, which stand on the page already."""
    tables = list(ride_tables(found))
    return tables[1:] if found.answer.figures else tables


def _corners(found: ClicksAnswer) -> DrawnTwice:
    now, setup = found.now, found.setup
    assert now is not None
    variations = dict(zip(End, (now.load_variation_front, now.load_variation_rear), strict=True))
    words = {}
    for place, corner in enumerate(("FL", "FR", "RL", "RR")):
        end = End.FRONT if place < 2 else End.REAR
        clicks = setup.corners[place]
        words[corner] = (
            f"{clicks.bump} / {clicks.rebound}",
            "bump / rebound",
            f"load ±{100.0 * variations[end]:.1f} %",
        )
    wide, narrow = (
        four_corners_svg(
            words,
            middle=(f"{now.comfort:.2f} m/s²", "at the seat"),
            title="Clicks from full soft, and how the tyre loads vary",
            description=found.answer.sentence,
            is_narrow=is_narrow,
            name=f"ride-{'narrow' if is_narrow else 'wide'}",
        )
        for is_narrow in (False, True)
    )
    return DrawnTwice(wide=wide, narrow=narrow)


def _trade(found: ClicksAnswer) -> DrawnTwice:
    return DrawnTwice(
        wide=trade_off_svg(found, name="trade-wide"),
        narrow=trade_off_svg(found, is_narrow=True, name="trade-narrow"),
    )
