"""Tread temperatures: twelve boxes where the mechanic stands, pressures, the driver's words, one change."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from fastapi import APIRouter
from fastapi.responses import Response

from tintop.car.chassis import CORNERS
from tintop.car.driver_words import said_from
from tintop.car.treads import Feel, Pace, Phase, Said, Tread, TreadReading
from tintop.charts.car_words import owner_unit
from tintop.charts.four_corners import four_corners_svg
from tintop.errors import BadInput, TintopError
from tintop.garage.bench import Bench
from tintop.garage.logged_treads import last_reading, taken_with
from tintop.garage.treads import ask_the_tyres, lap_typed, temperature_typed
from tintop.handwriting.tread_unit import tread_unit
from tintop.questions.what_do_the_tyres_say import TyresSay, change_words
from tintop.reports.treads_sheet import treads_sheet
from tintop.web.bench_page import Asked, DrawnTwice, cited, open_bench, show_bench, typed_as
from tintop.web.page import Visit, Visitor

router = APIRouter()
_PLACES = ("inner", "middle", "outer")
_FIELDS = tuple(f"t_{corner}_{place}" for corner in CORNERS for place in _PLACES)
_FROM_ABOVE = {"L": ("outer", "middle", "inner"), "R": ("inner", "middle", "outer")}
_COOL_DOWN = (("", "not said"), ("no", "no"), ("yes", "yes"))
_WORDS = (
    ("", "not said"),
    ("fine", "fine"),
    *(
        (f"{pace} {feel}".strip(), f"{feel}{f', {pace} corners' if pace else ''}")
        for feel in (Feel.UNDERSTEER.value, Feel.OVERSTEER.value)
        for pace in ("", Pace.SLOW.value, Pace.FAST.value)
    ),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """One box of a tread: its field, and its place across it."""

    field: str
    place: str


@router.get("/bench/treads")
def treads(visit: Visitor) -> Response:
    """What the treads ask for."""
    opened = open_bench(visit, "bench_treads.html", found=None, missing=0)
    if isinstance(opened, Response):
        return opened
    bench, name, _ = opened
    query = visit.request.query_params
    units = bench.settings.units
    standing, origin, other = _standing(visit, bench, name, units)
    asked = Asked(query, standing)
    circuits = tuple(bench.circuits)
    circuit = asked.choice("circuit", ("", *circuits))
    reading, missing = _reading(asked, units)
    if reading is not None and not asked.is_changed(*_FIELDS):
        reading = replace(reading, taken_with=other)
    found = None
    if reading is not None and not asked.problems:
        try:
            found = ask_the_tyres(bench, reading, name, circuit)
        except TintopError as error:
            asked.refuse(error, "")
    return show_bench(
        visit,
        "bench_treads.html",
        asked,
        found=found,
        answer=cited(found.answer) if found else None,
        name=name,
        setups=bench.setups,
        missing=missing,
        origin=origin,
        wheels=[(corner, [Box(field=f"t_{corner}_{p}", place=p) for p in _FROM_ABOVE[corner[1]]])
                for corner in CORNERS],
        phases=[phase.value for phase in Phase],
        words=_WORDS,
        cool_downs=_COOL_DOWN,
        circuits=[("", "the set-up's own"), *((each, each) for each in circuits)],
        temperature_unit=owner_unit("temperature", units),
        pressure_unit=owner_unit("pressure", units),
        drawn=_drawn(found, units) if found else None,
        tables=treads_sheet(found, units).tables if found else (),
    )  # fmt: skip


def _standing(
    visit: Visit, bench: Bench, name: str, units: Mapping[str, str]
) -> tuple[dict[str, str], str, str]:
    """What stands in the boxes: the logbook's last reading, or nothing; where it is from, taken with what."""
    standing = dict.fromkeys(_FIELDS, "")
    standing |= {f"{kind}_{corner}": "" for kind in ("hot", "cold") for corner in CORNERS}
    standing |= {phase.value: "" for phase in Phase}
    standing |= dict.fromkeys(("laps", "cool_down", "minutes", "lap_before", "lap_after", "last_change"), "")
    standing |= {"setup": name, "circuit": "", "words": ""}
    try:
        read, session = last_reading(visit.garage.book, visit.garage.today())
    except BadInput:
        return standing, "", ""
    unit, pressure = owner_unit("temperature", units), owner_unit("pressure", units)
    for corner, tread, hot, cold in zip(CORNERS, read.treads, read.hot, read.cold, strict=True):
        for place in _PLACES:
            standing[f"t_{corner}_{place}"] = typed_as(getattr(tread, place), "temperature", unit, 0)
        for kind, value in (("hot", hot), ("cold", cold)):
            if value is not None:
                standing[f"{kind}_{corner}"] = typed_as(value, "pressure", pressure, 2)
    standing["laps"] = str(read.laps) if read.laps is not None else ""
    other = taken_with(bench, bench.setup(name), visit.garage.book, session)
    return standing, f"{session.run.name}, {session.day.isoformat()}", other


