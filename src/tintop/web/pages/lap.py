"""The lap: how quick, what holds the car back, what a change buys, and sliders that answer at once."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from fastapi import APIRouter
from fastapi.responses import JSONResponse, Response

from tintop.answer import Figure
from tintop.charts.circuit_map import page_map_places, page_map_svg
from tintop.charts.ink import LIMIT_STYLES
from tintop.charts.lap_strips import MOST_READINGS, changed_paths, lap_readings, lap_strips
from tintop.charts.strips import on_page
from tintop.errors import BadInput, TintopError
from tintop.garage.car_setup import other_setup
from tintop.garage.predictions import Prediction
from tintop.garage.what_if import drive_with, steps_buy
from tintop.lap.trace import LapTrace, Limit
from tintop.lap.what_if import Gain, as_it_stands
from tintop.logbook.best_laps import best_lap_at
from tintop.units import unit_named
from tintop.web.car_view import setup_today
from tintop.web.formats import MINUS, lap_time, short_day
from tintop.web.inputs import assumed_rows
from tintop.web.levers import lever_fields, levers_typed
from tintop.web.page import Visit, Visitor, problems_of, show
from tintop.web.predicted import Standing, given_words, kept, shown_before, standing_of

router = APIRouter()
_ASSUMED_SHOWN = 8
_BALANCE_ITEMS = ("brake bias", "brake balance")
_LEAST_DIFFERENCE = 0.005  # [s]: below it two laps are called the same


@dataclass(frozen=True, slots=True, kw_only=True)
class _Drawn:
    """What a prediction's lap looks like on the page."""

    map: str
    strips: tuple[str, ...]
    limits: tuple[tuple[str, str, float], ...]  # letter, word, share of the time
    corners: tuple[dict[str, Any], ...]
    gains: tuple[Gain, ...]
    time: Figure
    speed_unit: str


@router.get("/lap")
def lap(visit: Visitor, event: str = "") -> Response:
    """The page of the next event's lap, or of the event named."""
    standing = standing_of(visit, event)
    if standing.prediction is None:
        return show(
            visit, "unpredicted.html", title="Lap", standing=standing, **given_words(visit, standing, "quick")
        )
    prediction = standing.prediction
    fields = lever_fields(prediction.quick.described.car, visit.garage.settings)
    typed = {field.name: visit.request.query_params.get(field.name, field.now)[:60] for field in fields}
    problems: dict[str, str] = {}
    changed = None
    if any(typed[field.name].strip() != field.now for field in fields):
        try:
            changed = _what_if(prediction, visit, typed)
        except TintopError as error:
            problems = problems_of(error)
    return show(
        visit,
        "lap.html",
        status=422 if problems else 200,
        standing=standing,
        quick=prediction.quick,
        drawn=_drawn(visit, standing, prediction),
        assumed=assumed_rows(
            prediction.quick.answer.assumptions[:_ASSUMED_SHOWN], visit.garage.settings.units
        ),
        best=best_words(visit, prediction.basis.meeting.circuit or "", prediction.quick.lap.lap_time),
        other_setup=other_setup(visit.garage),
        bias=_bias_words(visit, prediction),
        fields=fields,
        typed=typed,
        problems=problems,
        changed=changed,
    )


@router.get("/lap/readings.json")
def readings(visit: Visitor, event: str = "") -> Response:
    """What the cursor reads out along the lap, and where on the map it is."""
    standing = standing_of(visit, event)
    if standing.prediction is None:
        return JSONResponse({"sentence": "No lap is predicted."}, status_code=404)
    quick = standing.prediction.quick
    unit = _speed_unit(visit)
    found = kept(visit, f"lap readings {unit} {standing.basis}", lambda: lap_readings(quick.lap, unit))
    places = page_map_places(quick.circuit, quick.path)[found["chosen"]]
    return JSONResponse({**found, "map_places": np.round(places, 1).tolist()})


@router.get("/lap/what-if.json")
def what_if(visit: Visitor, event: str = "", basis: str = "") -> Response:
    """The lap with the levers where the query puts them, against the lap of `basis` where it is still known.

    422 with a sentence for each lever that cannot be there.
    """
    try:
        prediction = shown_before(visit, basis) or standing_of(visit, event).prediction
        if prediction is None:
            return JSONResponse({"problems": {"": "No lap is predicted."}}, status_code=404)
        typed = {name: text[:60] for name, text in visit.request.query_params.items()}
        return JSONResponse(_what_if(prediction, visit, typed))
    except BadInput as error:
        return JSONResponse({"problems": problems_of(error)}, status_code=422)


