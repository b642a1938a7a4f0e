"""Weighing: four scales to shares and centre of gravity, perch turns and ballast, drawn from above."""

from collections.abc import Mapping

from fastapi import APIRouter
from fastapi.responses import Response

from tintop.errors import BadInput, refuse
from tintop.garage.bench import bench_of
from tintop.garage.weighing import weighed_in
from tintop.logbook.entries import Draft, Measure, Reading
from tintop.logbook.mass_balance import Stood
from tintop.owner_units import owner_unit
from tintop.questions.what_does_it_weigh import Weighed, quarter_turns
from tintop.web.bench_page import Asked, is_chassis_described, show_bench, show_undescribed
from tintop.web.first_things import is_car_described
from tintop.web.page import Typed, Visit, Visitor, Writer, go_to
from tintop.web.typed_form import CORNERS
from tintop.web.weighing_form import (
    BARS,
    DRIVER,
    PERCHES,
    RAISED,
    SPRINGS,
    WeighingForm,
    drawn,
    read_weighing,
)
from tintop.web.writing import write

router = APIRouter()
_NAMED = {"driver": "not said", "raised": "not raised"}


@router.get("/bench/weigh")
def weigh(visit: Visitor) -> Response:
    """What it weighs, where, and which perch to turn."""
    if not is_car_described(visit.garage):
        return show_undescribed(visit)
    form, found = _worked(visit, visit.request.query_params)
    return _shown(visit, form, found)


@router.post("/bench/weigh/readings")
def save(visit: Writer, sent: Typed) -> Response:
    """Write the four loads down as readings; nothing while a question stands open."""
    form, found = _worked(visit, sent)
    asked, scales = form.asked, form.scales
    if found is None or scales is None:
        if not asked.problems:
            asked.refuse(refuse("load_FL", "nothing", "four loads"))
        return _shown(visit, form, found)
    is_said = scales.is_driver_aboard is not None and scales.fuel_volume is not None
    if found.asks and not (is_said and sent.get("sure")):
        asked.refuse(refuse("", "a question that stands open", "it answered first", found.asks[0]))
        return _shown(visit, form, found)
    stood = Stood(is_driver_aboard=scales.is_driver_aboard, fuel_volume=scales.fuel_volume)
    key = sent.get("key", "")
    drafts = [
        Draft(
            key=key if place == 0 else f"{key} {corner}",
            day=visit.garage.today(),
            who=visit.who,
            matter=Reading(
                measure=Measure.CORNER_LOAD,
                value=scales.loads[place],
                written=asked.text(f"load_{corner}"),
                corner=corner,
                place=stood.words,
            ),
            instrument=sent.get("instrument", "")[:60],
        )
        for place, corner in enumerate(CORNERS)
    ]
    return go_to("/bench/weigh", saved=write(visit.garage, drafts, key).number)


def _worked(visit: Visit, texts: Mapping[str, str]) -> tuple[WeighingForm, Weighed | None]:
    garage = visit.garage
    bench = bench_of(garage) if is_chassis_described(garage) else None
    form = read_weighing(garage, bench, texts)
    if form.scales is None or form.wanted is None or form.asked.problems:
        return form, None
    try:
        return form, weighed_in(garage, form.scales, form.wanted, form.own)
    except BadInput as error:
        form.asked.refuse(error, _field_of(form.asked, error))
        return form, None


def _field_of(asked: Asked, error: BadInput) -> str:
    where = error.problems[0].where
    if "raised" in where or where in ("lift", "suspension"):
        return "down_left" if "scales" in where else "lift"
    return "target" if "target" in where else "perches" if where.startswith("perch") else ""


def _shown(visit: Visit, form: WeighingForm, found: Weighed | None) -> Response:
    garage = visit.garage
    units = garage.settings.units
    bench = bench_of(garage) if is_chassis_described(garage) else None
    described = bench.described if bench else garage.car()

    def options(name: str, choices: Mapping[str, object] | tuple[str, ...]) -> list[tuple[str, str]]:
        return [(choice, choice or _NAMED.get(name, "not said")) for choice in choices]

    return show_bench(
        visit,
        "bench_weigh.html",
        form.asked,
        unit=owner_unit("mass", units),
        length=owner_unit("length", units),
        volume=owner_unit("volume", units),
        answer=found.answer if found else None,
        found=found,
        drawn=drawn(found, described.car, units) if found else None,
        corners=CORNERS,
        quarter_turns=quarter_turns,
        drivers=options("driver", DRIVER),
        raised=options("raised", RAISED),
        perches=options("perches", PERCHES),
        bars=options("bars", BARS),
        springs=options("springs", SPRINGS),
        setups=[("", "not said"), *((name, one.name) for name, one in bench.setups.items())] if bench else [],
        is_chassis_described=bench is not None,
        is_car_described=True,
    )
