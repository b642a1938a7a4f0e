"""The best set-up: what is searched, the search in the background, what it found, and keeping it."""

from urllib.parse import urlencode

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse, Response

from tintop.answer import Figure
from tintop.car.chassis import CORNERS, End, Item
from tintop.charts.flatness_strips import flatness_svg
from tintop.charts.four_corners import WheelStance, four_corners_svg
from tintop.errors import TintopError
from tintop.garage.bench import Bench, bench_of
from tintop.garage.setups_search import (
    Wanted,
    balance_typed,
    found_before,
    search_under_way,
    searched_names,
    start_searching,
)
from tintop.garage.suggested_setup import save_in_garage
from tintop.lap.setup_search import Change, Flatness
from tintop.owner_units import MINUS
from tintop.questions.best_setup import BestSetup, doubt_words, setting_words
from tintop.web.bench_page import Asked, DrawnTwice, is_chassis_described, show_bench, show_undescribed
from tintop.web.formats import lap_time
from tintop.web.page import Typed, Visit, Visitor, Writer, go_to, problems_of

router = APIRouter()
ADDRESS = "/bench/search"
_DOUBTS_SHOWN = 4
_ASKED = ("setup", "circuit", "balance", "adjust", "name")
_CHANGED = (
    "Not kept: things changed since it was found (car, chassis, set-up, circuit, treads, books). "
    "Search again; the name is kept."
)


@router.get(ADDRESS)
def search(visit: Visitor) -> Response:
    """What is asked, and the answer where it was found already."""
    return _page(visit, {})


@router.post(ADDRESS)
async def start(visit: Writer, request: Request) -> Response:
    """Search in the background and show the same question again."""
    form = await request.form(max_files=0, max_fields=60)
    sent = [(name, value) for name, value in form.multi_items() if isinstance(value, str)]
    try:
        start_searching(visit.garage, _wanted(bench_of(visit.garage), sent))
    except TintopError as error:
        return _page(visit, problems_of(error), sent)
    return RedirectResponse(f"{ADDRESS}?{urlencode(sent)}", status_code=303)


@router.post(f"{ADDRESS}/keep")
async def keep(visit: Writer, request: Request, typed: Typed) -> Response:
    """Write what was found as a set-up of its own."""
    form = await request.form(max_files=0, max_fields=60)
    sent = [(k, v) for k, v in form.multi_items() if isinstance(v, str) and k != "name"]
    try:
        wanted = _wanted(bench_of(visit.garage), sent)
        found = found_before(visit.garage, wanted)
        if found is None:
            sent.append(("name", typed.get("name", "")))
            return _page(visit, {"": _CHANGED}, sent)
        document = save_in_garage(visit.garage, found, typed.get("name", ""), wanted.circuit, visit.who)
    except TintopError as error:
        return _page(visit, {"name": str(error)}, sent, typed.get("name", ""))
    return go_to(f"/documents/{document}")


def _wanted(bench: Bench, sent: list[tuple[str, str]]) -> Wanted:
    """The question as sent; BadInput for what cannot be read. All adjusters ticked is as none."""
    texts = dict(sent)
    ticked = tuple(value for name, value in sent if name == "adjust")
    is_all = set(ticked) >= set(searched_names(bench))
    return Wanted(
        setup=texts.get("setup", bench.fitted) or next(iter(bench.setups), ""),
        circuit=texts.get("circuit", "") or next(iter(bench.circuits), ""),
        adjust=() if is_all else tuple(sorted(set(ticked))),
        balance=balance_typed(texts.get("balance", ""), "balance"),
    )


def _page(
    visit: Visit, problems: dict[str, str], sent: list[tuple[str, str]] | None = None, name: str = ""
) -> Response:
    if not is_chassis_described(visit.garage):
        return show_undescribed(visit)
    bench = bench_of(visit.garage)
    sent = visit.request.query_params.multi_items() if sent is None else sent
    sent = [(one, value[:60]) for one, value in sent if one in _ASKED]
    standing = {
        "setup": bench.fitted or next(iter(bench.setups), ""),
        "circuit": next(iter(bench.circuits), ""),
        "balance": "",
        "name": "",
    }
    asked = Asked({**dict(sent), **({"name": name} if name else {})}, standing)
    asked.choice("setup", tuple(bench.setups))
    asked.choice("circuit", tuple(bench.circuits))
    for field, sentence in problems.items():
        asked.problems[field if field in standing else ""] = sentence
    found = wanted = work = None
    try:
        wanted = _wanted(bench, sent)
    except TintopError as error:
        asked.refuse(error)
    if wanted is not None and not set(asked.problems) - {"name"}:
        found, work = found_before(visit.garage, wanted), search_under_way(visit.garage, wanted)
    return show_bench(
        visit,
        "bench_search.html",
        asked,
        name=asked.text("setup"),
        setups=[(stem, one.name) for stem, one in bench.setups.items()],
        circuits=[(stem, stem) for stem in bench.circuits],
        adjusters=[
            (one, not wanted or not wanted.adjust or one in wanted.adjust) for one in searched_names(bench)
        ],
        sent=sent or [("setup", standing["setup"]), ("circuit", standing["circuit"])],
        search_words=_figure_words,
        found=found,
        answer=found.answer if found else None,
        work=work if work is not None and found is None else None,
        rows=_rows(found, bench) if found else (),
        drawn=_drawn(found, bench) if found else None,
        flat=_flat(found, bench) if found else None,
        doubts=_doubts(found) if found else (),
    )