def _reading(asked: Asked, units: Mapping[str, str]) -> tuple[TreadReading | None, int]:
    """The reading and how many of the twelve are missing; None while any is, or where one cannot be."""
    temps: dict[str, float] = {}
    typed = [asked.text(field) for field in _FIELDS]
    one = asked.attempt(lambda: tread_unit(typed, owner_unit("temperature", units), _FIELDS[0]))
    for corner in CORNERS:
        for place in _PLACES:
            field = f"t_{corner}_{place}"
            if not asked.text(field) or one is None:
                continue
            try:
                temps[field] = temperature_typed(asked.text(field), field, one)
            except BadInput as error:
                asked.refuse(error, field)
    unit = owner_unit("pressure", units)
    four = {
        kind: [asked.value(f"{kind}_{corner}", "pressure", unit) for corner in CORNERS]
        for kind in ("hot", "cold")
    }
    said = _said(asked)
    laps, minutes = asked.value("laps", "number", ""), asked.value("minutes", "number", "")
    cool_down = {"yes": True, "no": False, "": None}[
        asked.choice("cool_down", [value for value, _ in _COOL_DOWN])
    ]
    times: dict[str, float | None] = {}
    for name in ("lap_before", "lap_after"):
        try:
            times[name] = lap_typed(asked.text(name), name)
        except BadInput as error:
            asked.refuse(error, name)
    missing = sum(not asked.text(f"t_{corner}_{place}") for corner in CORNERS for place in _PLACES)
    if asked.problems or missing:
        return None, missing
    fl, fr, rl, rr = (
        Tread(**{place: temps[f"t_{corner}_{place}"] for place in _PLACES}) for corner in CORNERS
    )
    hot, cold = four["hot"], four["cold"]
    try:
        return (
            TreadReading(
                treads=(fl, fr, rl, rr),
                hot=(hot[0], hot[1], hot[2], hot[3]),
                cold=(cold[0], cold[1], cold[2], cold[3]),
                said=said,
                laps=int(laps) if laps is not None else None,
                is_after_cool_down=cool_down,
                minutes_since_in=minutes,
                lap_before=times["lap_before"],
                lap_after=times["lap_after"],
                last_change=asked.text("last_change"),
            ),
            0,
        )
    except BadInput as error:
        asked.refuse(error, "")
        return None, 0


def _said(asked: Asked) -> tuple[Said, ...]:
    found = []
    for phase in Phase:
        words = asked.choice(phase.value, [value for value, _ in _WORDS]).split()
        if words:
            pace = Pace(words[0]) if len(words) == 2 else Pace.ANY
            found.append(Said(phase=phase, feel=Feel(words[-1]), pace=pace))
    if asked.text("words"):
        found += asked.attempt(lambda: said_from([asked.text("words")]), "words") or ()
    return tuple(found)


def _drawn(found: TyresSay, units: Mapping[str, str]) -> DrawnTwice:
    """The car from above: at each wheel middle over edges and inner over outer."""
    corners = {
        corner: (
            f"{tread.mean:.0f} °C",
            f"middle {tread.crown:+.0f} K".replace("-", "−"),
            f"inner {tread.lean:+.0f} K".replace("-", "−"),
        )
        for corner, tread in zip(CORNERS, found.reading.treads, strict=True)
    }
    middle = (change_words(found.change, units),) if found.change else ()
    wide, narrow = (
        four_corners_svg(
            corners,
            middle=middle,
            title="Treads from above: mean, middle over the edges, inner over outer",
            description=found.answer.sentence,
            is_narrow=is_narrow,
            name=f"treads-{'narrow' if is_narrow else 'wide'}",
        )
        for is_narrow in (False, True)
    )
    return DrawnTwice(wide=wide, narrow=narrow)
