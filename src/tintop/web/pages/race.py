"""The race: does it last, what gives out first, what would cure it, and every lap's temperatures and wear."""

from dataclasses import dataclass, replace

import numpy as np
from fastapi import APIRouter
from fastapi.responses import JSONResponse, Response

from tintop.answer import Verdict
from tintop.charts.lasting_chart import lasting_svg, standing_word
from tintop.charts.race_strips import race_readings, race_strips
from tintop.charts.strips import on_page
from tintop.garage.asking import Lasting
from tintop.logbook.book import Logbook
from tintop.logbook.entries import Area, PartAdded
from tintop.questions.will_it_last import (
    best_first,
    of_hundred,
    worst_first,
    written_clock,
    written_effect,
    written_margin,
    written_range,
    written_remedy,
)
from tintop.race.lasting import Lasts, first_to_run_out
from tintop.race.march import LapKind
from tintop.race.remedies import Remedy
from tintop.race.stint_plan import Stint, stints_of
from tintop.units import unit_named
from tintop.web.formats import money
from tintop.web.page import Visit, Visitor, show
from tintop.web.predicted import given_words, kept, standing_of

router = APIRouter()
_VERDICT_WORDS = {
    Verdict.YES: "It lasts",
    Verdict.CLOSE: "Doubtful",
    Verdict.NO: "It does not last",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemRow:
    """One thing that has to last, as the table shows it; `start` is what it goes into the race with."""

    item: str
    start: str
    standing: str
    margin: str
    low: str
    high: str
    of_hundred: str
    runs_out: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RemedyRow:
    """One remedy in words, with what such parts last cost where the logbook knows."""

    item: str
    words: str
    effect: str
    price: str
    is_safe: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class _Drawn:
    lasting: str
    strips: tuple[str, ...]


@router.get("/race")
def race(visit: Visitor, event: str = "") -> Response:
    """The page of the next event's race, or of the event named."""
    standing = standing_of(visit, event)
    if standing.prediction is None:
        return show(
            visit,
            "unpredicted.html",
            title="Race",
            standing=standing,
            **given_words(visit, standing, "lasting"),
        )
    found = standing.prediction.lasting
    trace = found.trace
    racing = trace.lap_time[trace.kind != float(LapKind.SAFETY_CAR)]
    density = found.described.car.fuel.density
    burned = float(np.sum(trace.fuel_burned)) / density
    volume = unit_named(visit.garage.settings.units.get("volume", "L"), "volume").factor
    return show(
        visit,
        "race.html",
        standing=standing,
        found=found,
        verdict_word=_VERDICT_WORDS.get(found.answer.verdict, str(found.answer.verdict)),
        verdict_class=found.answer.verdict.value.replace(" ", "-"),
        first=first_to_run_out(found.judged),
        of_hundred=of_hundred(found.odds.all_last),
        rows=item_rows(found),
        firsts=_first_to_fail(found),
        stints=[as_printed(stint, volume) for stint in stints(found)],
        remedies=_remedies(visit, found),
        quickest=float(racing.min()) if racing.size else float(trace.lap_time.min()),
        burned=burned,
        burned_a_lap=burned / trace.laps,
        flying_lap_fuel=float(standing.prediction.quick.lap.per_lap("fuel_flow")) / density,
        drawn=kept(visit, f"race {standing.basis}", lambda: _draw(found)),
    )


@router.get("/race/readings.json")
def readings(visit: Visitor, event: str = "") -> Response:
    """What the cursor reads out at each lap."""
    standing = standing_of(visit, event)
    if standing.prediction is None:
        return JSONResponse({"sentence": "No race is predicted."}, status_code=404)
    found = standing.prediction.lasting
    return JSONResponse(race_readings(found.described.car, found.trace))


def item_rows(found: Lasting) -> tuple[ItemRow, ...]:
    """Every item, the least likely to last first."""
    return tuple(_item_row(each, found) for each in worst_first(found.judged))


def _item_row(each: Lasts, found: Lasting) -> ItemRow:
    chance = found.odds.of(each.item)
    low, high = written_range(chance.margin[0], chance.margin[2], each.unit)
    return ItemRow(
        item=each.item,
        start=_start(each.item, found),
        standing=standing_word(each, chance),
        margin=written_margin(each),
        low=low,
        high=high,
        of_hundred=of_hundred(chance.probability),
        runs_out="" if each.runs_out_at_s is None else written_clock(each.runs_out_at_s),
    )


def _start(item: str, found: Lasting) -> str:
    """What wears goes into the race as thick as it is today: no practice and no qualifying before it."""
    car = found.described.car
    front, rear = car.brakes.front, car.brakes.rear
    thickness = {
        "front pads": front.pad.thickness,
        "rear pads": rear.pad.thickness,
        "front disc thickness": front.disc_thickness,
        "rear disc thickness": rear.disc_thickness,
        "front tyre tread": car.tyre_front.tread_depth,
        "rear tyre tread": car.tyre_rear.tread_depth,
    }.get(item)
    return "" if thickness is None else f"race only, from {1e3 * thickness:.1f} mm today"


def stints(found: Lasting) -> tuple[Stint, ...]:
    """The plan as driven, stint by stint."""
    return stints_of(found.trace, found.described.car.fuel.density)


def as_printed(stint: Stint, unit: float) -> Stint:
    """The stint with its fuel in whole tenths of a unit [m³], the sum of what is printed kept true."""
    tenth = 0.1 * unit
    start, left = (round(amount / tenth) * tenth for amount in (stint.fuel_at_start, stint.left))
    return replace(stint, fuel_at_start=start, burned=start - left, left=left)


def _first_to_fail(found: Lasting) -> tuple[tuple[str, str], ...]:
    shares = sorted(found.odds.first_to_fail.items(), key=lambda pair: -pair[1])
    return tuple((item, of_hundred(share)) for item, share in shares if share >= 0.005)


def _remedies(visit: Visit, found: Lasting) -> tuple[RemedyRow, ...]:
    is_shown = visit.role.value != "reader"
    return tuple(
        RemedyRow(
            item=cure.item,
            words=written_remedy(cure),
            effect=written_effect(cure),
            price=price_of(visit.garage.book, cure, visit.garage.settings.currency) if is_shown else "",
            is_safe=cure.is_safe,
        )
        for each in worst_first(found.judged)
        for cure in best_first(found.cures)
        if cure.item == each.item
    )


def price_of(book: Logbook, cure: Remedy, currency: str) -> str:
    """What parts of a remedy's kind cost last time, in words; empty where the logbook has no price."""
    is_pads, is_tyres = "pad" in cure.change, "new tyres" in cure.change
    if not (is_pads or is_tyres):
        return ""
    axle = Area.FRONT_AXLE if cure.item.startswith("front") else Area.REAR_AXLE
    bought = [
        (entry.day, part)
        for entry, part in book.of(PartAdded)
        if part.price_cents
        and (
            part.family == cure.item
            if is_pads
            else "tyre" in part.family and part.area in (axle, Area.OUTSIDE)
        )
    ]
    if not bought:
        return ""
    day, part = max(bought, key=lambda pair: pair[0])
    supplier = f" from {part.supplier}" if part.supplier else ""
    return f"{part.name}: {money(part.price_cents, currency)}{supplier}, {day:%B %Y}"


def _draw(found: Lasting) -> _Drawn:
    return _Drawn(
        lasting=lasting_svg(found.judged, found.odds, found.event.event),
        strips=tuple(on_page(strip) for strip in race_strips(found.described.car, found.trace)),
    )