def _words(found: BestSetup, bench: Bench, change: Change, is_after: bool) -> str:
    one = change.range
    value = change.after if is_after else change.before
    return setting_words(one.item, one.end, value, found.chassis, bench.settings.units)


def _rows(found: BestSetup, bench: Bench) -> tuple[tuple[str, str, str, str, str], ...]:
    return tuple(
        (
            change.range.name,
            _words(found, bench, change, False),
            _words(found, bench, change, True),
            change.needed_for if change.worth is None else _seconds(change.worth),
            _seconds(change.gained),
        )
        for change in found.searched.changes
    )


def _figure_words(figure: Figure, value: float) -> str:
    """Laps as laps, gains in thousandths, balance in per cent."""
    match figure.unit:
        case "s":
            return (
                lap_time(value) if "lap" in figure.name.split()[:3] else f"{value:.3f} s".replace("-", MINUS)
            )
        case "share":
            return f"{100.0 * value:.1f} %".replace("-", MINUS)
    return f"{value:.2f} m/s²"


def _doubts(found: BestSetup) -> tuple[tuple[str, str], ...]:
    dearest = found.confirmed.doubts[:_DOUBTS_SHOWN]
    return tuple((doubt_words(one), f"±{one.seconds:.2f} s") for one in dearest if one.seconds >= 0.005)


def _seconds(value: float) -> str:
    return f"{value:.2f} s".replace("-", MINUS)


def _drawn(found: BestSetup, bench: Bench) -> DrawnTwice:
    """The changes where the mechanic stands: at the wheels, at the axles, on the roof."""
    corners: dict[str, list[str]] = {corner: [] for corner in CORNERS}
    axles: dict[End, list[str]] = {end: [] for end in End}
    middle: list[str] = []
    at_the_wheel = {Item.CAMBER, Item.RIDE_HEIGHT, Item.BUMP, Item.REBOUND, Item.PRESSURE}
    for change in found.searched.changes:
        one = change.range
        words = f"{_words(found, bench, change, False)} → {_words(found, bench, change, True)}"
        if one.end is not None and one.item in at_the_wheel:
            for corner in CORNERS[:2] if one.end is End.FRONT else CORNERS[2:]:
                corners[corner] += [
                    _words(found, bench, change, True),
                    f"{one.item.value}, was {_words(found, bench, change, False)}",
                ]
        elif one.end is not None:
            axles[one.end].append(f"{one.item.value}: {words}")
        else:
            middle.append(f"{one.item.value}: {words}")
    for lines in corners.values():
        if not lines:
            lines.append("as it is")
    stances = {
        corner: WheelStance(camber=one.camber, toe=one.toe)
        for corner, one in zip(CORNERS, found.setup.corners, strict=True)
    }
    wide, narrow = (
        four_corners_svg(
            corners,
            axles=axles,
            middle=middle,
            stances=stances,
            title="What to change, where it is",
            description=found.answer.sentence,
            car=bench.described.car,
            is_narrow=is_narrow,
            name=name,
        )
        for is_narrow, name in ((False, "search-wide"), (True, "search-narrow"))
    )
    return DrawnTwice(wide=wide, narrow=narrow)


def _flat(found: BestSetup, bench: Bench) -> DrawnTwice:
    def written(row: Flatness, at: int) -> str:
        one = row.range
        return setting_words(one.item, one.end, one.places[at], found.chassis, bench.settings.units)

    wide, narrow = (
        flatness_svg(
            found.searched.flatness,
            written,
            title="How flat it is",
            description="Lap lost along each adjuster, all others as suggested; the table has the figures.",
            is_narrow=is_narrow,
            name=name,
        )
        for is_narrow, name in ((False, "flat-wide"), (True, "flat-narrow"))
    )
    return DrawnTwice(wide=wide, narrow=narrow)
