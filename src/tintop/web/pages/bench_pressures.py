"""Cold pressures: four numbers at the wheels, the day session by session, and which tyre loses air."""

from urllib.parse import quote

from fastapi import APIRouter
from fastapi.responses import Response
from starlette.exceptions import HTTPException

from tintop.car.chassis import CORNERS
from tintop.car.pressure_plan import written
from tintop.car.setup import Purpose
from tintop.charts.four_corners import four_corners_svg
from tintop.errors import BadInput, TintopError, refuse
from tintop.garage.bench import Bench, bench_of
from tintop.garage.keep_pressures import keep_cold
from tintop.garage.keeper import SETUPS
from tintop.garage.pressures import PressuresAsked, known_targets, pressures_in
from tintop.handwriting import Understood, read_value, taken
from tintop.owner_units import in_owner_units, owner_unit
from tintop.questions.cold_pressures import ColdPressures, is_other_than_sheet
from tintop.reports.pressures_sheet import bare, pressure_tables
from tintop.web.bench_page import Asked, DrawnTwice, cited, open_bench, show_bench
from tintop.web.page import Typed, Visit, Visitor, Writer, go_to

router = APIRouter()
_TEMPERATURES = ("air", "later", "tyres_at")


@router.get("/bench/pressures")
def pressures(visit: Visitor) -> Response:
    """What cold pressures this morning, and how much do I bleed?"""
    opened = open_bench(visit, "bench_pressures.html", found=None)
    if isinstance(opened, Response):
        return opened
    bench, name, _ = opened
    query = visit.request.query_params
    units = visit.garage.settings.units
    asked = Asked(query, _standing(bench, name))
    typed = _typed(asked, name, owner_unit("pressure", units), owner_unit("temperature", units))
    found = None
    if not asked.problems:
        try:
            found = pressures_in(visit.garage, bench, typed)
        except TintopError as error:
            asked.refuse(error)
    return show_bench(
        visit,
        "bench_pressures.html",
        asked,
        found=found,
        answer=cited(found.answer) if found else None,
        name=name,
        setups=bench.setups,
        is_for_road=bench.setup(name).purpose is Purpose.ROAD,
        circuits=[("", "the event's"), *((each, each) for each in bench.circuits)],
        corners=_corners(found) if found else None,
        tables=list(pressure_tables(found)) if found else [],
        pressure_unit=owner_unit("pressure", units),
        temperature_unit=owner_unit("temperature", units),
        is_other=found is not None and is_other_than_sheet(found.day, found.corners),
        seen=garage_digest(visit, name),
        sent={key: query[key] for key in (*_standing(bench, name),) if query.get(key)},
    )


def garage_digest(visit: Visit, name: str) -> str:
    """The revision of a set-up's document that the page was made from."""
    return visit.garage.document(f"{SETUPS}/{name}.toml").digest


@router.post("/bench/pressures/keep")
def keep(visit: Writer, given: Typed) -> Response:
    """Take the cold pressures worked out onto the set-up's sheet; refused where it was saved meanwhile."""
    garage, bench = visit.garage, bench_of(visit.garage)
    name = given.get("setup", "")
    if name not in bench.as_written:
        raise HTTPException(404)
    units = garage.settings.units
    asked = Asked(given, _standing(bench, name))
    typed = _typed(asked, name, owner_unit("pressure", units), owner_unit("temperature", units))
    if asked.problems:
        raise refuse(
            "pressures", "something that is not understood", "the page of the pressures, mended first"
        )
    found = pressures_in(garage, bench, typed)
    cold = [each.to_set for each in found.corners]
    keep_cold(garage, bench, name, cold, based_on=given.get("seen", ""), who=visit.who)
    return go_to(f"/bench/setups/{quote(name)}", kept="yes")


def _standing(bench: Bench, name: str) -> dict[str, str]:
    """The target of the set-up's tyres at each corner; the rest is empty."""
    targets = known_targets(bench, bench.setup(name))
    units = bench.settings.units
    held = (
        dict.fromkeys(CORNERS, "")
        if targets is None
        else {
            corner: in_owner_units(target, "pressure", units)
            for corner, target in zip(CORNERS, targets, strict=True)
        }
    )
    return {
        "setup": name,
        "circuit": "",
        **dict.fromkeys(_TEMPERATURES, ""),
        "set_height": "",
        "height": "",
        **{f"target_{corner}": words for corner, words in held.items()},
    }


def _typed(asked: Asked, name: str, pressure: str, temperature: str) -> PressuresAsked:
    targets, also = None, ""
    names = [f"target_{corner}" for corner in CORNERS]
    if asked.is_changed(*names):
        read = [_read(asked, each, "tyre pressure hot", pressure) for each in names]
        if None not in read:
            first, second, third, fourth = (each.value for each in read if each is not None)
            units = {each.unit for each in read if each is not None} - {pressure}
            also = min(units, default="")
            targets = first, second, third, fourth
    temps = [
        _read(asked, each, "ambient temperature", temperature) if asked.text(each) else None
        for each in _TEMPERATURES
    ]
    air, later, tyres_at = (None if each is None else each.value for each in temps)
    return PressuresAsked(
        setup=name,
        circuit=asked.text("circuit"),
        air=air,
        later=later,
        tyres_at=tyres_at,
        targets=targets,
        also=also,
        set_height=asked.value("set_height", "length", "m"),
        height=asked.value("height", "length", "m"),
    )


def _read(asked: Asked, name: str, field: str, usual: str) -> Understood | None:
    """A field as a thumb types it; where it may mean two things the question stands beside it."""
    try:
        found = taken(read_value(asked.text(name), field, usual_unit=usual), name)
    except BadInput as error:
        asked.refuse(error, name)
        return None
    assert isinstance(found, Understood)
    if field == "ambient temperature" and found.is_guessed and found.unit != usual:
        question = refuse(
            name, repr(found.written), f"{usual}; in {found.unit}?", f'Write "{found.in_full}".'
        )
        asked.refuse(question, name)
        return None
    return found


def _corners(found: ColdPressures) -> DrawnTwice:
    unit = found.day.unit
    words = {
        each.corner: (
            written(each.to_set, unit),
            *([f"= {written(each.to_set, found.day.also)}"] if found.day.also else []),
            *([] if found.day.is_for_road else [f"hot {bare(each.comes_to, unit)}"]),
            f"air {each.hot_temp:.0f} °C",
        )
        for each in found.corners
    }
    wide, narrow = (
        four_corners_svg(
            words,
            middle=("cold, to set", f"tyres at {found.day.tyres_at:.0f} °C"),
            title="Cold pressures to set at the four wheels",
            description=found.answer.sentence,
            is_narrow=is_narrow,
            name=f"pressures-{'narrow' if is_narrow else 'wide'}",
        )
        for is_narrow in (False, True)
    )
    return DrawnTwice(wide=wide, narrow=narrow)
