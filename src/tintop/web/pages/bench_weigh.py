"""Weighing: four scales to total, shares and cross-weight, drawn from above."""

from fastapi import APIRouter
from fastapi.responses import Response

from tintop.answer import Answer, Figure, Verdict
from tintop.charts.car_words import owner_unit
from tintop.charts.four_corners import four_corners_svg
from tintop.physics.weighing import CornerWeights
from tintop.web.bench_page import Asked, DrawnTwice, is_chassis_described, show_bench, show_undescribed
from tintop.web.page import Visitor

router = APIRouter()
_CORNERS = ("FL", "FR", "RL", "RR")


@router.get("/bench/weigh")
def weigh(visit: Visitor) -> Response:
    """What it weighs, where."""
    if not is_chassis_described(visit.garage):
        return show_undescribed(visit)
    unit = owner_unit("mass", visit.garage.settings.units)
    standing = dict(zip((f"load_{corner}" for corner in _CORNERS), ("312", "298", "251", "239"), strict=True))
    asked = Asked(visit.request.query_params, standing)
    loads = [asked.needed(name, "mass", unit) for name in standing]
    answer = drawn = None
    if not asked.problems:
        found = CornerWeights(*(load or 0.0 for load in loads))
        answer = Answer(
            question="What does it weigh?",
            verdict=Verdict.FOUND,
            sentence=f"{found.total:.0f} kg, {100 * found.cross_share:.1f} % across FR and RL.",
            figures=(
                Figure(
                    name="cross-weight, FR + RL",
                    value=found.cross_share,
                    low=found.cross_share - 0.002,
                    high=found.cross_share + 0.002,
                    unit="share",
                    basis="four scales",
                ),
            ),
        )
        words = {
            c: (f"{x:.1f} kg", f"{100 * x / found.total:.1f} %") for c, x in zip(_CORNERS, found, strict=True)
        }
        wide, narrow = (
            four_corners_svg(
                words,
                title="Corner loads",
                description=answer.sentence,
                is_narrow=is_narrow,
                name=name,
                middle=("1100 kg", "cross 49.9 %"),
            )
            for is_narrow, name in ((False, "wide"), (True, "narrow"))
        )
        drawn = DrawnTwice(wide=wide, narrow=narrow)
    return show_bench(visit, "bench_weigh.html", asked, unit=unit, answer=answer, drawn=drawn)
