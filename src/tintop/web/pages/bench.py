"""The bench: its subjects, each with the question it answers."""

from fastapi import APIRouter
from fastapi.responses import Response

from tintop.web.bench_page import is_chassis_described, subjects_found
from tintop.web.first_things import is_car_described
from tintop.web.page import Visitor, show

router = APIRouter()


@router.get("/bench")
def bench(visit: Visitor) -> Response:
    """The list of subjects."""
    return show(
        visit,
        "bench_index.html",
        subjects=subjects_found(visit),
        is_described=is_chassis_described(visit.garage),
        is_car_described=is_car_described(visit.garage),
    )