def _what_if(prediction: Prediction, visit: Visit, typed: dict[str, str]) -> dict[str, Any]:
    quick = prediction.quick
    car = quick.described.car
    levers = levers_typed(car, lever_fields(car, visit.garage.settings), typed)
    after = drive_with(prediction, levers)
    chosen = np.arange(0, quick.lap.distance.shape[0], _stride(quick.lap))
    factor = unit_named(_speed_unit(visit), "speed").factor
    return {
        "time": after.lap_time,
        "difference": after.lap_time - quick.lap.lap_time,
        "time_words": lap_time(after.lap_time),
        "difference_words": difference_words(after.lap_time - quick.lap.lap_time),
        "paths": changed_paths(quick.lap, quick.circuit, after),
        "values": {"speed": np.round(after.speed[chosen] / factor, 1).tolist()},
        "gained": np.round((quick.lap.time - after.time)[chosen], 2).tolist(),
    }


def difference_words(seconds: float) -> str:
    """Say how much quicker or slower a lap is than before."""
    if abs(seconds) < _LEAST_DIFFERENCE:
        return "as before"
    return f"{abs(seconds):.2f} s {'slower' if seconds > 0.0 else 'quicker'} a lap"


def best_words(visit: Visit, circuit: str, predicted: float) -> str:
    """The best lap driven at a circuit against the predicted one; empty where none was timed."""
    best = best_lap_at(visit.garage.book, circuit, visit.garage.today())
    if best is None:
        return ""
    off = best.time - predicted
    against = (
        "the same as predicted"
        if abs(off) < 0.05
        else f"{abs(off):.1f} s {'slower' if off > 0.0 else 'quicker'} than predicted"
    )
    when = f"{best.day.day} {best.day:%b %Y}"
    return f"Your best here: {lap_time(best.time)}, {best.session_kind}, {when}; {against}."


def _bias_words(visit: Visit, prediction: Prediction) -> str:
    """Both brake balances where the set-up sheet has one of its own; empty where it has none."""
    written = [each for each in setup_today(visit.garage) if each.item in _BALANCE_ITEMS]
    if not written:
        return ""
    last = max(written, key=lambda each: (each.since, each.entry))
    share = as_it_stands(prediction.quick.described.car).brake_front_share
    return (
        f"Brake balance: the set-up sheet says {last.written or last.value} since {short_day(last.since)}; "
        f"the lap is driven with {100.0 * share:.1f} % front, from pistons, discs, pads and valve of the "
        "car's document."
    )


def _stride(lap: LapTrace) -> int:
    return max(1, -(-int(lap.distance.shape[0]) // MOST_READINGS))


def _speed_unit(visit: Visit) -> str:
    return visit.garage.settings.units.get("speed", "km/h")


def _drawn(visit: Visit, standing: Standing, prediction: Prediction) -> _Drawn:
    unit = _speed_unit(visit)
    return kept(visit, f"lap {unit} {standing.basis}", lambda: _draw(prediction, unit))


def _draw(prediction: Prediction, unit: str) -> _Drawn:
    quick = prediction.quick
    shares = quick.lap.limit_share()
    limits = sorted(
        (
            (LIMIT_STYLES[limit].letter, LIMIT_STYLES[limit].word, shares[limit.name.lower()])
            for limit in Limit
            if shares[limit.name.lower()] > 0.0
        ),
        key=lambda row: -row[2],
    )
    factor = unit_named(unit, "speed").factor
    corners = tuple(
        {
            "number": row["number"],
            "direction": row["direction"],
            "speed": row["speed"] / factor,
            "gear": row["gear"],
            "letter": LIMIT_STYLES[Limit[row["limit"].upper()]].letter,
            "limit": LIMIT_STYLES[Limit[row["limit"].upper()]].word,
            "balance": balance_words(row["balance"]),
        }
        for row in quick.answer.working["corners"]
    )
    return _Drawn(
        map=page_map_svg(quick.circuit, quick.path, quick.lap),
        strips=tuple(on_page(strip) for strip in lap_strips(quick.lap, quick.circuit, unit)),
        limits=tuple(limits),
        corners=corners,
        gains=steps_buy(prediction),
        time=next(figure for figure in quick.answer.figures if figure.name == "lap time"),
        speed_unit=unit,
    )


def balance_words(balance: float) -> str:
    """Say a corner's balance: front minus rear grip used."""
    if abs(balance) < 0.005:
        return "even"
    return f"{'understeer' if balance > 0.0 else 'oversteer'} {100.0 * abs(balance):.0f} %".replace(
        "-", MINUS
    )
