"""Gearing: final drives ranked by whole laps round the circuits, and the gearbox drawn as a saw-tooth."""

from fastapi import APIRouter
from fastapi.responses import Response

from tintop.car.setup import Setup
from tintop.charts.saw_tooth import saw_tooth_svg
from tintop.errors import BadInput, TintopError, refuse
from tintop.garage.bench import Bench
from tintop.garage.gearing import ask_which_gearing
from tintop.questions.which_gearing import GearingAnswer
from tintop.reports.gearing_sheet import gearing_sheet
from tintop.web.bench_page import Asked, DrawnTwice, open_bench, show_bench
from tintop.web.page import Visitor
from tintop.web.typed_values import value_typed

router = APIRouter()
_ALL = "all"
_MOST = 4  # final drives to compare beside those of the chassis


@router.get("/bench/gearing")
def gearing(visit: Visitor) -> Response:
    """Which final drive."""
    opened = open_bench(visit, "bench_gearing.html")
    if isinstance(opened, Response):
        return opened
    bench, name, setup = opened
    query = visit.request.query_params
    asked = Asked(query, {"setup": name, "circuit": _ALL, "more": ""})
    circuit = asked.choice("circuit", (_ALL, *bench.circuits))
    more = _drives(asked)
    found = None
    if not asked.problems:
        found = _answered(bench, setup, circuit, more, asked)
    return show_bench(
        visit,
        "bench_gearing.html",
        asked,
        answer=found.answer if found else None,
        name=name,
        setups=bench.setups,
        circuits=[(_ALL, "all of them"), *((each, each) for each in bench.circuits)],
        drives=", ".join(f"{drive:g}" for drive in bench.chassis.final_drives),
        drawn=_drawn(found) if found else None,
        tables=gearing_sheet(found).tables if found else (),
    )


def _answered(
    bench: Bench, setup: Setup, circuit: str, more: list[float], asked: Asked
) -> GearingAnswer | None:
    try:
        circuits = tuple(bench.circuits) if circuit == _ALL else (circuit,)
        return ask_which_gearing(bench, setup, bench.weather(setup.purpose), circuits, more=more)
    except TintopError as error:
        asked.refuse(error, "more" if more else "")
        return None


def _drives(asked: Asked) -> list[float]:
    """The final drives typed, with spaces or semicolons between them."""
    found = []
    for text in asked.text("more").replace(";", " ").split():
        try:
            found.append(value_typed(text, "ratio", "", "more"))
        except BadInput:
            asked.refuse(refuse("more", repr(text), "ratios with spaces between them, such as 3.9 4.4"))
            return []
    if len(found) > _MOST:
        asked.refuse(refuse("more", f"{len(found)} ratios", f"at most {_MOST} at once"))
        return []
    return found


def _drawn(found: GearingAnswer) -> DrawnTwice:
    reached = [
        (f"{one.circuit}, before {one.end.before}", one.end.speed, one.end.engine_speed)
        for one in found.engine_speeds
    ]
    wide, narrow = (
        saw_tooth_svg(
            found.gears,
            found.now.limiter_speed,
            reached,
            is_narrow=is_narrow,
            name=f"gears-{'narrow' if is_narrow else 'wide'}",
        )
        for is_narrow in (False, True)
    )
    return DrawnTwice(wide=wide, narrow=narrow)
