"""Camber and strut: the top moved on the page, the links from the front, the lap and the tread."""

from collections.abc import Callable

from fastapi import APIRouter
from fastapi.responses import Response

from tintop.car.chassis import End
from tintop.car.wheel_paths import Strut
from tintop.charts.camber_charts import bump_svg, front_view_svg, wear_svg
from tintop.charts.car_words import owner_unit
from tintop.errors import TintopError
from tintop.garage.bench import Bench
from tintop.garage.camber import ask_which_camber
from tintop.lap.camber_on_lap import path_as_set
from tintop.owner_units import require_between
from tintop.questions.which_camber import ROAD, ROADS, WhichCamber
from tintop.reports.camber_sheet import camber_sheet, figure_words
from tintop.web.bench_page import Asked, DrawnTwice, cited, open_bench, show_bench, typed_as
from tintop.web.page import Visit, Visitor

router = APIRouter()
_ENDS = tuple((end.value, end.value) for end in End)


@router.get("/bench/camber")
def camber(visit: Visitor) -> Response:
    """How the wheels stand, and which camber is worth setting."""
    opened = open_bench(visit, "bench_camber.html", found=None)
    if isinstance(opened, Response):
        return opened
    bench, name, setup = opened
    query = visit.request.query_params
    road_unit = owner_unit("distance", bench.settings.units) or "km"
    asked = Asked(query, _standing(visit, bench, name, road_unit))
    end = End(asked.choice("end", [one.value for one in End]))
    circuit = asked.choice("circuit", tuple(bench.circuits))
    inward = asked.needed("top", "length", "mm")
    road = asked.needed("road", "length", road_unit)
    if road is not None:
        units = {"distance": road_unit}
        asked.attempt(lambda: require_between(road, *ROADS, "road", "distance", units), "road")
    limit = asked.value("limit", "length", "mm")
    found = None
    links = path_as_set(bench.described.car, bench.chassis, setup, end)
    if not asked.problems and inward is not None and road is not None:
        try:
            found = ask_which_camber(
                bench,
                name,
                circuit,
                end,
                top_inward=inward if isinstance(links, Strut) else 0.0,
                road_distance=road,
                limit=limit,
                book=visit.garage.book,
                day=visit.garage.today(),
            )
        except TintopError as error:
            asked.refuse(error, "top" if "strut top" in str(error) else "")
    return show_bench(
        visit,
        "bench_camber.html",
        asked,
        found=found,
        answer=cited(found.answer) if found else None,
        name=name,
        setups=bench.setups,
        ends=_ENDS,
        circuits=[(each, each) for each in bench.circuits],
        slots=_slots(links),
        road_unit=road_unit,
        finer_words=lambda figure, value: figure_words(value, figure.unit),
        front_view=_twice(front_view_svg, found, "front-view") if found and found.rest.points else None,
        bump=_twice(bump_svg, found, "bump") if found else None,
        wear=_twice(wear_svg, found, "wear") if found else None,
        tables=camber_sheet(found).tables[1:] if found else (),
    )


def _standing(visit: Visit, bench: Bench, name: str, road_unit: str) -> dict[str, str]:
    meeting = visit.garage.next_meeting()
    next_one = meeting.circuit.removeprefix("circuits/").rsplit(".", 1)[0] if meeting else ""
    there = [one for one in (bench.setup(name).circuit, next_one, *bench.circuits) if one in bench.circuits]
    road = meeting.road_distance if meeting and meeting.road_distance else ROAD
    return {
        "setup": name,
        "end": End.FRONT.value,
        "circuit": there[0] if there else "",
        "top": "0",
        "road": typed_as(road, "length", road_unit, 0),
        "limit": "",
    }


def _slots(links: object) -> tuple[str, str] | None:
    """How far the slider goes [mm]; None where no top moves."""
    if not isinstance(links, Strut) or links.slots_inward + links.slots_outward <= 0.0:
        return None
    return f"{-1e3 * links.slots_outward:.1f}", f"{1e3 * links.slots_inward:.1f}"


def _twice(draw: Callable[..., str], found: WhichCamber, name: str) -> DrawnTwice:
    return DrawnTwice(
        wide=draw(found, name=f"{name}-wide"), narrow=draw(found, is_narrow=True, name=f"{name}-narrow")
    )
