"""The race: does it last, what gives out first, what would cure it, and every lap's temperatures and wear."""

from dataclasses import dataclass

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
from tintop.questions.will_it_last import written_amount, written_clock, written_remedy
from tintop.race.lasting import Lasts, first_to_run_out
from tintop.race.march import LapKind
from tintop.race.remedies import Remedy
from tintop.race.stint_plan import Stint, stints_of
from tintop.web.formats import money
from tintop.web.page import Visit, Visitor, show
from tintop.web.predicted import kept, standing_of

router = APIRouter()
_VERDICT_WORDS = {
    Verdict.YES: "It lasts",
    Verdict.CLOSE: "Doubtful",
    Verdict.NO: "It does not last",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemRow:
    """One thing that has to last, as the table shows it."""

    item: str
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
    price: str
    is_enough: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class _Drawn:
    lasting: str
    strips: tuple[str, ...]


@router.get("/race")
def race(visit: Visitor, event: str = "") -> Response:
    """The page of the next event's race, or of the event named."""
    standing = standing_of(visit, event)
    if standing.prediction is None:
        return show(visit, "unpredicted.html", title="Race", standing=standing)
    found = standing.prediction.lasting
    trace = found.trace
    racing = trace.lap_time[trace.kind != float(LapKind.SAFETY_CAR)]
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
        stints=stints(found),
        remedies=_remedies(visit, found),
        quickest=float(racing.min()) if racing.size else float(trace.lap_time.min()),
        burned=float(np.sum(trace.fuel_burned)) / found.described.car.fuel.density,
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
    judged = sorted(found.judged, key=lambda each: (found.odds.of(each.item).probability, each.margin))
    return tuple(_item_row(each, found) for each in judged)


def _item_row(each: Lasts, found: Lasting) -> ItemRow:
    chance = found.odds.of(each.item)
    return ItemRow(
        item=each.item,
        standing=standing_word(each, chance),
        margin=written_amount(each.margin, each.unit),
        low=written_amount(chance.margin[0], each.unit),
        high=written_amount(chance.margin[2], each.unit),
        of_hundred=of_hundred(chance.probability),
        runs_out="" if each.runs_out_at_s is None else written_clock(each.runs_out_at_s),
    )


def of_hundred(probability: float) -> str:
    """Races of a hundred; 100 only if it was every one."""
    if probability >= 1.0:
        return "100"
    return f"{min(100.0 * probability, 99.9):.1f}" if probability > 0.99 else f"{100.0 * probability:.0f}"


def stints(found: Lasting) -> tuple[Stint, ...]:
    """The plan as driven, stint by stint."""
    return stints_of(found.trace, found.described.car.fuel.density)


def _first_to_fail(found: Lasting) -> tuple[tuple[str, str], ...]:
    shares = sorted(found.odds.first_to_fail.items(), key=lambda pair: -pair[1])
    return tuple((item, of_hundred(share)) for item, share in shares if share >= 0.005)


def _remedies(visit: Visit, found: Lasting) -> tuple[RemedyRow, ...]:
    is_shown = visit.role.value != "reader"
    return tuple(
        RemedyRow(
            item=cure.item,
            words=written_remedy(cure),
            price=price_of(visit.garage.book, cure, visit.garage.settings.currency) if is_shown else "",
            is_enough=cure.is_enough,
        )
        for cure in found.cures
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
